"""Which way beams run, and between which walls: the frame that beams, rows and coffers share."""

import math
from dataclasses import dataclass

from lacunar.geometry import Line, Point, Segment, centroid, dot, middle, moved
from lacunar.layout.saying import refusal
from lacunar.survey import Room

QUARTER = math.pi / 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class BeamGrid:
    """The two families of walls.

    Attributes:
        ahead: unit direction of the existing beams, away from corner A.
        outer: the first and the last wall that the beams run beside; the one nearer A first.
    """

    ahead: Point
    outer: tuple[str, str]

    def along_beams(self, line: Line) -> bool:
        """A line runs nearer along the beams than across them."""
        return Line((0.0, 0.0), self.ahead).lean_to(line) < QUARTER


def make_grid(room: Room, beam_lines: tuple[Line, ...]) -> BeamGrid:
    """Find the beams' direction (that of BC and DA where there are none) and the walls that they run beside."""
    lines = beam_lines or _upright_walls(room)
    ahead = _mean_direction(lines, room)
    walls = [w for w in room.walls if Line((0.0, 0.0), ahead).lean_to(room.wall_line(w)) < QUARTER]
    if len(walls) < 2:
        what = f"they run along {' and '.join(walls) or 'no wall'} within 45 degrees, must run along two walls"
        raise refusal("the beams", what, "measure their ends and the diagonals again")
    axis = Line(room.points[0], ahead)
    offsets = {w: axis.offset(middle(*room.wall(w))) for w in walls}
    low, high = min(walls, key=offsets.__getitem__), max(walls, key=offsets.__getitem__)
    return BeamGrid(ahead=ahead, outer=(low, high) if abs(offsets[low]) <= abs(offsets[high]) else (high, low))


def outer_stretch(room: Room, wall: str, ahead: Point, inner: tuple[Point, ...]) -> Segment:
    """A wall, or the face that stands along it, run the way the beams run.

    Args:
        room: the room.
        wall: its name.
        ahead: direction of the beams.
        inner: the room's ring or an inset of it, clockwise like the room's corners.
    """
    i = room.walls.index(wall if wall in room.walls else wall[::-1])
    start, end = inner[i], inner[(i + 1) % len(inner)]
    if dot((end[0] - start[0], end[1] - start[1]), ahead) < 0.0:
        start, end = end, start
    return Segment(start, end)


def _upright_walls(room: Room) -> tuple[Line, ...]:
    first = room.wall_line(room.walls[0])
    upright = [room.wall_line(w) for w in room.walls if first.lean_to(room.wall_line(w)) >= QUARTER]
    return tuple(upright) or (Line(first.point, first.left),)


def _mean_direction(lines: tuple[Line, ...], room: Room) -> Point:
    reference = lines[0].direction
    total = (0.0, 0.0)
    for line in lines:
        sign = 1.0 if dot(line.direction, reference) >= 0.0 else -1.0
        total = moved(total, line.direction, sign)
    mean = Line.through((0.0, 0.0), total)
    inward = Line(room.points[0], mean.direction).along(centroid(room.points)) >= 0.0
    return mean.direction if inward else mean.reversed().direction
