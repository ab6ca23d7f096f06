"""The drawing on a card: one piece or coffer, as in the plan, with its measures numbered."""

import math
from collections.abc import Sequence

from shapely import LineString, Polygon

from lacunar.drawings import (
    BADGE,
    BLACK,
    GREY,
    PALE,
    WHITE,
    Anchor,
    Dimension,
    Numbered,
    Outline,
    PlanView,
    Spot,
    Stroke,
    Text,
    Thing,
    aside,
    badge,
    between,
    fitted,
    hole_outline,
    middle,
    place_badges,
    rectangle,
    stepped,
    ways_out,
)
from lacunar.field.sheet_row import Row
from lacunar.geometry import Point
from lacunar.layout import Coffer, Layout, Side

SIDE_ROOM = 8.0
"""mm. Round a coffer, for the names of what its sides stand against."""
INSET = 4.5
"""mm. A tape along a side is drawn so far inside."""


def _coffer(layout: Layout, id: str, at: Spot, size: Spot, out: float = 0.0) -> tuple[Coffer, PlanView, list[Thing]]:
    """The coffer's outline and what stands round it, its names so much further out."""
    coffer = layout.coffer(id)
    inner = (size[0] - 2.0 * (SIDE_ROOM + out), size[1] - 11.0 - 2.0 * out)
    view = fitted(coffer.outline, (at[0] + SIDE_ROOM + out, at[1] + 5.5 + out), inner)
    things: list[Thing] = [Outline(points=view.spots(coffer.outline), width=0.6, fill=WHITE, layer="room")]
    things += [hole_outline(view, hole) for hole in layout.cut_outs if hole.coffer == id]
    return coffer, view, [*things, *(_side_name(view, side, out) for side in coffer.sides)]


def _side_name(view: PlanView, side: Side, out: float) -> Text:
    x, y = view.spot(between(side.start, side.end, 0.5))
    right, up = side.line.left
    anchor: Anchor = "centre"
    if abs(right) > abs(up):
        anchor = "left" if right > 0.0 else "right"
    at = (x + (2.2 + out) * right, y - (4.2 + out) * up)
    return Text(at=at, text=side.against, size=7.5, anchor=anchor, colour=GREY, layer="room")


def _inward(view: PlanView, coffer: Coffer, ends: tuple[Point, Point], by: float) -> tuple[Spot, Spot]:
    """A tape moved on the paper square to itself, so that it lies in the coffer; towards its middle, where both do."""
    a, b = view.spots(ends)
    spots = view.spots(coffer.outline)
    inside = Polygon(spots).buffer(1.0)
    moved = [aside(a, b, way) for way in (by, -by)]
    within = [line for line in moved if inside.covers(LineString(line))]
    return min(within or moved, key=lambda line: math.dist(between(*line, 0.5), middle(spots)))


def draw_coffer(layout: Layout, rows: Sequence[Row], at: Spot, size: Spot) -> list[Thing]:
    """Lengths and widths as solid lines, diagonals dashed, the depth as a number in its corner."""
    coffer, view, things = _coffer(layout, rows[0].card, at, size)
    lines: list[Numbered] = []
    taken: list[Spot] = []
    things += _slats(layout, coffer, view, 0.1, "#c8c8c8", "#f4f4f4")
    for row in rows:
        if row.ends[0] == row.ends[1]:
            taken.append(_in_corner(view, coffer, row.ends[0]))
            things += badge(taken[-1], row.number)
            continue
        is_width = row.short.startswith("width")
        start, end = _inward(view, coffer, row.ends, INSET) if is_width else view.spots(row.ends)
        colour = GREY if row.optional else BLACK
        line = Dimension(points=(start, end), width=0.3, colour=colour, dashed=row.optional, layer="measures")
        things.append(line)
        lines.append(Numbered(number=row.number, start=start, end=end))
    things += _corner_numbers(view, coffer) if any(row.short.startswith("diagonal") for row in rows) else []
    return [*things, *place_badges(lines, taken)]


def _slats(
    layout: Layout, coffer: Coffer, view: PlanView, width: float, colour: str, fill: str, *, but: Sequence[str] = ()
) -> list[Thing]:
    """Which way is along, and what is up already: all but some."""
    return [
        Outline(points=view.spots(slat.outline), width=width, colour=colour, fill=fill, layer="wood")
        for slat in layout.slats
        if slat.coffer == coffer.id and slat.id not in but
    ]


def _in_corner(view: PlanView, coffer: Coffer, corner: Point) -> Spot:
    x, y = view.spot(corner)
    cx, cy = middle(view.spots(coffer.outline))
    return x + math.copysign(10.0, cx - x), y + math.copysign(10.5, cy - y)


def _corner_numbers(view: PlanView, coffer: Coffer) -> list[Thing]:
    """1, 2, ... outside the corners, for the diagonals."""
    spots = [view.spot(side.start) for side in coffer.sides]
    return [
        Text(at=stepped(spot, way, 2.0), text=str(n), size=6.5, anchor="centre", colour=GREY, layer="measures")
        for n, (spot, (way, _)) in enumerate(zip(spots, ways_out(spots), strict=True), start=1)
    ]


def draw_holes(layout: Layout, rows: Sequence[Row], at: Spot, size: Spot) -> list[Thing]:
    """The slats that are up; each hole white, its two measures with their numbers on the slats."""
    coffer, view, things = _coffer(layout, rows[0].card, at, size)
    waiting = [id.strip() for row in rows for id in row.note.removeprefix("for ").split(",")]
    things += _slats(layout, coffer, view, 0.15, GREY, PALE, but=waiting)
    taken = [_middle_of(thing) for thing in things if isinstance(thing, Text)]
    for note in dict.fromkeys(row.note for row in rows):
        things += _hole(view, [row for row in rows if row.note == note], taken)
    return things


def _hole(view: PlanView, rows: Sequence[Row], taken: list[Spot]) -> list[Thing]:
    """Both measures of a hole, a little inside its ends; where their numbers stand is taken."""
    things: list[Thing] = []
    half_way = between(view.spot(rows[0].ends[1]), view.spot(rows[-1].ends[1]), 0.5)
    for row in rows:
        a, b = view.spots(row.ends)
        inward = _way(b, half_way)
        start, end = stepped(a, inward, INSET), stepped(b, inward, INSET)
        number = _free_spot(start, _way(end, start), inward, taken)
        taken.append(number)
        things.append(Dimension(points=(start, end), width=0.5, layer="measures"))
        things.append(Stroke(points=(start, number), colour=GREY, layer="measures"))
        things += badge(number, row.number)
    return things


def _way(start: Spot, end: Spot) -> Spot:
    """Of length 1."""
    length = math.dist(start, end) or 1.0
    return (end[0] - start[0]) / length, (end[1] - start[1]) / length


def _free_spot(start: Spot, back: Spot, inward: Spot, taken: Sequence[Spot]) -> Spot:
    """The nearest place behind a tape's start, or behind and inward of it, where no number stands yet."""
    step = 2.0 * BADGE + 0.6
    spots = [stepped(stepped(start, back, 5.0 + i * step), inward, j * step) for i in range(3) for j in range(-1, 3)]
    free = [spot for spot in spots if all(math.dist(spot, other) >= step for other in taken)]

    def far(spot: Spot) -> float:
        # What lies outward may stand past the coffer's side: only where it is much nearer.
        along = (spot[0] - start[0]) * inward[0] + (spot[1] - start[1]) * inward[1]
        return math.dist(spot, start) + (2.0 if along < -1.0 else 0.0)

    return min(free or spots, key=far)


def _middle_of(label: Text) -> Spot:
    """Of a short text, about."""
    shift = {"left": 2.0, "centre": 0.0, "right": -2.0}[label.anchor]
    return label.at[0] + shift, label.at[1]


def draw_trim(layout: Layout, rows: Sequence[Row], at: Spot, size: Spot) -> list[Thing]:
    """Each side is a tape from corner to corner: its number stands on it."""
    _, view, things = _coffer(layout, rows[0].card, at, size, out=1.8)
    for row in rows:
        start, end = view.spots(row.ends)
        things += badge(between(start, end, 0.5), row.number)
    return things


def draw_opening(layout: Layout, rows: Sequence[Row], at: Spot, size: Spot) -> list[Thing]:
    """The piece with what its ends meet, and both faces with top and bottom."""
    bar = next(bar for bar in (*layout.beams, *layout.half_beams, *layout.pieces) if bar.id == rows[0].card)
    left, right, upper, lower = at[0] + 13.0, at[0] + size[0] - 13.0, at[1] + 6.0, at[1] + size[1] - 6.0
    half_way = (upper + lower) / 2.0
    things: list[Thing] = [
        rectangle((left, upper), (right - left, lower - upper), fill=PALE, layer="wood"),
        Text(at=(left - 2.0, half_way), text=bar.meets[0], size=8.0, anchor="right", layer="room"),
        Text(at=(right + 2.0, half_way), text=bar.meets[1], size=8.0, layer="room"),
    ]
    things += [Stroke(points=((x, upper - 3.5), (x, lower + 3.5)), width=0.8, layer="room") for x in (left, right)]
    faces = list(dict.fromkeys(row.short.rpartition(" ")[0] for row in rows))
    for face, line, inner in zip(faces, (upper, lower), (3.0, -3.0), strict=True):
        between_numbers = (left + 0.44 * (right - left), line + inner)
        things.append(Text(at=between_numbers, text=face, size=6.5, anchor="centre", layer="measures"))
    for row in rows:
        face, _, level = row.short.rpartition(" ")
        line, out = (upper, -2.8) if face == faces[0] else (lower, 2.8)
        x = left + (0.22 if level == "top" else 0.66) * (right - left)
        things += badge((x, line), row.number)
        things.append(Text(at=(x + 3.4, line + out), text=level, size=6.5, colour=GREY, layer="measures"))
    return things
