"""The ceiling as a plan in a corner of a picture: wall AB across the top, the same way round as on every sheet."""

from collections.abc import Callable, Iterable
from typing import Final

from PIL import Image, ImageDraw

from lacunar.drawings import PlanView, fitted, ways_out
from lacunar.pictures.captions import PAPER, RGB, Canvas
from lacunar.scene import FlatShape, Scene

FINER: Final = 2
"""Drawn so many times larger and averaged down."""

FILLS: Final[dict[str, RGB]] = {
    "slat": (240, 235, 226),
    "trim": (222, 224, 216),
    "beam": (198, 182, 164),
    "hole": (120, 116, 110),
}
EDGES: Final[dict[str, RGB]] = {
    "slat": (212, 204, 192),
    "trim": (176, 178, 168),
    "beam": (120, 102, 84),
    "hole": (70, 66, 60),
}
WALL: Final = (60, 56, 50)

Painter = Callable[[ImageDraw.ImageDraw, PlanView, float], None]
"""Paints on the plan: the drawing, where plan points lie in it, and how many of its pixels are one of the picture."""


def plan_in(
    sheet: Canvas, scene: Scene, box: tuple[float, float, float, float], paint: Painter | None = None
) -> PlanView:
    """Draw the plan at the head of a box of the picture, as large as goes; what is painted goes on top of the wood.

    Returns:
        Where plan points, mm, lie in the picture.
    """
    x0, y0, x1, y1 = (round(v) for v in box)
    ring = [(1000.0 * x, 1000.0 * y) for x, y in reversed(scene.outline)]
    margin = round(1.5 * sheet.size)
    # No lower than it needs, so that it stands under what is said of it.
    spread = [max(values) - min(values) for values in zip(*ring, strict=True)]
    y1 = min(y1, y0 + round((x1 - x0 - 2 * margin) * spread[1] / spread[0] + 2 * margin))
    view = fitted(ring, (x0, y0), (x1 - x0, y1 - y0), margin)
    big = fitted(ring, (0.0, 0.0), (FINER * (x1 - x0), FINER * (y1 - y0)), FINER * margin)
    image = Image.new("RGB", (FINER * (x1 - x0), FINER * (y1 - y0)), PAPER)
    draw = ImageDraw.Draw(image)
    for shape in scene.flat.shapes:
        if shape.kind != "coffer":
            draw.polygon(big.spots(shape.ring), fill=FILLS[shape.kind], outline=EDGES[shape.kind])
    walls = big.spots(ring)
    draw.line([*walls, walls[0]], fill=WALL, width=2 * FINER, joint="curve")
    if paint is not None:
        paint(draw, big, FINER)
    sheet.image.paste(image.resize((x1 - x0, y1 - y0), Image.Resampling.BOX), (x0, y0))
    spots = view.spots(ring)
    for letter, (x, y), ((dx, dy), _) in zip(scene.letters, spots, ways_out(spots), strict=True):
        sheet.text((x + 0.55 * sheet.size * dx, y + 0.55 * sheet.size * dy), letter.text, bold=True)
    return view


def named_in(sheet: Canvas, view: PlanView, shapes: Iterable[FlatShape], kind: str, scale: float) -> None:
    """Write the names of shapes of one kind on them, or beside them where something is there."""
    for shape in shapes:
        if shape.kind != kind:
            continue
        xs, ys = zip(*view.spots(shape.ring), strict=True)
        (x0, x1), (y0, y1) = (min(xs), max(xs)), (min(ys), max(ys))
        w, h = sheet.extent(shape.name, scale=scale)
        upright = y1 - y0 > x1 - x0
        on = [(x0 + t * (x1 - x0), y0 + t * (y1 - y0)) for t in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9)]
        by = (w + x1 - x0) / 2 + 2 if upright else (h + y1 - y0) / 2
        beside = [(x + d, y) if upright else (x, y + d) for x, y in on for d in (by, -by)]
        sheet.place(shape.name, [*on, *beside], scale=scale)
