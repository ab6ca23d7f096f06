"""Joists above the old ceiling: as found, or as assumed until somebody looks: rule 12."""

import math

from lacunar.config import JoistsTable
from lacunar.geometry import Line
from lacunar.layout.types import JoistLines
from lacunar.materials import LUMBER, find_lumber
from lacunar.survey import Room
from lacunar.units import INCH

USUAL_SPACING = 16.0 * INCH
"""Centre to centre of ceiling joists where nothing is known: common practice, no source."""

USUAL = LUMBER["2x8"]
"""Of ceiling joists where nothing is known: common practice, no source."""


def find_joists(room: Room, given: JoistsTable | None) -> JoistLines:
    """Joists as the config has them; else across the room's shorter way, a usual spacing apart."""
    section = (find_lumber(given.stock) if given else None) or USUAL
    along = given.along if given else _assumed_wall(room)
    if given and given.at:
        line = room.wall_line(along)
        lines = tuple(line.shifted(-at) for at in given.at)
    elif given:
        lines = _every(room, along, given.first or 0.0, given.spacing or USUAL_SPACING)
    else:
        lines = _every(room, along, USUAL_SPACING, USUAL_SPACING)
    return JoistLines(lines=lines, width=section.thickness, height=section.width, assumed=given is None, along=along)


def _assumed_wall(room: Room) -> str:
    """Joists span the shorter way: they lie along the shorter of the first two walls."""
    first, second = room.walls[0], room.walls[1]
    lengths = {wall: math.dist(*room.wall(wall)) for wall in (first, second)}
    return min(lengths, key=lengths.__getitem__)


def _every(room: Room, wall: str, first: float, spacing: float) -> tuple[Line, ...]:
    line = room.wall_line(wall)
    depth = -min(line.offset(p) for p in room.points)
    count = max(0, math.floor((depth - first) / spacing) + 1)
    return tuple(line.shifted(-(first + i * spacing)) for i in range(count))
