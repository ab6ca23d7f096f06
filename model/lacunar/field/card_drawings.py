"""The drawing on a card: one piece or coffer, as in the plan, with its measures numbered."""

import math
from collections.abc import Sequence

from shapely import LineString, Polygon

from lacunar.drawings import GREY, PALE, WHITE, Anchor, Label, Spot, Stroke, Thing
from lacunar.field.paper import BADGE, badge
from lacunar.field.row import Row
from lacunar.field.view import Numbered, View, aside, between, fitted, place_badges, tape, ways_out
from lacunar.geometry import Line, Point
from lacunar.layout import Coffer, Layout

SIDE_ROOM = 8.0
"""mm. Round a coffer, for the names of what its sides stand against."""
INSET = 4.5
"""mm. A tape along a side is drawn so far inside."""


def _coffer(layout: Layout, id: str, at: Spot, size: Spot, out: float = 0.0) -> tuple[Coffer, View, list[Thing]]:
    """The coffer's outline and what stands round it, its names so much further out."""
    coffer = next(coffer for coffer in layout.coffers if coffer.id == id)
    inner = (size[0] - 2.0 * (SIDE_ROOM + out), size[1] - 11.0 - 2.0 * out)
    view = fitted(coffer.outline, (at[0] + SIDE_ROOM + out, at[1] + 5.5 + out), inner)
    things: list[Thing] = [Stroke(points=view.spots(coffer.outline), closed=True, width=0.6, fill=WHITE)]
    things += [
        Stroke(points=view.spots(hole.outline), closed=True, width=0.25, colour=GREY)
        for hole in layout.cut_outs
        if hole.coffer == id
    ]
    things += [_side_name(view, side.line, side.start, side.end, side.against, out) for side in coffer.sides]
    return coffer, view, things


def _side_name(view: View, line: Line, start: Point, end: Point, text: str, out: float) -> Label:
    middle = ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
    x, y = view.spot(middle)
    outward = line.left
    anchor: Anchor = "centre"
    if abs(outward[0]) > abs(outward[1]):
        anchor = "left" if outward[0] > 0.0 else "right"
    spot = (x + (2.2 + out) * outward[0], y - (4.2 + out) * outward[1])
    return Label(at=spot, text=text, size=7.5, anchor=anchor, colour=GREY)


def _inward(view: View, coffer: Coffer, ends: tuple[Point, Point], by: float) -> tuple[Spot, Spot]:
    """A tape moved on the paper square to itself, so that it lies in the coffer; towards its middle, where both do."""
    a, b = view.spots(ends)
    spots = view.spots(coffer.outline)
    inside = Polygon(spots).buffer(1.0)
    middle = (sum(x for x, _ in spots) / len(spots), sum(y for _, y in spots) / len(spots))
    moved = [aside(a, b, way) for way in (by, -by)]
    within = [line for line in moved if inside.covers(LineString(line))]
    return min(within or moved, key=lambda line: math.dist(between(*line, 0.5), middle))


def draw_coffer(layout: Layout, rows: Sequence[Row], at: Spot, size: Spot) -> list[Thing]:
    """Lengths and widths as solid lines, diagonals dashed, the depth as a number in its corner."""
    coffer, view, things = _coffer(layout, rows[0].card, at, size)
    lines: list[Numbered] = []
    taken: list[Spot] = []
    things += _slat_hint(layout, coffer, view)
    for row in rows:
        if row.ends[0] == row.ends[1]:
            taken.append(_in_corner(view, coffer, row.ends[0]))
            things += badge(taken[-1], row.number)
            continue
        is_width = row.short.startswith("width")
        start, end = _inward(view, coffer, row.ends, INSET) if is_width else view.spots(row.ends)
        things += tape(start, end, dashed=row.optional, colour=GREY if row.optional else "#000000")
        lines.append(Numbered(number=row.number, start=start, end=end))
    things += _corner_numbers(view, coffer) if any(row.short.startswith("diagonal") for row in rows) else []
    return [*things, *place_badges(lines, taken)]


def _slat_hint(layout: Layout, coffer: Coffer, view: View) -> list[Thing]:
    """The slats, faint: which way is along."""
    return [
        Stroke(points=view.spots(slat.outline), closed=True, width=0.1, colour="#c8c8c8", fill="#f4f4f4")
        for slat in layout.slats
        if slat.coffer == coffer.id
    ]


def _in_corner(view: View, coffer: Coffer, corner: Point) -> Spot:
    x, y = view.spot(corner)
    spots = view.spots(coffer.outline)
    cx, cy = (sum(values) / len(spots) for values in zip(*spots, strict=True))
    return x + math.copysign(10.0, cx - x), y + math.copysign(10.5, cy - y)


def _corner_numbers(view: View, coffer: Coffer) -> list[Thing]:
    """1, 2, ... outside the corners, for the diagonals."""
    spots = [view.spot(side.start) for side in coffer.sides]
    return [
        Label(at=(x + 2.0 * dx, y + 2.0 * dy), text=str(number), size=6.5, anchor="centre", colour=GREY)
        for number, ((x, y), ((dx, dy), _)) in enumerate(zip(spots, ways_out(spots), strict=True), start=1)
    ]


def draw_last(layout: Layout, rows: Sequence[Row], at: Spot, size: Spot) -> list[Thing]:
    """The slats that are up; each hole white, its two measures with their numbers on the slats."""
    coffer, view, things = _coffer(layout, rows[0].card, at, size)
    waiting = {id.strip() for row in rows for id in row.note.removeprefix("for ").split(",")}
    for slat in layout.slats:
        if slat.coffer == coffer.id and slat.id not in waiting:
            things.append(Stroke(points=view.spots(slat.outline), closed=True, width=0.15, colour=GREY, fill=PALE))
    taken = [_middle_of(thing) for thing in things if isinstance(thing, Label)]
    for note in dict.fromkeys(row.note for row in rows):
        things += _hole(view, [row for row in rows if row.note == note], taken)
    return things


def _hole(view: View, rows: Sequence[Row], taken: list[Spot]) -> list[Thing]:
    """Both measures of a hole, a little inside its ends; where their numbers stand is taken."""
    things: list[Thing] = []
    middle = between(view.spot(rows[0].ends[1]), view.spot(rows[-1].ends[1]), 0.5)
    for row in rows:
        a, b = view.spots(row.ends)
        length = math.dist(b, middle) or 1.0
        inward = ((middle[0] - b[0]) / length, (middle[1] - b[1]) / length)
        start, end = _moved(a, inward, INSET), _moved(b, inward, INSET)
        back = _moved((0.0, 0.0), (start[0] - end[0], start[1] - end[1]), 1.0 / (math.dist(start, end) or 1.0))
        number = _free_spot(start, back, inward, taken)
        taken.append(number)
        things += [*tape(start, end, width=0.5), Stroke(points=(start, number), width=0.25, colour=GREY)]
        things += badge(number, row.number)
    return things


def _free_spot(start: Spot, back: Spot, inward: Spot, taken: Sequence[Spot]) -> Spot:
    """The nearest place behind a tape's start, or behind and inward of it, where no number stands yet."""
    step = 2.0 * BADGE + 0.6
    spots = [_moved(_moved(start, back, 5.0 + i * step), inward, j * step) for i in range(3) for j in range(-1, 3)]
    free = [spot for spot in spots if all(math.dist(spot, other) >= step for other in taken)]
    # What lies outward may stand past the coffer's side: only where it is much nearer.
    return min(
        free or spots, key=lambda spot: math.dist(spot, start) + (2.0 if _lies(spot, start, inward) < -1.0 else 0.0)
    )


def _lies(spot: Spot, start: Spot, way: Spot) -> float:
    """How far along a way."""
    return (spot[0] - start[0]) * way[0] + (spot[1] - start[1]) * way[1]


def _middle_of(label: Label) -> Spot:
    """Of a short text, about."""
    shift = {"left": 2.0, "centre": 0.0, "right": -2.0}[label.anchor]
    return label.at[0] + shift, label.at[1]


def _moved(spot: Spot, way: Spot, by: float) -> Spot:
    return spot[0] + by * way[0], spot[1] + by * way[1]


def draw_trim(layout: Layout, rows: Sequence[Row], at: Spot, size: Spot) -> list[Thing]:
    """Each side is a tape from corner to corner: its number stands on it."""
    _, view, things = _coffer(layout, rows[0].card, at, size, out=1.8)
    for row in rows:
        start, end = view.spots(row.ends)
        things += badge(between(start, end, 0.5), row.number)
    return things


def draw_opening(layout: Layout, rows: Sequence[Row], place: Spot, size: Spot) -> list[Thing]:
    """The piece with what its ends meet, and both faces with top and bottom."""
    bar = next(bar for bar in (*layout.beams, *layout.half_beams, *layout.pieces) if bar.id == rows[0].card)
    (x, y), (width, height) = place, size
    left, right, upper, lower = x + 13.0, x + width - 13.0, y + 6.0, y + height - 6.0
    middle = ((left + right) / 2.0, (upper + lower) / 2.0)
    things: list[Thing] = [
        Stroke(points=((left, upper), (right, upper), (right, lower), (left, lower)), closed=True, fill=PALE),
        Label(at=(left - 2.0, middle[1]), text=bar.meets[0], size=8.0, anchor="right"),
        Label(at=(right + 2.0, middle[1]), text=bar.meets[1], size=8.0),
    ]
    things += [Stroke(points=((at, upper - 3.5), (at, lower + 3.5)), width=0.8) for at in (left, right)]
    faces = list(dict.fromkeys(row.short.rpartition(" ")[0] for row in rows))
    for face, line, inner in zip(faces, (upper, lower), (3.0, -3.0), strict=True):
        between_numbers = left + 0.44 * (right - left)
        things.append(Label(at=(between_numbers, line + inner), text=face, size=6.5, anchor="centre"))
    for row in rows:
        face, _, level = row.short.rpartition(" ")
        line, out = (upper, -2.8) if face == faces[0] else (lower, 2.8)
        spot = left + (0.22 if level == "top" else 0.66) * (right - left)
        things += badge((spot, line), row.number)
        things.append(Label(at=(spot + 3.4, line + out), text=level, size=6.5, colour=GREY))
    return things
