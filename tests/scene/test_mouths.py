"""Pockets as one sees them: as many plugs as the warning counts, in their faces, their grain along the piece."""

from dataclasses import replace

import numpy as np
import pytest

from lacunar.geometry import Line
from lacunar.parts import Part, Pocket
from lacunar.pictures import can_render, pictures_of
from lacunar.scene import Body, Viewpoint, vector
from lacunar.scene.grain import TIMBERS
from lacunar.scene.mouths import GLUE, PROUD, mouth_ring, mouth_shapes
from scene.sample_room import box_room, box_scene


def pockets() -> list[tuple[Part, Pocket]]:
    return [(part, pocket) for part in box_room().parts for pocket in part.pockets]


def plugs() -> list[Body]:
    return [body for body in box_scene().bodies if body.kind == "plug"]


def test_each_low_pocket_has_a_plug_and_each_mouth_is_there() -> None:
    assert len(plugs()) == sum(pocket.level == "low" for _, pocket in pockets()) > 0
    assert sum(body.kind in ("mouth", "joint") for body in box_scene().bodies) == len(pockets())


def test_a_mouth_is_the_oval_in_which_the_bore_leaves_the_face() -> None:
    """In the face, and everywhere half a bore from the axis."""
    for _, pocket in pockets():
        steps = mouth_ring(pocket) - np.array(pocket.mouth)
        axis = np.array(pocket.direction)
        assert np.abs(steps @ np.array((*pocket.normal, 0.0))).max() < 1e-9
        away = steps - np.outer(steps @ axis, axis)
        assert np.linalg.norm(away, axis=1) == pytest.approx(pocket.bore / 2)


def test_a_plug_lies_in_its_mouth_with_its_grain_along_the_piece() -> None:
    for part in {part.id: part for part, _ in pockets()}.values():
        line = Line.through(*part.axis)
        for _, kind, shape in mouth_shapes(part):
            a, b, c = (shape.points[shape.faces[:, k]] for k in range(3))
            assert ((np.cross(b - a, c - a) * shape.normals[0]).sum(axis=1) > 0).all()
            if kind == "plug":
                along = np.array([line.along((x, y)) for x, y in shape.points[:, :2]])
                assert np.ptp(shape.uv[:, 1] * TIMBERS.length - along) < 1e-6
    joint, plug = (
        next(s for _, kind, s in mouth_shapes(pockets()[0][0]) if kind == wanted) for wanted in ("joint", "plug")
    )
    assert np.ptp(joint.points[:, 2]) > np.ptp(plug.points[:, 2]) > np.ptp(joint.points[:, 2]) - 4 * GLUE
    assert PROUD < 1.0


def test_pictures_show_plugs_and_no_mouth_behind_trim() -> None:
    """Seen from before a plug: with and without what is drawn of each."""
    can_render.cache_clear()
    advice = can_render()
    if advice:
        pytest.skip(advice)
    plug = plugs()[0]
    middle, out = plug.points.mean(axis=0), plug.normals[0]
    eye = middle + 0.6 * out - np.array([0.0, 0.0, 0.25])
    camera = Viewpoint(name="shelf", eye=vector(eye), towards=vector(middle), half_width=0.3)
    scene = replace(box_scene(), cameras={**box_scene().cameras, "shelf": camera})

    def seen(leave_out: set[str]) -> np.ndarray:
        bodies = tuple(b for b in scene.bodies if b.name not in leave_out)
        ((_, image),) = pictures_of(replace(scene, bodies=bodies), ["shelf"], "draft", (240, 150))
        return image[:130].astype(int)

    whole = seen(set())
    changed = np.abs(whole - seen({plug.name, plug.name.replace("plug", "joint")})).max(axis=2) > 12
    assert 4 < changed.sum() < 600
    rows, columns = np.nonzero(changed)
    assert abs(columns.mean() - 120) < 12
    assert abs(rows.mean() - 70) < 12
    high = {b.name for b in scene.bodies if b.kind == "mouth"}
    assert high
    assert np.abs(whole - seen(high)).max() <= 1
