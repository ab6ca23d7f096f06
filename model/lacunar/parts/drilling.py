"""Which of a part's pockets can be drilled as drawn, and the faces and curves where their surfaces meet."""

import math
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from lacunar.geometry import Plane, Point, Point3, Ring
from lacunar.parts.part import Part, Pocket
from lacunar.tolerances import ARITHMETIC, CONTACT


@dataclass(frozen=True, slots=True)
class Oval:
    """A circle or ellipse in space: centre + cos(t) a + sin(t) b."""

    centre: Point3
    a: Point3
    b: Point3

    def ring(self, segments: int) -> NDArray[np.float64]:
        """So many points on it, (segments, 3), from `a` towards `b`."""
        turns = _turns(segments)
        return np.array(self.centre) + turns @ np.array((self.a, self.b))

    def reach(self, direction: Point3) -> float:
        """How far it reaches along a direction, from the origin."""
        return dot(self.centre, direction) + math.hypot(dot(self.a, direction), dot(self.b, direction))


@dataclass(frozen=True, slots=True)
class Face:
    """An upright side of a part over one edge of its outline; `along` x up points out of the wood."""

    edge: int
    start: Point
    along: Point
    length: float

    @property
    def normal(self) -> Point3:
        """Outward, level, unit."""
        return (self.along[1], -self.along[0], 0.0)

    def out(self, point: Point3) -> float:
        """How far outside the face's plane a point lies."""
        return (point[0] - self.start[0]) * self.along[1] - (point[1] - self.start[1]) * self.along[0]

    def run(self, point: Point3) -> float:
        """How far along the edge a point lies."""
        return (point[0] - self.start[0]) * self.along[0] + (point[1] - self.start[1]) * self.along[1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Drilling:
    """A pocket as it is cut: its two faces and the four curves where its surfaces meet, in drilling order."""

    pocket: Pocket
    mouth_face: Face
    exit_face: Face
    mouth: Oval
    bore_end: Oval
    pilot_start: Oval
    exit: Oval


@cache
def _turns(segments: int) -> NDArray[np.float64]:
    """Cosine and sine of equal turns, (segments, 2)."""
    turns = np.arange(segments) * (2.0 * math.pi / segments)
    return np.stack((np.cos(turns), np.sin(turns)), axis=1)


def dot(a: Point3, b: Point3) -> float:
    """Scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def drilled(part: Part) -> tuple[Pocket, ...]:
    """The pockets that lie inside the wood as drawn; volume, mesh and solid hold these."""
    return tuple(drilling.pocket for drilling in drillings(part))


def undrilled(part: Part) -> tuple[Pocket, ...]:
    """The pockets that break out of a face, leave by no face or meet another; volume, mesh and solid leave them out."""
    good, left = list(drilled(part)), list[Pocket]()
    for pocket in part.pockets:
        if pocket in good:
            good.remove(pocket)
        else:
            left.append(pocket)
    return tuple(left)


def drillings(part: Part) -> tuple[Drilling, ...]:
    """The pockets of `drilled`, each with its faces and curves; of two that meet, the first in the part's order."""
    if not part.pockets:
        return ()
    sides = faces(part.outline)
    wood = shapely.Polygon(part.outline, part.holes).buffer(CONTACT, join_style="mitre")
    found: list[Drilling] = []
    for pocket in part.pockets:
        drilling = _drilling(pocket, sides)
        if drilling is None or not _fits(drilling, part, wood) or any(_meet(drilling, other) for other in found):
            continue
        found.append(drilling)
    return tuple(found)


def faces(ring: Ring) -> list[Face]:
    """The upright faces over a counter-clockwise ring's edges, in order."""
    result: list[Face] = []
    for edge, (start, end) in enumerate(pairwise((*ring, ring[0]))):
        length = math.dist(start, end)
        result.append(Face(edge, start, ((end[0] - start[0]) / length, (end[1] - start[1]) / length), length))
    return result


def _drilling(pocket: Pocket, sides: list[Face]) -> Drilling | None:
    end = _step(pocket.mouth, pocket.direction, pocket.bore_length + pocket.pilot_length)
    mouth_face = next((face for face in sides if _enters(face, pocket.mouth, pocket.direction, -1.0)), None)
    exit_face = next((face for face in sides if _enters(face, end, pocket.direction, 1.0)), None)
    if mouth_face is None or exit_face is None or not 0.0 < pocket.pilot < pocket.bore:
        return None
    shoulder = _step(pocket.mouth, pocket.direction, pocket.bore_length)
    across = _across(pocket.direction)
    bore_end = _circle(shoulder, across, pocket.bore / 2.0)
    pilot_start = _circle(shoulder, across, pocket.pilot / 2.0)
    return Drilling(
        pocket=pocket,
        mouth_face=mouth_face,
        exit_face=exit_face,
        mouth=_slant(bore_end, pocket.direction, mouth_face),
        bore_end=bore_end,
        pilot_start=pilot_start,
        exit=_slant(pilot_start, pocket.direction, exit_face),
    )


def _enters(face: Face, point: Point3, direction: Point3, way: float) -> bool:
    on_plane = abs(face.out(point)) <= ARITHMETIC
    return on_plane and 0.0 <= face.run(point) <= face.length and way * dot(face.normal, direction) > 0.0


def _step(point: Point3, direction: Point3, by: float) -> Point3:
    return (point[0] + by * direction[0], point[1] + by * direction[1], point[2] + by * direction[2])


def _across(direction: Point3) -> tuple[Point3, Point3]:
    """Two unit vectors square to a direction and to each other, right-handed with it; the first is level."""
    x, y, z = direction
    flat = math.hypot(x, y)
    level = (-y / flat, x / flat, 0.0) if flat > ARITHMETIC else (1.0, 0.0, 0.0)
    return level, (-z * level[1], z * level[0], x * level[1] - y * level[0])


def _circle(centre: Point3, across: tuple[Point3, Point3], radius: float) -> Oval:
    (ax, ay, az), (bx, by, bz) = across
    return Oval(centre, (radius * ax, radius * ay, radius * az), (radius * bx, radius * by, radius * bz))


def _slant(circle: Oval, direction: Point3, face: Face) -> Oval:
    """Where the cylinder through a circle is cut by a face's plane."""
    normal = face.normal
    along = dot(normal, direction)
    centre = _step(circle.centre, direction, -face.out(circle.centre) / along)
    a, b = (_step(axis, direction, -dot(normal, axis) / along) for axis in (circle.a, circle.b))
    return Oval(centre, a, b)


def _fits(drilling: Drilling, part: Part, wood: shapely.Polygon) -> bool:
    """Whether every curve lies in its face or inside the wood, CONTACT from its edge at least."""
    inside = all(
        drilling.bore_end.reach(face.normal) - dot((*face.start, 0.0), face.normal) < -CONTACT
        for face in (drilling.mouth_face, drilling.exit_face)
    )
    on_faces = _in_face(drilling.mouth, drilling.mouth_face) and _in_face(drilling.exit, drilling.exit_face)
    curves = (drilling.mouth, drilling.bore_end, drilling.exit)
    if not inside or not on_faces or not all(_between(curve, part.bottom, part.top) for curve in curves):
        return False
    points = np.concatenate([curve.ring(24)[:, :2] for curve in curves])
    return bool(wood.covers(shapely.convex_hull(shapely.linestrings(points))))


def _in_face(curve: Oval, face: Face) -> bool:
    low, high = _span(curve, (*face.along, 0.0), face.run((0.0, 0.0, 0.0)))
    return low > CONTACT and high < face.length - CONTACT


def _between(curve: Oval, bottom: Plane, top: Plane) -> bool:
    low, _ = _span(curve, (-bottom.sx, -bottom.sy, 1.0), -bottom.z0)
    _, high = _span(curve, (-top.sx, -top.sy, 1.0), -top.z0)
    return low > CONTACT and high < -CONTACT


def _span(curve: Oval, direction: Point3, shift: float) -> tuple[float, float]:
    middle = dot(curve.centre, direction) + shift
    half = math.hypot(dot(curve.a, direction), dot(curve.b, direction))
    return middle - half, middle + half


def _meet(one: Drilling, other: Drilling) -> bool:
    """Whether two pockets come within CONTACT of each other, taking each end of a hole as a ball: on the safe side."""
    if one.mouth_face.edge == other.mouth_face.edge and _mouths_overlap(one, other):
        return True
    return any(_distance(a, b) < ra + rb + CONTACT for a, ra in _axes(one) for b, rb in _axes(other))


def _mouths_overlap(one: Drilling, other: Drilling) -> bool:
    for direction in ((*one.mouth_face.along, 0.0), (0.0, 0.0, 1.0)):
        low, high = _span(one.mouth, direction, 0.0)
        other_low, other_high = _span(other.mouth, direction, 0.0)
        if high + CONTACT < other_low or other_high + CONTACT < low:
            return False
    return True


def _axes(drilling: Drilling) -> tuple[tuple[tuple[Point3, Point3], float], ...]:
    shoulder, pocket = drilling.bore_end.centre, drilling.pocket
    bore = (drilling.mouth.centre, shoulder), pocket.bore / 2.0
    return bore, ((shoulder, drilling.exit.centre), pocket.pilot / 2.0)


def _distance(one: tuple[Point3, Point3], other: tuple[Point3, Point3]) -> float:
    """Least distance between two segments.

    Source: the usual clamped solution for two segments, from memory.
    """
    (p, p_end), (q, q_end) = one, other
    d, e = _minus(p_end, p), _minus(q_end, q)
    r = _minus(p, q)
    dd, ee, de, dr, er = dot(d, d), dot(e, e), dot(d, e), dot(d, r), dot(e, r)
    cross = dd * ee - de * de
    s = _clamp((de * er - dr * ee) / cross) if cross > ARITHMETIC**2 * dd * ee else 0.0
    t = _clamp((de * s + er) / ee)
    s = _clamp((de * t - dr) / dd)
    return math.dist(_step(p, d, s), _step(q, e, t))


def _minus(a: Point3, b: Point3) -> Point3:
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def _clamp(value: float) -> float:
    return min(1.0, max(0.0, value))
