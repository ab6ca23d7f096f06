"""The room as far as it is known: enough to draw tapes on, before anyone has measured it."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from lacunar.config import Beam, Beams, Config, Fixture, Framing, RoomTable, distance_ends
from lacunar.geometry import Line, Point, Ring, middle
from lacunar.layout import Layout
from lacunar.survey import MIDDLE, Advice, Room
from lacunar.units import Units

LONG: Final = 3000.0
"""mm. Along a longer wall the ceiling's height is worth a reading half way as well. Own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """Where things are, roughly, and what was given of them.

    Attributes:
        corners: letters in order.
        places: plan points of corners and marks, those to be made too.
        marks: wall of each mark, and the corner that it is measured from.
        middles: mark half way along each long wall, by wall; where there is none yet, the one to be made.
        heights: ceiling above the floor at each corner, at marks that have one, at the "centre" and at those middles.
        centre: plan point.
        room: adjusted; None where the measurements do not make one yet.
        layout: None where nothing can be arranged yet.
        given: of the room, in the config.
        beams: as measured, one by one.
        even: existing beams, evenly spread.
        fixtures: None where the config does not speak of them.
        framing: what is above.
        units: lengths are told and written in.
    """

    corners: tuple[str, ...]
    places: Mapping[str, Point]
    marks: Mapping[str, tuple[str, str]]
    middles: Mapping[str, str]
    heights: Mapping[str, float]
    centre: Point
    room: Room | None
    layout: Layout | None
    given: RoomTable
    beams: tuple[Beam, ...]
    even: Beams | None
    fixtures: tuple[Fixture, ...] | None
    framing: Framing
    units: Units

    @property
    def ring(self) -> Ring:
        """The corners, clockwise."""
        return tuple(self.places[corner] for corner in self.corners)

    @property
    def walls(self) -> tuple[str, ...]:
        """Names in order."""
        return tuple(a + b for a, b in zip(self.corners, (*self.corners[1:], self.corners[0]), strict=True))

    def along(self, wall: str, corner: str, at: float) -> Point:
        """The point of a wall so far from one of its corners."""
        other = wall.replace(corner, "", 1)
        return Line.through(self.places[corner], self.places[other]).at(at)


def sketch(config: Config, advice: Sequence[Advice], room: Room | None, layout: Layout | None) -> Sketch:
    """The adjusted room, or else what the advice was made on."""
    given = config.room
    corners = tuple(given.corners)
    places: dict[str, Point] = {}
    marks = {name: (mark.wall, mark.from_) for name, mark in given.marks.items()}
    for one in advice:
        first, second = distance_ends(one.between)
        places |= {first: one.start, second: one.end}
        if one.kind == "mark":
            marks.setdefault(second, (one.wall, first))
    if room is not None:
        places |= {**dict(zip(room.corners, room.points, strict=True)), **room.marks}
    for name, mark in given.marks.items():
        line = Line.through(places[mark.from_], places[mark.wall.replace(mark.from_, "", 1)])
        places.setdefault(name, line.at(mark.at))
    middles = _middles(corners, places, marks)
    for wall, name in middles.items():
        places.setdefault(name, middle(places[wall[0]], places[wall[1]]))
        marks.setdefault(name, (wall, wall[0]))
    ring = [places[corner] for corner in corners]
    n = len(ring)
    among = (sum(x for x, _ in ring) / n, sum(y for _, y in ring) / n)
    heights = {corner: given.heights.get(corner, given.height or 0.0) for corner in corners}
    mean = sum(heights.values()) / n
    between = {name: (heights[wall[0]] + heights[wall[1]]) / 2.0 for wall, name in middles.items()}
    heights = {**heights, **given.heights, "centre": given.heights.get("centre", mean)}
    return Sketch(
        corners=corners,
        places=places,
        marks=marks,
        middles=middles,
        heights={**heights, **{name: mm for name, mm in between.items() if name not in heights}},
        centre=room.centre[:2] if room is not None else among,
        room=room,
        layout=layout,
        given=given,
        beams=config.beam,
        even=config.beams,
        fixtures=config.fixture if config.is_given("fixture") else None,
        framing=config.framing,
        units=config.units,
    )


def _middles(
    corners: Sequence[str], places: Mapping[str, Point], marks: Mapping[str, tuple[str, str]]
) -> dict[str, str]:
    """A mark half way along every wall that is long enough for its ceiling to sag or rise between its corners."""
    found: dict[str, str] = {}
    for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
        length, half = math.dist(places[a], places[b]), middle(places[a], places[b])
        if length > LONG:
            own = [name for name, (wall, _) in marks.items() if {*wall} == {a, b}]
            near = [name for name in own if math.dist(places[name], half) <= MIDDLE * length]
            found[a + b] = min(near, key=lambda name: math.dist(places[name], half)) if near else _free(a + b, marks)
    return found


def _free(wall: str, marks: Mapping[str, tuple[str, str]]) -> str:
    """A name for a new mark: of its wall, numbered where that is taken."""
    names = (f"m{wall}", *(f"m{wall}{number}" for number in range(2, len(marks) + 3)))
    return next(name for name in names if name not in marks)
