"""Light by closed forms."""

import math

import numpy as np
import pytest

from lacunar.scene.bake import Surfaces, bake, daylight, first_hits, hemisphere, in_sun
from lacunar.scene.noise import f32
from lacunar.scene.rays import Rays, rays_for
from lacunar.scene.shape import Shape, box, joined
from lacunar.scene.types import Lamp, Lights, Sun, WindowLight

DARK = Sun(towards=(0.0, 0.0, 1.0), power=(0.0, 0.0, 0.0))
EMBREE = rays_for(np.zeros((3, 3), np.float32), np.array([[0, 1, 2]], np.int32)) is not None
needs_rays = pytest.mark.skipif(not EMBREE, reason="embree has no wheel for this machine")


def window(half: tuple[float, float] = (0.5, 0.4)) -> WindowLight:
    """Glass in the plane x = 0 that faces +x, white everywhere."""
    white = (1.0, 1.0, 1.0)
    return WindowLight(
        centre=(0.0, 0.0, 1.0),
        right=(0.0, 1.0, 0.0),
        inward=(1.0, 0.0, 0.0),
        half=half,
        sky=white,
        ground=white,
        depth=0.0,
    )


def surfaces(points: list[list[float]], normals: list[list[float]]) -> Surfaces:
    none = np.zeros((0, 3), np.float32)
    return Surfaces(
        probes=f32(points),
        normals=f32(normals),
        corners=none.astype(np.int32),
        facing=none,
        albedo=none,
        share=none[:, 0],
        plain=np.ones(len(points), dtype=bool),
    )


def caster(shape: Shape) -> Rays:
    rays = rays_for(f32(shape.points / 1000.0), shape.faces)
    assert rays is not None
    return rays


def far_away() -> Shape:
    return box((90_000.0, 0.0, 0.0), np.eye(3), (10.0, 10.0, 10.0))


def quarter(x: float, y: float) -> float:
    """View factor from a small face to a parallel rectangle with a corner straight before it, x and y by distance.

    Source: closed form of the catalogues of view factors (element to parallel rectangle), from memory.
    """
    a, b = math.sqrt(1 + x * x), math.sqrt(1 + y * y)
    return (x / a * math.atan(y / a) + y / b * math.atan(x / b)) / (2 * math.pi)


@needs_rays
@pytest.mark.parametrize("distance", [1.0, 2.5])
def test_daylight_is_the_view_factor_of_the_window(distance: float) -> None:
    """Glass starts 3 cm inside for the rays alone: the form factor is taken to those points."""
    probe = surfaces([[distance + 0.03, 0.0, 1.0]], [[-1.0, 0.0, 0.0]])
    light, seen = daylight(caster(far_away()), probe, window(), (16, 16))
    assert light[0, 0] == pytest.approx(4 * quarter(0.5 / distance, 0.4 / distance), rel=0.01)
    assert seen[0] == pytest.approx(1.0)


@needs_rays
def test_a_board_before_half_of_the_window_halves_its_light() -> None:
    board = box((490.0, 0.0, 0.0), np.eye(3), (10.0, 3000.0, 3000.0))
    probe = surfaces([[1.0, 0.0, 1.0]], [[-1.0, 0.0, 0.0]])
    light, seen = daylight(caster(board), probe, window(), (16, 16))
    full, _ = daylight(caster(far_away()), probe, window(), (16, 16))
    assert light[0, 0] == pytest.approx(0.5 * full[0, 0], rel=0.02)
    assert seen[0] == pytest.approx(0.5, abs=0.02)


def test_rays_fall_as_the_cosine() -> None:
    """Under a cosine law the mean of cos is 2/3 and that of cos squared 1/2."""
    up = hemisphere(512)
    assert np.linalg.norm(up, axis=1) == pytest.approx(1.0, abs=1e-6)
    assert up[:, 2].mean() == pytest.approx(2 / 3, abs=2e-3)
    assert (up[:, 2] ** 2).mean() == pytest.approx(1 / 2, abs=2e-3)
    assert np.abs(up[:, :2].mean(axis=0)).max() < 5e-3


def closed_box() -> tuple[Shape, Surfaces]:
    """A box of three metres seen from inside, white to 0.6, and its probes."""
    outside = box((0.0, 0.0, 0.0), np.eye(3), (3000.0, 3000.0, 3000.0), 600.0)
    shape = joined([outside])
    inward = -shape.normals
    middle = np.array([1500.0, 1500.0, 1500.0])
    probes = shape.points + 0.02 * (middle - shape.points)
    turned = shape.faces[:, ::-1]
    inner = Shape(
        points=shape.points,
        faces=turned,
        normals=inward,
        uv=shape.uv,
        probes=probes,
        probe_normals=inward,
        lit_by=shape.lit_by,
        share=shape.share,
    )
    m = len(turned)
    return inner, Surfaces(
        probes=f32(probes / 1000.0),
        normals=f32(inward),
        corners=inner.lit_by[turned, 0],
        facing=f32(inward[turned[:, 0]]),
        albedo=np.full((m, 3), 0.6, np.float32),
        share=np.ones(m, np.float32),
        plain=np.ones(len(probes), dtype=bool),
    )


@needs_rays
def test_no_ray_leaves_a_closed_box() -> None:
    shape, inside = closed_box()
    hits, behind = first_hits(caster(shape), inside.facing, inside.probes, inside.normals, 64)
    assert (hits >= 0).mean() > 0.999
    assert behind.max() < 0.02


@needs_rays
def test_bounces_add_up_to_the_furnace() -> None:
    """With a share a sent back at each bounce and none lost, mean light grows to 1 / (1 - a) of what falls directly."""
    shape, inside = closed_box()
    lamp = Lamp(centre=(1.5, 1.5, 1.5), radius=0.1, power=(1.0, 1.0, 1.0))
    lights = Lights(windows=(), lamps=(lamp,), sun=DARK)
    rays = caster(shape)
    dark = Surfaces(
        probes=inside.probes,
        normals=inside.normals,
        corners=inside.corners,
        facing=inside.facing,
        albedo=np.zeros_like(inside.albedo),
        share=inside.share,
        plain=inside.plain,
    )
    # All triangles are of one size, so their mean is the mean over the walls.
    once = bake(rays, dark, lights, 256, bounces=2).lamplight[inside.corners].mean()
    many = bake(rays, inside, lights, 256, bounces=24).lamplight[inside.corners].mean()
    assert many / once == pytest.approx(1 / (1 - 0.6), rel=0.03)
    assert bake(rays, inside, lights, 64).light.max() == 0.0, "a lamp is no daylight"


def test_the_sun_comes_through_glass_alone() -> None:
    sun = Sun(towards=(-math.cos(0.5), 0.0, math.sin(0.5)), power=(1.0, 1.0, 1.0))
    fall = math.tan(0.5)
    points = f32(
        [[1.0, 0.0, 1.0 - fall], [1.0, 0.0, 1.0 - fall - 0.39], [1.0, 0.0, 1.0 - fall - 0.41], [1.0, 0.6, 1.0 - fall]]
    )
    through, far = in_sun(points, (window(),), sun)
    assert through.tolist() == [1.0, 1.0, 0.0, 0.0]
    assert far[0] == pytest.approx(1.0 / math.cos(0.5), rel=1e-5)
    behind = Sun(towards=(math.cos(0.5), 0.0, math.sin(0.5)), power=(1.0, 1.0, 1.0))
    assert in_sun(points, (window(),), behind)[0].max() == 0.0
