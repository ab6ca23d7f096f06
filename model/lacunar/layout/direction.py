"""Which way a coffer's slats run and where they start: rule 5."""

import math
from dataclasses import dataclass

from lacunar.geometry import Line, Point
from lacunar.layout.cells import Cell
from lacunar.layout.grid import QUARTER
from lacunar.layout.types import Side
from lacunar.survey import Room


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """How slats run in one coffer.

    Attributes:
        run: "with", "across" or "angle".
        start: index of the start side; for an angle, of the side nearest to where slat 1 lies.
        direction: unit vector for an angle, None where the start side gives it.
        centred: two equal rips.
    """

    run: str
    start: int
    direction: Point | None
    centred: bool


def way_of(room: Room, cell: Cell, run: str, run_angle: float | None, start: tuple[str, ...], joists: Line) -> Way:
    """Rule 5 for one coffer.

    Args:
        room: the room.
        cell: the coffer.
        run: the config's word or a wall's name.
        run_angle: for run "angle": radians from wall AB, counter-clockwise on the page.
        start: walls named in `from`, or ("centre",).
        joists: a line along the joists.
    """
    centred = start == ("centre",)
    if run == "angle" and run_angle is not None:
        direction = room.wall_line(room.walls[0]).turned(run_angle).direction
        index = _nearest_parallel(cell.sides, direction)
        return Way(run="angle", start=index, direction=direction, centred=False)
    resolved = _resolve(room, cell, run, joists)
    family = [i for i, side in enumerate(cell.sides) if side.along_beams == (resolved == "with")]
    family = family or [_nearest_parallel(cell.sides, _family_direction(cell, resolved))]
    return Way(
        run=resolved, start=_start_side(room, cell, family, () if centred else start), direction=None, centred=centred
    )


def _resolve(room: Room, cell: Cell, run: str, joists: Line) -> str:
    if run in ("with", "across"):
        return run
    if run == "alternate":
        return "across" if (cell.row + cell.column) % 2 == 0 else "with"
    with_lean, across_lean = (
        _mean_lean(cell, along, joists if run == "joists" else room.wall_line(run)) for along in (True, False)
    )
    if run == "joists":
        return "with" if with_lean > across_lean else "across"
    return "with" if with_lean < across_lean else "across"


def _mean_lean(cell: Cell, along: bool, line: Line) -> float:
    leans = [side.line.lean_to(line) for side in cell.sides if side.along_beams == along]
    return sum(leans) / len(leans) if leans else math.pi / 4.0


def _family_direction(cell: Cell, resolved: str) -> Point:
    other = next(side.line for side in cell.sides if side.along_beams != (resolved == "with"))
    return other.left


def _nearest_parallel(sides: tuple[Side, ...], direction: Point) -> int:
    line = Line((0.0, 0.0), direction)
    return min(range(len(sides)), key=lambda i: (round(sides[i].line.lean_to(line), 9), -_length(sides[i])))


def _start_side(room: Room, cell: Cell, family: list[int], named: tuple[str, ...]) -> int:
    """The side nearest to a named wall that the pair runs along, else the one nearer A; the longest of equals."""
    line = cell.sides[family[0]].line
    fitting = [wall for wall in named if room.wall_line(wall).lean_to(line) < QUARTER]

    def distance(i: int) -> float:
        side = cell.sides[i]
        middle = ((side.start[0] + side.end[0]) / 2.0, (side.start[1] + side.end[1]) / 2.0)
        if fitting:
            return abs(room.wall_line(fitting[0]).offset(middle))
        return math.dist(middle, room.points[0])

    return min(family, key=lambda i: (round(distance(i), 6), -_length(cell.sides[i])))


def _length(side: Side) -> float:
    return math.dist(side.start, side.end)
