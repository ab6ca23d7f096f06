"""Every pocket in the plan, each beside the face that it opens in and clear of the next, with the pieces' names."""

import math
from collections import Counter
from collections.abc import Sequence
from typing import Final

from lacunar.analysis import Fate
from lacunar.drawings import PlanView
from lacunar.pictures.captions import INK, PAPER, RGB, Box, Canvas, font
from lacunar.pictures.marks import FATES, stamp
from lacunar.pictures.plan import named_in, plan_in
from lacunar.scene import PocketMark, Scene

WORDS: Final[dict[Fate, str]] = {
    "seen": "seen: open to view",
    "plugged": "plugged: the plug shows below the trim",
    "hidden": "hidden behind slat and trim",
}

FIRST, NEXT, ASIDE = 1.2, 2.2, 1.15
"""Radii of a sign: from a piece's end to the first, from one to the next, from the piece's face."""


def pockets_plan(sheet: Canvas, scene: Scene, joint: str, woods: Sequence[tuple[RGB, str]], box: Box) -> None:
    """Draw it into a box, a ring round the joint that is seen large beside it, and below what signs and colours say."""
    x0, y0, x1, y1 = box
    s, marks = sheet.size, scene.flat.pockets
    sheet.draw.rectangle(box, fill=PAPER)
    sheet.draw.line((x0, y0, x0, y1), fill=(190, 185, 176), width=max(1, s // 10))
    foot = y1 - _legend(sheet, marks, woods, (x0 + 1.2 * s, y1))
    view = plan_in(sheet, scene, (x0 + 0.5 * s, y0 + 2.0 * s, x1 - 0.5 * s, foot - 0.4 * s))
    sheet.draw.text(((x0 + x1) / 2, y0 + 1.4 * s), "every pocket, in the plan", font=font(s), fill=INK, anchor="mm")
    before, sheet.taken = sheet.taken, []
    draw_signs(sheet, view, marks, joint)
    named_in(sheet, view, scene.flat.shapes, "beam", 0.72)
    sheet.taken = [*before, box]


def _legend(
    sheet: Canvas, marks: Sequence[PocketMark], woods: Sequence[tuple[RGB, str]], foot: tuple[float, float]
) -> float:
    """The three signs with their counts, the joint's ring, the woods; returns its height."""
    s, counts = sheet.size, Counter(mark.fate for mark in marks)
    line, (x, y1) = 1.9 * s, foot
    high = (len(FATES) + 2.3) * line
    y = y1 - high - 0.5 * line
    for fate in FATES:
        y += line
        stamp(sheet, (x + 0.6 * s, y), 0.65 * s, fate)
        sheet.draw.text((x + 1.9 * s, y), f"{counts[fate]} {WORDS[fate]}", font=font(s), fill=INK, anchor="lm")
    y += line
    sheet.draw.ellipse((x, y - 0.6 * s, x + 1.2 * s, y + 0.6 * s), outline=INK, width=max(1, s // 9))
    sheet.draw.text((x + 1.9 * s, y), "the joint beside this plan", font=font(s), fill=INK, anchor="lm")
    for rgb, word in woods:
        sheet.draw.rectangle((x, y + line - 0.55 * s, x + 1.1 * s, y + line + 0.55 * s), fill=rgb, outline=INK)
        sheet.draw.text((x + 1.9 * s, y + line), word, font=font(s), fill=INK, anchor="lm")
        x += sheet.extent(word)[0] + 3.6 * s
    return high


def draw_signs(sheet: Canvas, view: PlanView, marks: Sequence[PocketMark], joint: str) -> None:
    """Each beside the face that it opens in, the next one at that face further from the end; a ring round a joint's."""
    rows: dict[tuple[object, ...], list[PocketMark]] = {}
    for mark in marks:
        rows.setdefault((mark.part, mark.end, mark.out), []).append(mark)
    r = _radius(sheet, view, list(rows.values()))
    ringed: list[tuple[float, float]] = []
    for row in rows.values():
        for k, mark in enumerate(row):
            (x, y), (ix, iy), (ox, oy) = view.spot(mark.end), mark.inward, mark.out
            along, aside = (FIRST + NEXT * k) * r, view.scale * _half(mark) + ASIDE * r
            at = (x + along * ix + aside * ox, y - along * iy - aside * oy)
            stamp(sheet, at, r, mark.fate)
            sheet.taken.append((at[0] - r, at[1] - r, at[0] + r, at[1] + r))
            ringed += [at] if mark.joint == joint else []
    x, y = (sum(values) / len(ringed) for values in zip(*ringed, strict=True))
    out = max(math.dist((x, y), at) for at in ringed) + 1.6 * r
    sheet.draw.ellipse((x - out, y - out, x + out, y + out), outline=INK, width=max(1, sheet.size // 8))


def _half(mark: PocketMark) -> float:
    """Mm from the middle of a piece to the face with the mouth."""
    return sum((1000.0 * m - e) * o for m, e, o in zip(mark.mouth, mark.end, mark.out, strict=False))


def _radius(sheet: Canvas, view: PlanView, rows: Sequence[Sequence[PocketMark]]) -> float:
    """So small that both ends of the shortest piece have room for theirs."""
    ends: dict[str, set[tuple[float, float]]] = {}
    for row in rows:
        ends.setdefault(row[0].part, set()).add(row[0].end)
    lengths = [math.dist(*pair) for pair in ends.values() if len(pair) == 2]
    most = FIRST + NEXT * (max(map(len, rows), default=1) - 1) + 1.1
    return min(0.36 * sheet.size, 0.5 * view.scale * min(lengths, default=1e9) / most)
