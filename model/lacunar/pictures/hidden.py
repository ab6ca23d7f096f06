"""An x-ray: the wood see-through, so that what it hides shows. Pockets and their pilots in strong colours."""

import math
from dataclasses import replace

import numpy as np

from lacunar.pictures.captions import INK, PAPER, RGB, Canvas, Pixels
from lacunar.pictures.projection import project
from lacunar.pictures.shader import neutral
from lacunar.pictures.stage import Stage
from lacunar.scene import Appearance, Body, Scene, Viewpoint

POCKET: RGB = (240, 92, 12)
PILOT: RGB = (30, 60, 140)
TINTS: dict[str, tuple[RGB, float, str]] = {
    "beams": ((150, 112, 82), 0.30, "beam"),
    "furring": ((150, 130, 170), 0.34, "furring"),
    "slats": ((196, 176, 150), 0.16, "slat"),
    "trim": ((120, 150, 140), 0.40, "trim"),
}
"""Of each layer its colour, how solid it is, and what it is called."""
BACK = 0.72
"""m from the joint to the eye, in the plan."""


def _share(rgb: RGB) -> tuple[float, float, float]:
    return (rgb[0] / 255, rgb[1] / 255, rgb[2] / 255)


def _code(body: Body, _material: Appearance) -> tuple[str, str]:
    if body.layer == "pockets":
        return neutral(_share(POCKET if body.material == "pocket" else PILOT), textured=0.0)
    tint, alpha, _ = TINTS[body.layer]
    return neutral(_share(tint), textured=0.35, alpha=alpha)


def _camera(scene: Scene) -> Viewpoint:
    """Close under the joint nearest to the room's middle; without pockets, as the corner view."""
    bores = [b.points.mean(axis=0) for b in scene.bodies if b.kind == "bore"]
    if not bores:
        return replace(scene.cameras["corner"], name="hidden")
    mx, my = (float(v) for v in np.mean(scene.outline, axis=0))
    near = min(bores, key=lambda p: math.hypot(float(p[0]) - mx, float(p[1]) - my))
    x, y, z = (float(v) for v in near)
    turn = math.atan2(y - my, x - mx) + 0.55
    eye = (x - BACK * math.cos(turn), y - BACK * math.sin(turn), z - 0.48)
    return Viewpoint(name="hidden", eye=eye, towards=(x, y, z), half_width=0.80, shift=(0.22, -0.10))


def hidden(stage: Stage, scene: Scene) -> Pixels:
    """The picture: one joint close by, and all pockets in a small plan seen from below."""
    stage.clear("#f7f6f2")
    stage.dress((b for b in scene.bodies if b.layer == "pockets"), _code)
    # One colour a layer and no depth between see-through things: their order then hardly matters, and none is sorted.
    for layer in TINTS:
        stage.dress((b for b in scene.bodies if b.layer == layer), _code, clear=True)
    parts = [(b.layer, b.edges) for b in scene.bodies if b.edges is not None]
    stage.lines([edges for layer, edges in parts if layer == "beams"], (0.22, 0.14, 0.08), 1.2, 0.9)
    stage.lines(
        [edges for layer, edges in parts if layer in ("furring", "slats", "trim")], (0.42, 0.36, 0.30), 0.8, 0.35
    )
    image = stage.picture(_camera(scene))
    return _labelled(scene, image, stage.picture(_plan(scene, stage.size), _inset_size(stage.size)), stage.size)


def _inset_size(size: tuple[int, int]) -> tuple[int, int]:
    wide = round(0.36 * size[0])
    return wide, round(wide * size[1] / size[0])


def _plan(scene: Scene, size: tuple[int, int]) -> Viewpoint:
    ring = np.array(scene.outline)
    (x0, y0), (x1, y1) = ring.min(axis=0), ring.max(axis=0)
    x, y = (x0 + x1) / 2, (y0 + y1) / 2
    half = 1.16 * max((y1 - y0) / 2, (x1 - x0) / 2 * size[1] / size[0])
    return Viewpoint(
        name="plan",
        eye=(float(x), float(y), 0.0),
        towards=(float(x), float(y), 1.0),
        up=(0.0, 1.0, 0.0),
        parallel=float(half),
    )


def _labelled(scene: Scene, image: Pixels, inset: Pixels, size: tuple[int, int]) -> Pixels:
    sheet = Canvas(image)
    bores = [b for b in scene.bodies if b.kind == "bore"]
    rows = [(POCKET, f"pocket ({len(bores)})"), (PILOT, "pilot and screw")] if bores else []
    present = {b.layer for b in scene.bodies}
    rows += [(tint, word) for layer, (tint, _, word) in TINTS.items() if layer in present]
    sheet.legend(rows, "left bottom")
    if not bores:
        sheet.place("No pockets: no cross beams in this ceiling.", [(image.shape[1] / 2, 2 * sheet.size)], bold=True)
    _inset(sheet, scene, inset, size)
    return sheet.pixels


def _inset(sheet: Canvas, scene: Scene, inset: Pixels, size: tuple[int, int]) -> None:
    from PIL import Image

    wide, high = _inset_size(size)
    x, y = size[0] - wide - sheet.size, size[1] - high - sheet.size
    sheet.image.paste(Image.fromarray(inset), (x, y))
    sheet.draw.rectangle((x, y, x + wide, y + high), outline=(150, 145, 138), width=max(1, sheet.size // 10))
    camera = _plan(scene, size)
    r = max(2.5, 0.28 * sheet.size)
    for body in scene.bodies:
        if body.kind == "bore":
            px, py, _ = project(camera, [body.points.mean(axis=0)], (wide, high))[0]
            sheet.draw.ellipse((x + px - r, y + py - r, x + px + r, y + py + r), fill=POCKET, outline=PAPER)
    for letter in scene.letters:
        px, py, _ = project(camera, [letter.at], (wide, high))[0]
        at = (float(np.clip(px, 12, wide - 12)), float(np.clip(py, 12, high - 12)))
        sheet.text((x + at[0], y + at[1]), letter.text, bold=True)
    sheet.text((x + wide / 2, y - 0.9 * sheet.size), "all pockets, looking straight up", ink=INK)
