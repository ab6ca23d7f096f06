"""The room's plans: its shape with tapes along and across; what hangs in it."""

import math
from collections.abc import Sequence

from lacunar.drawings import (
    BADGE,
    BLACK,
    Dimension,
    Disc,
    Numbered,
    PlanView,
    Spot,
    Stroke,
    Text,
    Thing,
    aside,
    badge,
    between,
    corner_letters,
    distance_to,
    fitted,
    place_badges,
    room_outline,
)
from lacunar.field.room_rows import AFRESH
from lacunar.field.sheet_row import Row
from lacunar.field.sketch import Sketch
from lacunar.geometry import Line, Point

TIER = 6.2
"""mm. From a wall to the tapes along it, and from those to the next."""


def shape_plan(drawn: Sketch, rows: Sequence[Row], at: Spot, size: Spot) -> list[Thing]:
    """Tapes across inside, tapes along walls in tiers outside."""
    along = _tiers(drawn, [row for row in rows if row.card == "wall"])
    most = max((tier for _, tier in along), default=0) + 1
    view = fitted(drawn.ring, at, size, TIER * most + 5.0)
    things = room_outline(view, drawn.ring, drawn.layout)
    lines: list[Numbered] = []
    for row in rows:
        if row.card == "across":
            shift = 1.4 if row.note == AFRESH else 0.0
            start, end = aside(view.spot(row.ends[0]), view.spot(row.ends[1]), shift)
            lines.append(Numbered(number=row.number, start=start, end=end))
    for row, tier in along:
        start, end = _outside(view, drawn, row, TIER * (tier + 1))
        lines.append(Numbered(number=row.number, start=start, end=end))
    things += [tape(line.start, line.end) for line in lines]
    for name in drawn.marks:
        if name in drawn.places:
            things += _mark(view, drawn, name)
    return [*things, *place_badges(lines), *corner_letters(view, drawn.ring, drawn.corners)]


def _mark(view: PlanView, drawn: Sketch, name: str) -> list[Thing]:
    """A dot on the wall, its name along the wall outside."""
    x, y = view.spot(drawn.places[name])
    cx, cy = view.spot(drawn.centre)
    upright = abs(cx - x) > abs(cy - y)
    at = (x + math.copysign(2.4, x - cx), y) if upright else (x, y + math.copysign(2.4, y - cy))
    turn = math.pi / 2.0 if upright else 0.0
    return [
        Disc(at=(x, y), radius=0.9, fill=BLACK, layer="room"),
        Text(at=at, text=name, size=6.5, anchor="centre", bold=True, turn=turn, layer="room"),
    ]


def _wall_of(drawn: Sketch, row: Row) -> tuple[str, Line]:
    """The wall that a tape runs along: both its ends lie on it."""
    lines = [(wall, Line.through(drawn.places[wall[0]], drawn.places[wall[1]])) for wall in drawn.walls]
    return min(lines, key=lambda one: max(abs(one[1].offset(point)) for point in row.ends))


def _tiers(drawn: Sketch, rows: Sequence[Row]) -> list[tuple[Row, int]]:
    """Short ones next to the wall, side by side where they do not overlap; longer ones further out."""
    used: dict[tuple[str, int], list[tuple[float, float]]] = {}
    found: list[tuple[Row, int]] = []
    for row in sorted(rows, key=lambda row: math.dist(*row.ends)):
        wall, line = _wall_of(drawn, row)
        low, high = sorted(line.along(point) for point in row.ends)
        tier = 0
        while any(low < b - 1.0 and a + 1.0 < high for a, b in used.get((wall, tier), ())):
            tier += 1
        used.setdefault((wall, tier), []).append((low, high))
        found.append((row, tier))
    return found


def _outside(view: PlanView, drawn: Sketch, row: Row, away: float) -> tuple[Spot, Spot]:
    _, line = _wall_of(drawn, row)
    start, end = (line.at(line.along(point), away / view.scale) for point in row.ends)
    return view.spot(start), view.spot(end)


def tape(start: Spot, end: Spot) -> Dimension:
    """A distance as it is measured."""
    return Dimension(points=(start, end), width=0.3, layer="measures")


def hanging_plan(drawn: Sketch, rows: Sequence[Row], at: Spot, size: Spot) -> list[Thing]:
    """Heights and sections as numbers at their place; beams from their corner outside, on one line; the light."""
    view = fitted(drawn.ring, at, size, 2.0 * TIER + 4.0)
    things = room_outline(view, drawn.ring, drawn.layout)
    lines: list[Numbered] = []
    for row in rows:
        if row.card == "beam":
            things += _running(view, drawn, row)
        elif row.card == "light":
            start, end = view.spot(row.ends[0]), view.spot(row.ends[1])
            things.append(tape(start, end))
            lines.append(Numbered(number=row.number, start=start, end=end))
    for row in rows:
        if row.card == "beam":
            things += badge(_outside(view, drawn, row, 1.5 * TIER)[1], row.number)
    beams = drawn.layout.beams if drawn.layout is not None else ()
    tapes = [(line.start, line.end) for line in lines]
    tapes += [(view.spot(bar.axis[0]), view.spot(bar.axis[1])) for bar in beams]
    taken: list[Spot] = []
    for row in rows:
        place = row.name.removeprefix("height ")
        if row.card == "section":
            taken.append(_on_beam(view, row, taken))
        elif row.card == "height" and place in drawn.marks:
            taken.append(_at_mark(view, drawn, place, tapes))
            things += _mark(view, drawn, place)
        elif row.card == "height":
            taken.append(_inside(view, drawn, row.ends[0]))
        else:
            continue
        things += badge(taken[-1], row.number)
    return [*things, *place_badges(lines, taken), *corner_letters(view, drawn.ring, drawn.corners)]


def _at_mark(view: PlanView, drawn: Sketch, mark: str, tapes: Sequence[tuple[Spot, Spot]]) -> Spot:
    """A little inside the room from a mark, beside what runs there."""
    wall, corner = drawn.marks[mark]
    line = Line.through(drawn.places[corner], drawn.places[wall.replace(corner, "", 1)])
    room_side = math.copysign(1.0, line.offset(drawn.centre))
    at = line.along(drawn.places[mark])

    def spot(aside: float) -> Spot:
        return view.spot(line.at(at + aside / view.scale, room_side * 6.0 / view.scale))

    def room(aside: float) -> float:
        return min((*(distance_to(spot(aside), start, end) for start, end in tapes), 5.0)) - 0.1 * abs(aside)

    return spot(max((0.0, 5.0, -5.0, 9.0, -9.0), key=room))


def _on_beam(view: PlanView, row: Row, taken: Sequence[Spot]) -> Spot:
    """On the beam, a little way from its end or half way: the nearest place to it where no number stands yet."""
    start, end = view.spots(row.ends)
    length = math.dist(start, end)
    step = 2.0 * BADGE + 0.5
    first = length / 2.0 if row.short.endswith("half way") else step + 1.0
    places = [between(start, end, (first + i * step) / length) for i in range(max(1, int((length - first) / step)))]
    free = [spot for spot in places if all(math.dist(spot, other) >= step - 0.1 for other in taken)]
    return (free or places)[0]


def _running(view: PlanView, drawn: Sketch, row: Row) -> list[Thing]:
    """From the corner to a beam's near face: beams of one wall share the line."""
    start, end = _outside(view, drawn, row, 1.5 * TIER)
    wall = view.spot(row.ends[1])
    return [
        tape(start, end),
        Stroke(points=(wall, end), width=0.15, layer="measures"),
        Disc(at=start, radius=0.9, fill=BLACK, layer="measures"),
    ]


def _inside(view: PlanView, drawn: Sketch, point: Point) -> Spot:
    """A corner's number stands a little inside the room; the centre's where it is."""
    x, y = view.spot(point)
    cx, cy = view.spot(drawn.centre)
    if math.dist((x, y), (cx, cy)) < 1.0:
        return x, y + 6.0
    return x + math.copysign(6.0, cx - x), y + math.copysign(6.0, cy - y)
