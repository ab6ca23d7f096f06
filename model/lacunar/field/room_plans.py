"""The room's plans: its shape with tapes along and across; what hangs in it."""

import math
from collections.abc import Sequence

from lacunar.drawings import BLACK, Disc, Label, Spot, Stroke, Thing
from lacunar.field.paper import BADGE, badge
from lacunar.field.room import AFRESH
from lacunar.field.row import Row
from lacunar.field.sketch import Sketch
from lacunar.field.view import (
    Numbered,
    View,
    aside,
    between,
    corner_letters,
    distance_to,
    fitted,
    place_badges,
    room_outline,
    tape,
)
from lacunar.geometry import Line, Point

TIER = 6.2
"""mm. From a wall to the tapes along it, and from those to the next."""


def shape_plan(drawn: Sketch, rows: Sequence[Row], at: Spot, size: Spot) -> list[Thing]:
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


def hanging_plan(drawn: Sketch, rows: Sequence[Row], at: Spot, size: Spot) -> list[Thing]:
    """Heights and sections as numbers at their place; beams from their corner outside, on one line; the light."""
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
    tapes = [(line.start, line.end) for line in lines]
    tapes += [view.spots(bar.axis) for bar in (drawn.layout.beams if drawn.layout is not None else ())]
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
    return [*things, *place_badges(lines, taken), *corner_letters(view, drawn)]


def _at_mark(view: View, drawn: Sketch, mark: str, tapes: Sequence[Sequence[Spot]]) -> Spot:
    """A little inside the room from a mark, beside what runs there."""
    wall, corner = drawn.marks[mark]
    line = Line.through(drawn.places[corner], drawn.places[wall.replace(corner, "", 1)])
    room_side = math.copysign(1.0, line.offset(drawn.centre))
    at = line.along(drawn.places[mark])

    def spot(aside: float) -> Spot:
        return view.spot(line.at(at + aside / view.scale, room_side * 6.0 / view.scale))

    def room(aside: float) -> float:
        lines = [Numbered(number=0, start=start, end=end) for start, end in tapes]
        return min((*(distance_to(spot(aside), one) for one in lines), 5.0)) - 0.1 * abs(aside)

    return spot(max((0.0, 5.0, -5.0, 9.0, -9.0), key=room))


def _on_beam(view: View, row: Row, taken: Sequence[Spot]) -> Spot:
    """On the beam, a little way from its end or half way: the nearest place to it where no number stands yet."""
    start, end = view.spots(row.ends)
    length = math.dist(start, end)
    step = 2.0 * BADGE + 0.5
    first = length / 2.0 if row.short.endswith("half way") else step + 1.0
    places = [between(start, end, (first + i * step) / length) for i in range(max(1, int((length - first) / step)))]
    free = [spot for spot in places if all(math.dist(spot, other) >= step - 0.1 for other in taken)]
    return (free or places)[0]


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
