"""A plane that is not upright, as a height over the plan."""

import math
from dataclasses import dataclass

from lacunar.geometry.ring import Point, Point3


@dataclass(frozen=True, slots=True, kw_only=True)
class Plane:
    """Height z = z0 + sx x + sy y."""

    z0: float
    sx: float = 0.0
    sy: float = 0.0

    def at(self, point: Point) -> float:
        """Height above a point of the plan."""
        return self.z0 + self.sx * point[0] + self.sy * point[1]

    def lifted(self, by: float) -> "Plane":
        """The same plane, higher by so much, measured plumb."""
        return Plane(z0=self.z0 + by, sx=self.sx, sy=self.sy)

    def slope(self, direction: Point) -> float:
        """Rise per mm of plan along a unit direction."""
        return self.sx * direction[0] + self.sy * direction[1]

    def stretch(self, direction: Point) -> float:
        """True length on the plane per mm of plan along a unit direction."""
        return math.hypot(1.0, self.slope(direction))

    @property
    def plumb(self) -> float:
        """Plumb thickness of a layer that is 1 mm thick across: 1 / cos(tilt)."""
        return math.sqrt(1.0 + self.sx * self.sx + self.sy * self.sy)

    @staticmethod
    def through(a: Point3, b: Point3, c: Point3) -> "Plane":
        """The plane through three points that are not in one line of the plan."""
        (ux, uy, uz), (vx, vy, vz) = ((p[0] - a[0], p[1] - a[1], p[2] - a[2]) for p in (b, c))
        double = ux * vy - uy * vx
        sx, sy = (uz * vy - uy * vz) / double, (ux * vz - uz * vx) / double
        return Plane(z0=a[2] - sx * a[0] - sy * a[1], sx=sx, sy=sy)

    @staticmethod
    def along(start: Point, end: Point, z_start: float, z_end: float) -> "Plane":
        """The plane through two heights that is level across the line between them."""
        dx, dy = end[0] - start[0], end[1] - start[1]
        square = dx * dx + dy * dy
        sx, sy = (z_end - z_start) * dx / square, (z_end - z_start) * dy / square
        return Plane(z0=z_start - sx * start[0] - sy * start[1], sx=sx, sy=sy)
