"""The measured room as frozen values, and what can be asked of it."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from lacunar.geometry import Line, Plane, Point, Point3, Ring, area, counter_clockwise


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """One distance as read and as adjusted.

    Attributes:
        between: the two ends as the config names them ("AB", "m1-C", "E1.AB-C").
        read: mm, as measured.
        adjusted: mm, between the adjusted points.
        residual: adjusted less read, mm.
        sd: standard deviation of the reading, mm.
        w: residual over its own standard deviation; None where nothing else tells of this distance.
        suspect: the one reading that does not fit the others.
        redundancy: share of an error in it that shows up in its residual, 0 (nothing checks it) to 1.
        finds: least error in it, mm, that would be found in 98 of 100 surveys; None where none ever would.
        names: least error in it, mm, that would be told from an error in any other in 95 of 100; None likewise.
    """

    between: str
    read: float
    adjusted: float
    residual: float
    w: float | None
    suspect: bool
    redundancy: float = 0.0
    sd: float
    finds: float | None = None
    names: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """Corners clockwise in the plan, wall AB across the top of the page, smallest x and y 0.

    Attributes:
        corners: letters in order.
        points: plan point of each corner.
        heights: ceiling above the floor at each corner.
        centre: where the triangles of the ceiling meet (it sees every corner, if any point does), with its height.
        marks: plan points of `room.marks`, and of the beam ends that distances name ("E1.AB").
        measured: every distance, in the config's order, then those of marks from their corners ("A-m1", "A-E1.AB").
        dof: measurements more than needed.
        chi2: sum of squares of residuals over standard deviations.
        ceiling: best-fit plane through the rim of the ceiling and its centre: which way it falls on the whole.
        square_assumed: no diagonal was given, so the corner at A was taken as square.
        sd: standard deviation of each corner in x and y as seen from A along AB, mm; (0, 0) for A.
        rim: corners and the marks whose height is known, in order along the walls, with their heights; empty where
            heights are known at the corners alone: see `ceiling_rim`.
    """

    corners: tuple[str, ...]
    points: tuple[Point, ...]
    heights: tuple[float, ...]
    centre: Point3
    marks: Mapping[str, Point]
    measured: tuple[Measured, ...]
    dof: int
    chi2: float
    ceiling: Plane
    square_assumed: bool
    sd: Mapping[str, tuple[float, float]] = field(default_factory=dict[str, tuple[float, float]])
    rim: Mapping[str, Point3] = field(default_factory=dict[str, Point3])

    @property
    def walls(self) -> tuple[str, ...]:
        """Names of the walls in order: AB, BC, ..."""
        return tuple(a + b for a, b in zip(self.corners, self.corners[1:] + self.corners[:1], strict=True))

    def corner(self, name: str) -> Point:
        """Plan point of a corner or mark."""
        if name in self.marks:
            return self.marks[name]
        return self.points[self.corners.index(name)]

    def wall(self, name: str) -> tuple[Point, Point]:
        """The two ends of a wall, in the order in which its name is written (AB or BA)."""
        return self.corner(name[0]), self.corner(name[1])

    def wall_line(self, name: str) -> Line:
        """A wall as a line that runs clockwise round the room: the room lies to its right."""
        name = name if name in self.walls else name[::-1]
        return Line.through(*self.wall(name))


def wall_point(room: Room, wall: str, from_corner: str, at: float) -> Point:
    """The point of a wall that lies `at` mm from one of its corners."""
    other = wall.replace(from_corner, "", 1)
    return Line.through(room.corner(from_corner), room.corner(other)).at(at)


def point_from_walls(room: Room, at: Mapping[str, float]) -> Point:
    """The point inside the room at perpendicular distances from two walls that are not parallel."""
    first, second = (room.wall_line(wall).shifted(-distance) for wall, distance in at.items())
    return first.crossing(second)


def ceiling_rim(room: Room) -> Mapping[str, Point3]:
    """Every point along the walls where the height of the ceiling is known, by name, in order."""
    if room.rim:
        return room.rim
    rows = zip(room.corners, room.points, room.heights, strict=True)
    return {corner: (x, y, z) for corner, (x, y), z in rows}


ON_FOLD = 1e-9
"""A point that lies beside a triangle by less than this share of it lies on its fold: rounding."""


def ceiling_facets(room: Room) -> tuple[tuple[Ring, Plane], ...]:
    """The flat triangles of the old ceiling, counter-clockwise, each with its plane."""
    rim = tuple(ceiling_rim(room).values())
    found: list[tuple[Ring, Plane]] = []
    for a, b in zip(rim, rim[1:] + rim[:1], strict=True):
        ring = counter_clockwise((room.centre[:2], a[:2], b[:2]))
        if area(ring) > 0.0:
            found.append((ring, Plane.through(room.centre, a, b)))
    return tuple(found)


def ceiling_height(room: Room, point: Point) -> float:
    """Height of the old ceiling above the floor: triangles between neighbours on its rim and the centre.

    Outside the room the nearest triangle goes on. Where the centre does not see every corner, several triangles may lie
    one behind the other as seen from it: of those that hold the point the one whose wall is nearest counts.
    """
    cx, cy, cz = room.centre
    rim = tuple(ceiling_rim(room).values())
    best: tuple[float, float, float, float] | None = None
    for (ax, ay, az), (bx, by, bz) in zip(rim, rim[1:] + rim[:1], strict=True):
        double = (ax - cx) * (by - cy) - (bx - cx) * (ay - cy)
        if double == 0.0:
            continue
        u = ((point[0] - cx) * (by - cy) - (bx - cx) * (point[1] - cy)) / double
        v = ((ax - cx) * (point[1] - cy) - (point[0] - cx) * (ay - cy)) / double
        z = cz + u * (az - cz) + v * (bz - cz)
        beside, beyond = (0.0 if short > -ON_FOLD else short for short in (min(u, v), 1.0 - u - v))
        near = (beside, beyond, u + v)
        if best is None or near > best[:3]:
            best = (*near, z)
    assert best is not None
    return best[3]
