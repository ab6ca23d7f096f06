"""A network of distances, and those of a notebook as one.

A station is a point that is fixed or free in x and in y. A mark lies on the straight line between two stations, at a
distance from the first that is itself read. A square is a corner that is taken as square because nothing measures it.
"""

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from lacunar.geometry import Line, Point
from lacunar.survey.notebook import Notebook

LOOSE = 1e4
"""By how much the error of a reading grows that is to say nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One distance as read.

    Attributes:
        name: what a person calls it.
        ends: names of stations or marks.
        value: mm.
        sd: standard deviation, mm.
    """

    name: str
    ends: tuple[str, str]
    value: float
    sd: float

    @property
    def loose(self) -> "Reading":
        """The same, that says as good as nothing."""
        return replace(self, sd=self.sd * LOOSE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Network:
    """What was measured between what.

    Attributes:
        stations: names; their order is that of every list of points.
        readings: every distance, the ones from a station to a mark on its wall too.
        marks: name to the two stations of its line; it is measured from the first.
        squares: (neighbour, corner, neighbour) of assumed square corners.
        fixed: names to (x is given, y is given); free where left out.
    """

    stations: tuple[str, ...]
    readings: tuple[Reading, ...]
    marks: Mapping[str, tuple[str, str]] = field(default_factory=dict[str, tuple[str, str]])
    squares: tuple[tuple[str, str, str], ...] = ()
    fixed: Mapping[str, tuple[bool, bool]] = field(default_factory=dict[str, tuple[bool, bool]])

    @property
    def walls(self) -> tuple[tuple[str, str], ...]:
        """Both ends of every wall, in order."""
        return tuple(zip(self.stations, (*self.stations[1:], self.stations[0]), strict=True))

    def is_wall(self, ends: tuple[str, str]) -> bool:
        """Whether two stations are the ends of one wall."""
        return ends in self.walls or ends[::-1] in self.walls

    @property
    def diagonals(self) -> list[tuple[str, str]]:
        """Pairs of corners that no wall joins."""
        return [pair for pair in itertools.combinations(self.stations, 2) if not self.is_wall(pair)]

    def is_along(self, reading: Reading) -> bool:
        """It is what places a mark."""
        return any(reading.ends == (line[0], mark) for mark, line in self.marks.items())

    def lengths(self) -> dict[frozenset[str], float]:
        """Mean of all readings between the same two ends."""
        found: dict[frozenset[str], list[float]] = {}
        for reading in self.readings:
            found.setdefault(frozenset(reading.ends), []).append(reading.value)
        return {pair: math.fsum(values) / len(values) for pair, values in found.items()}

    def along(self) -> dict[str, float]:
        """How far each mark lies along its line, as read."""
        lengths = self.lengths()
        return {mark: lengths[frozenset((line[0], mark))] for mark, line in self.marks.items()}

    def places(self, points: Sequence[Point], along: Mapping[str, float]) -> dict[str, Point]:
        """Where stations and marks are; a mark on a line of no length is left out."""
        found = dict(zip(self.stations, points, strict=True))
        for mark, (start, end) in self.marks.items():
            if found[start] != found[end]:
                found[mark] = Line.through(found[start], found[end]).at(along[mark])
        return found

    def with_instead(self, number: int, *readings: Reading) -> "Network":
        """With others instead of one reading."""
        return replace(self, readings=(*self.readings[:number], *readings, *self.readings[number + 1 :]))


def read_network(book: Notebook) -> Network:
    """Every measured distance, and every mark's own distance from its corner, in the config's order.

    A beam's end is a mark where some distance names it. Elsewhere nothing tells of it: it stays where it was read, and
    moves nothing.
    """
    corners = tuple(book.room.corners)
    named = {end for pair in book.ends.values() for end in pair}
    on_walls = {**book.room.marks, **{name: end for name, end in book.beam_ends.items() if name in named}}
    marks = {name: _wall_from(mark.wall, mark.from_) for name, mark in on_walls.items()}
    taken = [(between, book.ends[between], value) for between, value in book.room.measured.items()]
    along = [(f"{mark.from_}-{name}", (mark.from_, name), mark.at) for name, mark in on_walls.items()]
    return Network(
        stations=corners,
        readings=tuple(
            Reading(name=name, ends=pair, value=value, sd=book.error(value)) for name, pair, value in (*taken, *along)
        ),
        marks=marks,
        fixed={corners[0]: (True, True), corners[1]: (False, True)},
    )


def sorting(readings: Sequence[Reading]) -> list[int]:
    """Numbers of the readings in an order that does not depend on the one in which they were taken."""
    return sorted(range(len(readings)), key=lambda i: (sorted(readings[i].ends), readings[i].value, readings[i].name))


def in_order(network: Network) -> Network:
    """The same network with readings and marks sorted, so that the order of measuring cannot change a digit."""
    return replace(
        network,
        readings=tuple(network.readings[i] for i in sorting(network.readings)),
        marks={name: network.marks[name] for name in sorted(network.marks)},
    )


def _wall_from(wall: str, corner: str) -> tuple[str, str]:
    return corner, wall.replace(corner, "", 1)
