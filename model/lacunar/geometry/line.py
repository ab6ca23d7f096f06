"""Straight lines of the plan."""

import math
from dataclasses import dataclass

from lacunar.geometry.ring import Point


def dot(a: Point, b: Point) -> float:
    """Scalar product."""
    return a[0] * b[0] + a[1] * b[1]


def moved(point: Point, direction: Point, by: float) -> Point:
    """A point so far along a direction."""
    return (point[0] + by * direction[0], point[1] + by * direction[1])


def middle(a: Point, b: Point) -> Point:
    """Half way between two points."""
    return ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0)


@dataclass(frozen=True, slots=True)
class Line:
    """An endless line through `point` along the unit vector `direction`."""

    point: Point
    direction: Point

    @staticmethod
    def through(start: Point, end: Point) -> "Line":
        """The line from one point towards another."""
        dx, dy = end[0] - start[0], end[1] - start[1]
        length = math.hypot(dx, dy)
        return Line(start, (dx / length, dy / length))

    @property
    def left(self) -> Point:
        """Unit normal, to the left of the direction."""
        return (-self.direction[1], self.direction[0])

    def at(self, along: float, left: float = 0.0) -> Point:
        """The point so far along the line, and so far to its left."""
        dx, dy = self.direction
        return (
            self.point[0] + along * dx - left * dy,
            self.point[1] + along * dy + left * dx,
        )

    def along(self, point: Point) -> float:
        """How far along the line a point lies."""
        return (point[0] - self.point[0]) * self.direction[0] + (point[1] - self.point[1]) * self.direction[1]

    def offset(self, point: Point) -> float:
        """How far to the left of the line a point lies."""
        return (point[1] - self.point[1]) * self.direction[0] - (point[0] - self.point[0]) * self.direction[1]

    def shifted(self, left: float) -> "Line":
        """The parallel so far to the left."""
        return Line(self.at(0.0, left), self.direction)

    def turned(self, angle: float) -> "Line":
        """The line turned counter-clockwise about its point."""
        c, s = math.cos(angle), math.sin(angle)
        dx, dy = self.direction
        return Line(self.point, (c * dx - s * dy, s * dx + c * dy))

    def reversed(self) -> "Line":
        """The same line, run the other way."""
        return Line(self.point, (-self.direction[0], -self.direction[1]))

    def crossing(self, other: "Line") -> Point:
        """Where two lines cross.

        Raises:
            ZeroDivisionError: the lines are parallel.
        """
        dx, dy = self.direction
        ex, ey = other.direction
        cross = dx * ey - dy * ex
        qx, qy = other.point[0] - self.point[0], other.point[1] - self.point[1]
        return self.at((qx * ey - qy * ex) / cross)

    def angle_to(self, other: "Line") -> float:
        """Angle from this direction to the other's, counter-clockwise, in (-pi, pi]."""
        dx, dy = self.direction
        ex, ey = other.direction
        return math.atan2(dx * ey - dy * ex, dx * ex + dy * ey)

    def lean_to(self, other: "Line") -> float:
        """Unsigned angle between two lines as lines, in [0, pi/2]."""
        turn = abs(self.angle_to(other))
        return min(turn, math.pi - turn)


@dataclass(frozen=True, slots=True)
class Segment:
    """What of a line lies between two points: of a wall, or of a face along it."""

    start: Point
    end: Point

    @property
    def line(self) -> Line:
        """From the start towards the end."""
        return Line.through(self.start, self.end)

    @property
    def length(self) -> float:
        """From start to end."""
        return self.line.along(self.end)

    @property
    def middle(self) -> Point:
        """Half way."""
        return middle(self.start, self.end)
