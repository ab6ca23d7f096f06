"""The room's sheet: distances on one plan; heights, beams and the light on another."""

import math
from collections.abc import Callable, Sequence

from lacunar.drawings import BLACK, Disc, Label, Page, Spot, Stroke, Thing
from lacunar.field.paper import BOX, GUTTER, MARGIN, Paper, badge, line_cell, pages
from lacunar.field.room import AFRESH
from lacunar.field.row import Row
from lacunar.field.sketch import Sketch
from lacunar.field.view import (
    Numbered,
    View,
    aside,
    corner_letters,
    fitted,
    place_badges,
    room_outline,
    tape,
)
from lacunar.geometry import Line, Point

PITCH = BOX[1] + 1.3
"""mm. From one row to the next."""
LEAST_PLAN = 96.0
"""mm. Height of a plan below which it gets a page of its own. Own choice: numbers of 17 tapes still stand apart."""
TIER = 6.2
"""mm. From a wall to the tapes along it, and from those to the next."""

Plan = Callable[[Sketch, Sequence[Row], Spot, Spot], list[Thing]]


def room_pages(sheet: Paper, drawn: Sketch, rows: Sequence[Row]) -> tuple[Page, ...]:
    """As many pages as it takes: first the room's shape, then what hangs in it."""
    shape = [row for row in rows if row.card in ("wall", "across")]
    rest = [row for row in rows if row.card not in ("wall", "across")]
    bodies = [*_part(sheet, drawn, shape, _shape_plan), *_part(sheet, drawn, rest, _hanging_plan)]
    return pages(sheet, bodies)


def _part(sheet: Paper, drawn: Sketch, rows: Sequence[Row], plan: Plan) -> list[list[Thing]]:
    """Plan and rows on one page, where both are large enough; else the plan first."""
    free = sheet.bottom - sheet.top
    height = free - math.ceil(len(rows) / 2) * PITCH - GUTTER
    if height >= LEAST_PLAN:
        at = (MARGIN, sheet.bottom - math.ceil(len(rows) / 2) * PITCH)
        return [[*plan(drawn, rows, (MARGIN, sheet.top), (sheet.width, height)), *_table(sheet, at, rows)]]
    most = 2 * int(free / PITCH)
    bodies = [plan(drawn, rows, (MARGIN, sheet.top), (sheet.width, free))]
    bodies += [_table(sheet, (MARGIN, sheet.top), rows[i : i + most]) for i in range(0, len(rows), most)]
    return bodies


def _table(sheet: Paper, at: Spot, rows: Sequence[Row]) -> list[Thing]:
    """Two columns, down the first and then down the second."""
    width = (sheet.width - GUTTER) / 2.0
    first = math.ceil(len(rows) / 2)
    things: list[Thing] = []
    for i, row in enumerate(rows):
        column, line = divmod(i, first)
        things += line_cell((at[0] + column * (width + GUTTER), at[1] + line * PITCH), width, row, sheet.units)
    return things


def _shape_plan(drawn: Sketch, rows: Sequence[Row], at: Spot, size: Spot) -> list[Thing]:
    """Tapes across inside, tapes along walls in tiers outside."""
    along = _tiers(drawn, [row for row in rows if row.card == "wall"])
    most = max((tier for _, tier in along), default=0) + 1
    room = TIER * most + 5.0
    view = fitted(drawn.ring, (at[0] + room, at[1] + room), (size[0] - 2.0 * room, size[1] - 2.0 * room))
    things = room_outline(view, drawn)
    lines: list[Numbered] = []
    for row in rows:
        if row.card == "across":
            shift = 1.4 if row.note == AFRESH else 0.0
            start, end = aside(view.spot(row.ends[0]), view.spot(row.ends[1]), shift)
            lines.append(Numbered(number=row.number, start=start, end=end))
            things += tape(start, end)
    for row, tier in along:
        start, end = _outside(view, drawn, row, TIER * (tier + 1))
        lines.append(Numbered(number=row.number, start=start, end=end))
        things += tape(start, end)
    for name in drawn.marks:
        if name in drawn.places:
            things += _mark(view, drawn, name)
    return [*things, *place_badges(lines), *corner_letters(view, drawn)]


def _mark(view: View, drawn: Sketch, name: str) -> list[Thing]:
    """A dot on the wall, its name along the wall outside."""
    x, y = view.spot(drawn.places[name])
    cx, cy = view.spot(drawn.centre)
    upright = abs(cx - x) > abs(cy - y)
    at = (x + math.copysign(2.4, x - cx), y) if upright else (x, y + math.copysign(2.4, y - cy))
    turn = math.pi / 2.0 if upright else 0.0
    return [
        Disc(centre=(x, y), radius=0.9, fill=BLACK),
        Label(at=at, text=name, size=6.5, anchor="centre", bold=True, turn=turn),
    ]


def _wall_of(drawn: Sketch, row: Row) -> int:
    """The wall that a tape runs along: both its ends lie on it."""

    def off(i: int) -> float:
        line = Line.through(drawn.ring[i], drawn.ring[(i + 1) % len(drawn.ring)])
        return max(abs(line.offset(point)) for point in row.ends)

    return min(range(len(drawn.ring)), key=off)


def _tiers(drawn: Sketch, rows: Sequence[Row]) -> list[tuple[Row, int]]:
    """Short ones next to the wall, side by side where they do not overlap; longer ones further out."""
    used: dict[tuple[int, int], list[tuple[float, float]]] = {}
    found: list[tuple[Row, int]] = []
    for row in sorted(rows, key=lambda row: math.dist(*row.ends)):
        wall = _wall_of(drawn, row)
        line = Line.through(drawn.ring[wall], drawn.ring[(wall + 1) % len(drawn.ring)])
        low, high = sorted(line.along(point) for point in row.ends)
        tier = 0
        while any(low < b - 1.0 and a + 1.0 < high for a, b in used.get((wall, tier), ())):
            tier += 1
        used.setdefault((wall, tier), []).append((low, high))
        found.append((row, tier))
    return found


def _outside(view: View, drawn: Sketch, row: Row, away: float) -> tuple[Spot, Spot]:
    wall = _wall_of(drawn, row)
    line = Line.through(drawn.ring[wall], drawn.ring[(wall + 1) % len(drawn.ring)])
    start, end = (line.at(line.along(point), away / view.scale) for point in row.ends)
    return view.spot(start), view.spot(end)


def _hanging_plan(drawn: Sketch, rows: Sequence[Row], at: Spot, size: Spot) -> list[Thing]:
    """Heights as numbers at their place; beams from their corner outside, all on one line; the light from its walls."""
    room = 2.0 * TIER + 4.0
    view = fitted(drawn.ring, (at[0] + room, at[1] + room), (size[0] - 2.0 * room, size[1] - 2.0 * room))
    things = room_outline(view, drawn)
    lines: list[Numbered] = []
    for row in rows:
        if row.card == "beam":
            things += _running(view, drawn, row)
        elif row.card == "light":
            start, end = view.spot(row.ends[0]), view.spot(row.ends[1])
            things += tape(start, end)
            lines.append(Numbered(number=row.number, start=start, end=end))
    for row in rows:
        if row.card == "beam":
            things += badge(_outside(view, drawn, row, 1.5 * TIER)[1], row.number)
    heights = [(row, _inside(view, drawn, row.ends[0])) for row in rows if row.card == "height"]
    for row, spot in heights:
        things += badge(spot, row.number)
    return [*things, *place_badges(lines, [spot for _, spot in heights]), *corner_letters(view, drawn)]


def _running(view: View, drawn: Sketch, row: Row) -> list[Thing]:
    """From the corner to a beam's near face: beams of one wall share the line."""
    start, end = _outside(view, drawn, row, 1.5 * TIER)
    wall = view.spot(row.ends[1])
    return [
        *tape(start, end),
        Stroke(points=(wall, end), width=0.15),
        Disc(centre=start, radius=0.9, fill=BLACK),
    ]


def _inside(view: View, drawn: Sketch, point: Point) -> Spot:
    """A corner's number stands a little inside the room; the centre's where it is."""
    x, y = view.spot(point)
    cx, cy = view.spot(drawn.centre)
    if math.dist((x, y), (cx, cy)) < 1.0:
        return x, y + 6.0
    return x + math.copysign(6.0, cx - x), y + math.copysign(6.0, cy - y)
