"""Which way beams run, and between which walls: the frame that beams, rows and coffers share."""

import math
from dataclasses import dataclass

from lacunar.errors import LayoutError, Problem
from lacunar.geometry import Line, Point, centroid
from lacunar.layout.spread import Stretch
from lacunar.survey import Room

QUARTER = math.pi / 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
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


def make_grid(room: Room, beam_lines: tuple[Line, ...]) -> Grid:
    """Find the beams' direction (that of BC and DA where there are none) and the walls that they run beside."""
    lines = beam_lines or _upright_walls(room)
    ahead = _mean_direction(lines, room)
    walls = [w for w in room.walls if Line((0.0, 0.0), ahead).lean_to(room.wall_line(w)) < QUARTER]
    if len(walls) < 2:
        what = f"they run along {' and '.join(walls) or 'no wall'} within 45 degrees, must run along two walls"
        raise LayoutError([Problem(where="the beams", what=what, fix="measure their ends and the diagonals again")])
    axis = Line(room.points[0], ahead)
    middle = {w: axis.offset(_middle(*room.wall(w))) for w in walls}
    low, high = min(walls, key=middle.__getitem__), max(walls, key=middle.__getitem__)
    return Grid(ahead=ahead, outer=(low, high) if abs(middle[low]) <= abs(middle[high]) else (high, low))


def outer_stretch(room: Room, wall: str, ahead: Point, inner: tuple[Point, ...]) -> Stretch:
    """A wall, or the face that stands along it, run the way the beams run.

    Args:
        room: the room.
        wall: its name.
        ahead: direction of the beams.
        inner: the room's ring or an inset of it, clockwise like the room's corners.
    """
    i = room.walls.index(wall if wall in room.walls else wall[::-1])
    start, end = inner[i], inner[(i + 1) % len(inner)]
    if (end[0] - start[0]) * ahead[0] + (end[1] - start[1]) * ahead[1] < 0.0:
        start, end = end, start
    return Stretch(start, end)


def _upright_walls(room: Room) -> tuple[Line, ...]:
    first = room.wall_line(room.walls[0])
    upright = [room.wall_line(w) for w in room.walls if first.lean_to(room.wall_line(w)) >= QUARTER]
    return tuple(upright) or (Line(first.point, first.left),)


def _mean_direction(lines: tuple[Line, ...], room: Room) -> Point:
    reference = lines[0].direction
    total = [0.0, 0.0]
    for line in lines:
        dx, dy = line.direction
        sign = 1.0 if dx * reference[0] + dy * reference[1] >= 0.0 else -1.0
        total[0] += sign * dx
        total[1] += sign * dy
    length = math.hypot(*total)
    ahead = (total[0] / length, total[1] / length)
    cx, cy = centroid(room.points)
    ax, ay = room.points[0]
    inward = (cx - ax) * ahead[0] + (cy - ay) * ahead[1]
    return ahead if inward >= 0.0 else (-ahead[0], -ahead[1])


def _middle(a: Point, b: Point) -> Point:
    return ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0)
