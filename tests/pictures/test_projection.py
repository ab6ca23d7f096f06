"""Cameras: what the graphics library draws is where exact projection has it."""
# VTK's classes have no types that a checker can follow.
# pyright: basic

from dataclasses import replace
from functools import lru_cache

import numpy as np
import numpy.typing as npt
import pytest
from vtkmodules.util.numpy_support import vtk_to_numpy
from vtkmodules.vtkRenderingCore import vtkRenderer, vtkRenderWindow, vtkWindowToImageFilter

from lacunar.parts import rings
from lacunar.pictures import can_render
from lacunar.pictures.projection import project
from lacunar.pictures.shader import SURFACE
from lacunar.pictures.stage import aim, dressed
from lacunar.scene import Body, Viewpoint
from lacunar.scene.rays import Rays
from scene.sample_room import box_room, box_scene

SIZE = (320, 200)
CAMERAS = ("door", "seat", "up", "corner", "shelf")


@pytest.fixture(scope="module", autouse=True)
def graphics() -> None:
    advice = can_render()
    if advice:
        pytest.skip(advice)


@lru_cache(maxsize=1)
def shown() -> list[Body]:
    """What photographs show, without panes: each with its number, from 1, as its light."""
    bodies = [b for b in box_scene().bodies if b.layer not in ("pockets", "above") and b.material != "glass"]
    return [
        replace(
            b,
            material="plaster",
            light=np.full((len(b.points), 3), (n % 256, n // 256, 0), np.float32) / np.float32(255),
        )
        for n, b in enumerate(bodies, start=1)
    ]


@lru_cache(maxsize=1)
def masks() -> dict[str, np.ndarray]:
    """For each camera the number of the body in each pixel, as the graphics library has it; 0 for none."""
    renderer, window = vtkRenderer(), vtkRenderWindow()
    window.SetOffScreenRendering(1)
    window.SetMultiSamples(0)  # a pixel has one number
    window.SetSize(*SIZE)
    window.AddRenderer(renderer)
    code = (SURFACE, "fragOutput0 = vec4(lightVS, 1.0);\n")
    for actor in dressed(box_scene(), shown(), lambda _body, _material: code, {}):
        renderer.AddActor(actor)
    found: dict[str, np.ndarray] = {}
    for name in CAMERAS:
        aim(renderer, box_scene().cameras[name], SIZE[0] / SIZE[1])
        window.Render()
        grab = vtkWindowToImageFilter()
        grab.SetInput(window)
        grab.Update()
        image = (
            vtk_to_numpy(grab.GetOutput().GetPointData().GetScalars()).reshape(SIZE[1], SIZE[0], 3)[::-1].astype(int)
        )
        found[name] = image[:, :, 0] + 256 * image[:, :, 1]
    window.Finalize()
    return found


@lru_cache(maxsize=1)
def triangles() -> tuple[Rays, np.ndarray]:
    """All that is shown, and whose each triangle is."""
    pytest.importorskip("embreex")
    counts = np.cumsum([0, *(len(b.points) for b in shown())])
    faces = np.concatenate([b.faces + counts[i] for i, b in enumerate(shown())])
    owners = np.concatenate([np.full(len(b.faces), n) for n, b in enumerate(shown(), start=1)])
    return Rays(np.concatenate([b.points for b in shown()]), faces), np.append(owners, 0)


def rays_of(camera: Viewpoint) -> npt.NDArray[np.float32]:
    """The way through the middle of each pixel, from what a pinhole is and nothing else."""
    width, height = SIZE
    forward = np.subtract(camera.towards, camera.eye)
    forward = forward / np.linalg.norm(forward)
    right = np.cross(forward, camera.up)
    right = right / np.linalg.norm(right)
    up = np.cross(right, forward)
    x, y = np.meshgrid((np.arange(width) + 0.5) / width * 2 - 1, 1 - (np.arange(height) + 0.5) / height * 2)
    across = (x + camera.shift[0]) * camera.half_width
    rise = (y + camera.shift[1]) * camera.half_width * height / width
    return (forward + across[..., None] * right + rise[..., None] * up).reshape(-1, 3).astype(np.float32)


@pytest.mark.parametrize("name", CAMERAS)
def test_each_pixel_shows_what_its_ray_meets(name: str) -> None:
    """But for pixels on an edge, that a rounding sends to either side."""
    camera, (rays, owners) = box_scene().cameras[name], triangles()
    ways = rays_of(camera)
    met = owners[rays.hits(np.full((len(ways), 3), camera.eye, np.float32), ways)].reshape(SIZE[::-1])
    mask = masks()[name]
    assert len(np.unique(mask)) > 5
    edge = np.zeros_like(mask, dtype=bool)
    for axis in (0, 1):
        differs = np.diff(met, axis=axis) != 0
        edge |= np.insert(differs, 0, False, axis=axis) | np.insert(differs, differs.shape[axis], False, axis=axis)
    assert (mask != met)[~edge].mean() < 1e-3
    assert (mask != met).mean() < 0.01


@pytest.mark.parametrize("name", CAMERAS)
def test_corners_of_parts_are_within_two_pixels(name: str) -> None:
    camera, (rays, _) = box_scene().cameras[name], triangles()
    numbers = {body.name: n for n, body in enumerate(shown(), start=1)}
    found = 0
    for part in box_room().parts:
        corners = np.array([*rings(part)[0], *rings(part)[1]]) / 1000.0
        steps = (0.998 * (corners - camera.eye)).astype(np.float32)
        hidden = rays.blocked(np.full((len(corners), 3), camera.eye, np.float32), steps)
        for x, y, ahead in project(camera, corners[~hidden], SIZE):
            if ahead > 0.2 and 3 < x < SIZE[0] - 3 and 3 < y < SIZE[1] - 3:
                i, j = int(y), int(x)
                assert (masks()[name][i - 2 : i + 3, j - 2 : j + 3] == numbers[part.id]).any(), (part.id, x, y)
                found += 1
    assert found >= 4
