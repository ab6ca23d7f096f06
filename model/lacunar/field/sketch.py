"""The room as far as it is known: enough to draw tapes on, before anyone has measured it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from lacunar.config import Config
from lacunar.geometry import Line, Point, Ring
from lacunar.layout import Layout
from lacunar.survey import Advice, Room


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """Where things are, roughly.

    Attributes:
        corners: letters in order.
        places: plan points of corners and marks, those to be made too.
        marks: wall of each mark, and the corner that it is measured from.
        heights: ceiling above the floor at each corner, at marks that have one, and at the "centre".
        centre: plan point.
        room: adjusted; None where the measurements do not make one yet.
        layout: None where nothing can be arranged yet.
    """

    corners: tuple[str, ...]
    places: Mapping[str, Point]
    marks: Mapping[str, tuple[str, str]]
    heights: Mapping[str, float]
    centre: Point
    room: Room | None
    layout: Layout | None

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
    corners = tuple(config.room.corners)
    places: dict[str, Point] = {}
    marks = {name: (mark.wall, mark.from_) for name, mark in config.room.marks.items()}
    for one in advice:
        first, second = _ends(one)
        places |= {first: one.start, second: one.end}
        if one.kind == "mark":
            marks.setdefault(second, (one.wall, first))
    if room is not None:
        places |= {**dict(zip(room.corners, room.points, strict=True)), **room.marks}
    ring = [places[corner] for corner in corners]
    n = len(ring)
    middle = (sum(x for x, _ in ring) / n, sum(y for _, y in ring) / n)
    heights = {corner: config.room.heights.get(corner, config.room.height or 0.0) for corner in corners}
    mean = sum(heights.values()) / n
    return Sketch(
        corners=corners,
        places=places,
        marks=marks,
        heights={**heights, **config.room.heights, "centre": config.room.heights.get("centre", mean)},
        centre=room.centre[:2] if room is not None else middle,
        room=room,
        layout=layout,
    )


def _ends(advice: Advice) -> tuple[str, str]:
    first, dash, second = advice.between.partition("-")
    return (first, second) if dash else (first[0], first[1])
