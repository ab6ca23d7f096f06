"""Distances that a tape could still take: across corners, and from the middles of walls."""

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from lacunar.geometry import Line, Point, Ring
from lacunar.survey.network import Network, Reading
from lacunar.survey.notebook import Notebook
from lacunar.survey.shape import are_inside

MIDDLE = 0.15
"""Share of a wall's length that a mark may lie off its middle and still stand for it. Source: own choice."""

FLAT = math.sin(math.radians(10.0))
"""Least sine between a wall and a tape from its middle: along the wall it would touch the skirting. Own choice."""


MOST_PAIRS = 3
"""Pairs of tapes from one wall middle that are weighed against each other, the best crossing ones first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """Readings that are only worth taking together: a tape across, or a mark and its tapes.

    Attributes:
        readings: with the values that the shape gives them.
        mark: name of the mark that they need; "" where none.
        line: the two stations of its wall; it is measured from the first.
        at: so far from it.
    """

    readings: tuple[Reading, ...]
    mark: str = ""
    line: tuple[str, str] = ("", "")
    at: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Floor:
    """A shape to draw tapes on.

    Attributes:
        places: stations and marks.
        ring: the corners in order.
        network: what is measured so far.
        book: for the error of a tape, and the marks that there are.
    """

    places: Mapping[str, Point]
    ring: Ring
    network: Network
    book: Notebook

    def reading(self, a: str, b: str, places: Mapping[str, Point]) -> Reading:
        """A tape of the length that the shape gives it."""
        value = math.dist(places[a], places[b])
        name = a + b if len(a) == len(b) == 1 else f"{a}-{b}"
        return Reading(name=name, ends=(a, b), value=value, sd=self.book.error(value))

    def is_taken(self, a: str, b: str) -> bool:
        """Whether the distance between the two has been read."""
        return any({a, b} == set(r.ends) for r in self.network.readings)


def walls_to_read(floor: Floor) -> tuple[Move, ...]:
    """Walls that nobody has measured."""
    return _single(floor, [wall for wall in floor.network.walls if not floor.is_taken(*wall)])


def moves(floor: Floor) -> tuple[Move, ...]:
    """Tapes across corners, pairs of tapes from wall middles, and one more from a mark that is there."""
    return (*_across(floor), *(move for wall in floor.network.walls for move in _from_middle(floor, wall)))


def repeats(floor: Floor) -> tuple[Move, ...]:
    """What was taken once, from the other end: finds a misread distance, but no corner that was mistaken twice."""
    readings = floor.network.readings
    once = [r for r in readings if sum(set(r.ends) == set(other.ends) for other in readings) == 1]
    return _single(floor, [(r.ends[1], r.ends[0]) for r in once])


def taken(floor: Floor, chosen: Sequence[Move]) -> Floor:
    """The floor when these have been measured."""
    marks = {move.mark: move.line for move in chosen if move.mark}
    places = {
        move.mark: Line.through(*(floor.places[c] for c in move.line)).at(move.at) for move in chosen if move.mark
    }
    readings = {r.ends: r for move in chosen for r in move.readings}
    network = replace(
        floor.network,
        readings=(*floor.network.readings, *readings.values()),
        marks={**floor.network.marks, **marks},
    )
    return replace(floor, network=network, places={**floor.places, **places})


def without(floor: Floor, dropped: Sequence[Reading]) -> Floor:
    """The floor with some readings less; a mark that fewer than two tapes are left for goes too."""
    readings = [r for r in floor.network.readings if r not in dropped]
    lone = {
        mark
        for mark, line in floor.network.marks.items()
        if sum(mark in r.ends and not set(r.ends) & set(line) for r in readings) < 2
    }
    kept = tuple(r for r in readings if not lone & set(r.ends))
    marks = {mark: line for mark, line in floor.network.marks.items() if mark not in lone}
    return replace(floor, network=replace(floor.network, readings=kept, marks=marks))


def _single(floor: Floor, pairs: Sequence[tuple[str, str]]) -> tuple[Move, ...]:
    return tuple(Move(readings=(floor.reading(a, b, floor.places),)) for a, b in pairs)


def _across(floor: Floor) -> tuple[Move, ...]:
    open_pairs = [pair for pair in floor.network.diagonals if not floor.is_taken(*pair)]
    return _single(floor, _seen(floor, floor.places, open_pairs))


def _seen(floor: Floor, places: Mapping[str, Point], pairs: Sequence[tuple[str, str]]) -> list[tuple[str, str]]:
    inside = are_inside(floor.ring, [places[a] for a, _ in pairs], [places[b] for _, b in pairs])
    return list(itertools.compress(pairs, inside))


def _from_middle(floor: Floor, wall: tuple[str, str]) -> list[Move]:
    """Pairs of tapes from the config's mark half way, or a new one; single ones from a mark that is taken already."""
    length = math.dist(floor.places[wall[0]], floor.places[wall[1]])
    old = _old_mark(floor, wall, length)
    mark, wall, at = (old, wall, 0.0) if old else _pencilled(floor, wall, length)
    line = Line.through(floor.places[wall[0]], floor.places[wall[1]])
    places = floor.places if old else {**floor.places, mark: line.at(at)}
    pairs = [(mark, c) for c in floor.network.stations if c not in wall and not floor.is_taken(mark, c)]
    steep = [p for p in pairs if abs(line.offset(places[p[1]])) > FLAT * math.dist(places[mark], places[p[1]])]
    tapes = [floor.reading(a, b, places) for a, b in _seen(floor, places, steep)]
    line = Line(places[mark], line.direction)
    if old:
        # the corner that its own distance is not taken from
        other = floor.network.marks[mark][1]
        rest = [] if all(floor.is_taken(mark, c) for c in wall) else [floor.reading(mark, other, places)]
        return [Move(readings=(tape,)) for tape in (*tapes, *rest)]
    along = floor.reading(wall[0], mark, places)
    pairs = sorted(itertools.combinations(tapes, 2), key=lambda pair: -_cut(line, *(places[t.ends[1]] for t in pair)))
    return [Move(readings=(along, *pair), mark=mark, line=wall, at=at) for pair in pairs[:MOST_PAIRS]]


def _cut(wall: Line, a: Point, b: Point) -> float:
    """How well two tapes from one mark and its wall hold each other: the product of the sines between them."""
    start = wall.point
    first, second = Line.through(start, a), Line.through(start, b)
    return abs(math.sin(first.lean_to(second)) * math.sin(first.lean_to(wall)) * math.sin(second.lean_to(wall)))


def _old_mark(floor: Floor, wall: tuple[str, str], length: float) -> str:
    for mark, line in floor.network.marks.items():
        if set(line) == set(wall) and _is_middle(math.dist(floor.places[mark], floor.places[wall[0]]), length):
            return mark
    return ""


def _is_middle(at: float, length: float) -> bool:
    return abs(at / length - 0.5) <= MIDDLE


def _pencilled(floor: Floor, wall: tuple[str, str], length: float) -> tuple[str, tuple[str, str], float]:
    """The config's own mark about half way, else one to be made: its name, its wall from its corner on, how far on."""
    for name, mark in floor.book.room.marks.items():
        if {*mark.wall} == {*wall} and _is_middle(mark.at, length):
            return name, (mark.from_, mark.wall.replace(mark.from_, "", 1)), mark.at
    name = "m" + "".join(wall)
    while name in floor.network.marks or name in floor.book.room.marks:
        name += "m"
    return name, wall, length / 2.0
