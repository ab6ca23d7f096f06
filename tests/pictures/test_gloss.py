"""Gloss by the microfacet model's own integral, and by the closed form of a matt surface under a pane."""

import math

import numpy as np
import pytest

from lacunar.pictures import can_render
from lacunar.pictures.gloss import FLAT, cosine_lobe


def pane(far: float, middle: float, aside: float = 0.0) -> np.ndarray:
    """Corners of a window 1.2 by 1.3 at x = -far; the surface lies at the origin and looks along +z."""
    return np.array(
        [[-far, aside + y, middle + z] for y, z in ((-0.6, -0.65), (-0.6, 0.65), (0.6, 0.65), (0.6, -0.65))]
    )


def reflected(rough: float, cosine: float, corners: np.ndarray, n: int = 300) -> float:
    """Light from a pane of radiance 1 that varnish sends to the viewer: GGX, Smith, Schlick, point by point."""
    alpha, view = rough**2, np.array([math.sqrt(1 - cosine**2), 0.0, cosine])
    a, b = (g.reshape(-1, 1) for g in np.meshgrid(*2 * [(np.arange(n) + 0.5) / n]))
    one, two = corners[1] - corners[0], corners[3] - corners[0]
    at = corners[0] + a * one + b * two
    square = (at * at).sum(axis=1)
    light = at / np.sqrt(square)[:, None]
    across = np.cross(one, two)
    angle = np.abs(light @ across) / n**2 / square
    half = light + view
    half /= np.linalg.norm(half, axis=1, keepdims=True)
    spread = alpha**2 / (math.pi * (half[:, 2] ** 2 * (alpha**2 - 1) + 1) ** 2)

    def hidden(c: np.ndarray) -> np.ndarray:
        return 0.5 * (np.sqrt(1 + alpha**2 * (1 - c * c) / (c * c)) - 1)

    shown = 1 / (1 + hidden(view[2:]) + hidden(np.maximum(light[:, 2], 1e-6)))
    share = FLAT + (1 - FLAT) * (1 - half @ view) ** 5
    return float((spread * shown * share / (4 * cosine) * angle * (light[:, 2] > 0)).sum())


def by_lobe(rough: float, cosine: float, corners: np.ndarray) -> float:
    """The same by the cosine lobe; sides as angles, in full."""
    along, across, tilt, share = cosine_lobe(rough, cosine)
    axes = np.array([[math.cos(tilt), 0, math.sin(tilt)], [0, 1, 0], [-math.sin(tilt), 0, math.cos(tilt)]])
    turned = corners @ (axes / np.array([[along], [across], [1.0]])).T
    turned /= np.linalg.norm(turned, axis=1, keepdims=True)
    total = np.zeros(3)
    for a, b in zip(turned, np.roll(turned, -1, axis=0), strict=True):
        cross = np.cross(a, b)
        total += cross / np.linalg.norm(cross) * math.atan2(float(np.linalg.norm(cross)), float(a @ b)) / (2 * math.pi)
    size = float(np.linalg.norm(total))
    return share * max((size**2 + total[2]) / (size + 1), 0.0)


@pytest.mark.parametrize("rough", [0.25, 0.35, 0.45, 0.6])
@pytest.mark.parametrize("angle", [30.0, 50.0, 70.0, 80.0])
def test_a_window_in_varnish_is_as_bright_as_the_model_says(rough: float, angle: float) -> None:
    """Where a mirror would show the window, a little over it, and beside it, where only the lobe's tail reaches.

    Four thousandths of the window's own brightness are no more than a code or two.
    """
    cosine = math.cos(math.radians(angle))
    middle = max(3.0 * cosine / math.sqrt(1 - cosine**2), 0.7)
    for corners, near in ((pane(3.0, middle), 0.08), (pane(3.0, middle + 0.6), 0.14), (pane(3.0, middle, 0.8), 0.25)):
        assert by_lobe(rough, cosine, corners) == pytest.approx(reflected(rough, cosine, corners), rel=near, abs=0.004)


def test_the_graphics_library_finds_the_same_share() -> None:
    """Straight over a matt surface: the view factor of a parallel rectangle, four times that of a quarter of it."""
    can_render.cache_clear()
    advice = can_render()
    if advice:
        pytest.skip(advice)
    from lacunar.pictures.shader import GLOSS, SURFACE
    from lacunar.pictures.stage import Stage
    from scene.sample_room import box_scene
    from scene.test_light import quarter

    scene = box_scene()
    corners = ", ".join(f"vec3({x}, {y}, 1.0)" for x, y in ((0.5, -0.4), (0.5, 0.4), (-0.5, 0.4), (-0.5, -0.4)))
    stage = Stage(scene, (32, 20), 2)
    stage.clear("black")
    code = f"fragOutput0 = vec4(vec3(taken(mat3(1.0), {corners})), 1.0);\n"
    stage.dress((b for b in scene.bodies if b.layer == "room"), lambda _body, _material: (SURFACE + GLOSS, code))
    image = stage.picture(scene.cameras["door"])
    stage.close()
    assert image.max() / 255 == pytest.approx(4 * quarter(0.5, 0.4), abs=0.012)
