"""Joists above the old ceiling: as found, or as assumed until somebody looks: rule 12."""

import math

from lacunar.config import Config
from lacunar.geometry import Line
from lacunar.layout.types import Joists
from lacunar.materials import find_lumber
from lacunar.survey import Room
from lacunar.units import INCH

USUAL_SPACING = 16.0 * INCH
"""Centre to centre of ceiling joists where nothing is known: common practice, no source."""

USUAL_WIDTH = 1.5 * INCH
"""Of 2-by lumber: PS 20, dressed 2 in nominal."""


def find_joists(room: Room, config: Config) -> Joists:
    """Joists as the config has them; else across the room's shorter way, a usual spacing apart."""
    given = config.framing.joists
    if given is None:
        wall = _assumed_wall(room)
        return Joists(
            lines=_every(room, wall, USUAL_SPACING, USUAL_SPACING), width=USUAL_WIDTH, assumed=True, along=wall
        )
    if given.at:
        line = room.wall_line(given.along)
        lines = tuple(line.shifted(-at) for at in given.at)
    else:
        first, spacing = given.first or 0.0, given.spacing or USUAL_SPACING
        lines = _every(room, given.along, first, spacing)
    section = find_lumber(given.stock) if given.stock else None
    width = section.thickness if section else USUAL_WIDTH
    return Joists(lines=lines, width=width, assumed=False, along=given.along)


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
