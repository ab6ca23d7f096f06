"""What hides each end gap and edge gap: the plan, with every gap marked by what lies before it."""

import math
from collections import Counter
from typing import Final

import numpy as np
from PIL import Image, ImageDraw

from lacunar.config import first_of
from lacunar.drawings import PlanView, between
from lacunar.geometry import Point
from lacunar.pictures.captions import INK, PAPER, RGB, Canvas, Pixels, font
from lacunar.pictures.marks import DARK
from lacunar.pictures.plan import named_in, plan_in
from lacunar.scene import Flat, GapMark, Hiding, Scene
from lacunar.tape import Tape

FILLS: Final[dict[Hiding, RGB]] = {
    "trim": (150, 205, 190),
    "short trim": (240, 170, 40),
    "nothing": (190, 24, 24),
    "canopy": (120, 150, 215),
    "unknown": (250, 249, 246),
}
"""Pale where all is well; dark where it is not, so that it is seen in grey too. Source: tuned by eye."""

KINDS: Final = {"end": "slat end", "edge": "slat edge", "hole": "hole"}

MOST_NAMES: Final = 6
PANEL: Final = 0.27
"""Share of the picture for the words."""

DEEP, PROUD = 0.5, 0.85
"""Heights of text: how deep a mark is where trim hides the gap, and where it does not."""


def words(hiding: Hiding, flat: Flat, tape: Tape) -> str:
    """What hides a gap, as the legend has it."""
    least = tape.text(flat.least_overlap, "words")
    return {
        "trim": f"trim, by {least} or more",
        "short trim": f"trim, by less than {least}",
        "nothing": "nothing: it shows",
        "canopy": "the canopy of a fixture",
        "unknown": "not known: no canopy measured",
    }[hiding]


def verdict(flat: Flat, tape: Tape) -> str:
    """In one line whether every gap is hidden; counts as the checks have them."""
    sides = [gap for gap in flat.gaps if gap.kind != "hole"]
    if not sides:
        return "No slat ends at a side: there is no gap to hide."
    bad = [gap for gap in sides if gap.hiding != "trim"]
    least = min(sides, key=lambda gap: gap.overlap)
    counts = Counter(gap.kind for gap in bad or sides)
    what = " and ".join(f"{n:,} {kind} gap{'s' if n > 1 else ''}" for kind, n in counts.items())
    open_holes = [gap.part for gap in flat.gaps if gap.kind == "hole" and gap.hiding != "canopy"]
    holes = f" Nothing is known to hide the hole of {' and '.join(open_holes)}." if open_holes else ""
    if not bad:
        by = tape.text(least.overlap, "words")
        return f"All {what} lie behind trim, by {by} at least ({least.part} at {least.against}).{holes}"
    where = first_of(tuple(dict.fromkeys(f"{gap.part} at {gap.against}" for gap in bad)), MOST_NAMES)
    return f"Not hidden by {tape.text(flat.least_overlap, 'words')}: {what}: {where}.{holes}"


def overlap(scene: Scene, size: tuple[int, int]) -> Pixels:
    """The picture."""
    width, height = size
    sheet = Canvas(np.full((height, width, 3), PAPER, dtype=np.uint8))
    flat, s = scene.flat, sheet.size
    head = sheet.headline(verdict(flat, scene.tape))
    left = round(width * (1 - PANEL))
    shown = sorted(flat.gaps, key=lambda gap: list(FILLS).index(gap.hiding))

    def paint(draw: ImageDraw.ImageDraw, view: PlanView, finer: float) -> None:
        for gap in shown:
            _marked(draw, gap, view, finer * s, round(finer))

    view = plan_in(sheet, scene, (0.3 * s, head + 0.3 * s, left, height - 0.3 * s), paint)
    sheet.taken.append((left, 0, width, height))
    for gap in (gap for gap in flat.gaps if gap.kind == "hole"):
        xs, ys = zip(*view.spots(gap.line), strict=True)
        sheet.taken.append((min(xs) - 4, min(ys) - 4, max(xs) + 4, max(ys) + 4))
    named_in(sheet, view, flat.shapes, "coffer", 1.0)
    named_in(sheet, view, flat.shapes, "beam", 0.8)
    _legend(sheet, scene, (left + 0.5 * s, head + 1.2 * s))
    return sheet.pixels


def _marked(draw: ImageDraw.ImageDraw, gap: GapMark, view: PlanView, s: float, pen: int) -> None:
    """A gap's mark: a bar from the slat's edge outwards; a hole's is a ring."""
    if gap.kind == "hole":
        ring = view.spots(gap.line)
        draw.line([*ring, *ring[:2]], fill=DARK, width=5 * pen, joint="curve")
        draw.line([*ring, *ring[:2]], fill=FILLS[gap.hiding], width=3 * pen, joint="curve")
        return
    deep = s * (DEEP if gap.hiding == "trim" else PROUD)
    (ax, ay), (bx, by) = view.spots(gap.line)
    dx, dy = gap.out[0] * deep, -gap.out[1] * deep
    _bar(draw, ((ax, ay), (bx, by), (bx + dx, by + dy), (ax + dx, ay + dy)), gap.hiding, pen)


def _bar(draw: ImageDraw.ImageDraw, ring: tuple[Point, Point, Point, Point], hiding: Hiding, pen: int) -> None:
    """Pale with a thin edge; barred; or dark with a thick one."""
    thick = {"trim": 1, "short trim": 2, "nothing": 3}.get(hiding, 1) * pen
    draw.polygon(ring, fill=FILLS[hiding])
    if hiding == "short trim":
        bars = max(2, round(math.dist(ring[0], ring[1]) / (5 * pen)))
        for k in range(1, bars, 2):
            t, u = k / bars, (k + 0.6) / bars
            a, b, c, d = ring
            draw.polygon([between(a, b, t), between(a, b, u), between(d, c, u), between(d, c, t)], fill=DARK)
    draw.line([*ring, ring[0]], fill=DARK if hiding != "trim" else (96, 140, 128), width=thick)


def _legend(sheet: Canvas, scene: Scene, at: tuple[float, float]) -> None:
    """Every kind that there may be, with how many there are."""
    s, (x, y) = sheet.size, at
    sheet.draw.text((x, y), "What hides the gap", font=font(s, True), fill=INK, anchor="lm")
    counts = Counter((gap.hiding, gap.kind) for gap in scene.flat.gaps)
    for hiding in FILLS:
        told = [f"{n:,} {one}{'s' if n > 1 else ''}" for kind, one in KINDS.items() if (n := counts[hiding, kind])]
        if not told and hiding in ("canopy", "unknown"):
            continue
        y += 2.6 * s
        _sample(sheet, hiding, (x, y - 0.5 * s))
        lines = ((words(hiding, scene.flat, scene.tape), 1.0, -0.5), (", ".join(told) or "none", 0.9, 0.7))
        for text, size, down in lines:
            sheet.draw.text((x + 3.0 * s, y + down * s), text, font=font(round(size * s)), fill=INK, anchor="lm")


def _sample(sheet: Canvas, hiding: Hiding, at: tuple[float, float]) -> None:
    """A mark as it is on the plan, in the legend."""
    s, finer = sheet.size, 4
    wide, high = round(2.4 * s), round(1.6 * s)
    tile = Image.new("RGB", (wide * finer, high * finer), PAPER)
    draw = ImageDraw.Draw(tile)
    if hiding in ("canopy", "unknown"):
        x, y, r = wide * finer / 2, high * finer / 2, 0.55 * s * finer
        draw.ellipse((x - r, y - r, x + r, y + r), outline=DARK, width=5 * finer)
        r -= finer
        draw.ellipse((x - r, y - r, x + r, y + r), outline=FILLS[hiding], width=3 * finer)
    else:
        deep = (DEEP if hiding == "trim" else PROUD) * s * finer
        y = (high * finer - deep) / 2
        x0, x1 = 0.1 * s * finer, (wide - 0.1 * s) * finer
        _bar(draw, ((x0, y + deep), (x1, y + deep), (x1, y), (x0, y)), hiding, finer)
    sheet.image.paste(tile.resize((wide, high), Image.Resampling.BOX), (round(at[0]), round(at[1] - high / 2)))
