"""Pockets as round holes in their part: how much wood is left round them, in closed form.

A pocket is a bore from the mouth to the shoulder and a pilot on to the end grain. The wood left towards a plane is
least at the rim of one of the discs that end a hole, so every distance is that of a disc, or of the ellipse in
which the bore leaves the side face.
"""

import math
from itertools import product

from lacunar.geometry import Line, Plane, Point3
from lacunar.parts import Part, Pocket

Segment = tuple[Point3, Point3, float]
"""A round hole: start and end of its axis, radius."""


def step(point: Point3, direction: Point3, by: float) -> Point3:
    """The point so far along a direction."""
    return (point[0] + by * direction[0], point[1] + by * direction[1], point[2] + by * direction[2])


def shoulder(pocket: Pocket) -> Point3:
    """Centre of the disc where the bore ends."""
    return step(pocket.mouth, pocket.direction, pocket.bore_length)


def way_out(pocket: Pocket) -> Point3:
    """Where the screw leaves the end grain."""
    return step(pocket.mouth, pocket.direction, pocket.bore_length + pocket.pilot_length)


def disc_reach(pocket: Pocket, normal: Point3, radius: float) -> float:
    """How far a disc square to the pocket's axis reaches along a unit normal from its centre."""
    along = _dot(pocket.direction, normal)
    return radius * math.sqrt(max(0.0, 1.0 - along * along))


def oval_reach(pocket: Pocket, diameter: float, face: Point3, normal: Point3) -> float:
    """How far the oval in which a hole leaves a face reaches along a unit normal from its centre.

    Args:
        pocket: gives the hole's axis.
        diameter: of the hole.
        face: unit normal of the face.
        normal: direction to look along.
    """
    dx, dy, dz = pocket.direction
    flat = math.hypot(dx, dy)
    level = (-dy / flat, dx / flat, 0.0)
    upright = (-dz * level[1], dz * level[0], dx * level[1] - dy * level[0])
    into = _dot(pocket.direction, face)
    # Each point of the disc slides along the axis until it lies in the face.
    slid = [step(axis, pocket.direction, -_dot(axis, face) / into) for axis in (level, upright)]
    return diameter / 2.0 * math.hypot(_dot(slid[0], normal), _dot(slid[1], normal))


def wood_round(part: Part, pocket: Pocket) -> dict[str, float]:
    """Wood left towards each face of the part that a pocket is not meant to open, mm; negative where it breaks out."""
    own, opposite, end = _faces(part, pocket)
    low, high = _corners(part, pocket.side)
    return {
        "the top": _towards_plane(part, pocket, part.top, 1.0),
        "the bottom": _towards_plane(part, pocket, part.bottom, -1.0),
        "the opposite side": _behind(pocket, opposite),
        "its own side": _disc_depth(pocket, own, shoulder(pocket), pocket.bore),
        "the end grain": _disc_depth(pocket, end, shoulder(pocket), pocket.bore),
        "the corner beside its mouth": _mouth_margin(part, pocket, low, high),
        "the edge of the end grain": _exit_margin(part, pocket),
    }


def wood_between(one: Pocket, other: Pocket) -> float:
    """Wood left between two pockets of a part, mm; negative where they meet."""
    return min(segment_distance(a, b) - a[2] - b[2] for a, b in product(_segments(one), _segments(other)))


def _segments(pocket: Pocket) -> tuple[Segment, Segment]:
    middle = shoulder(pocket)
    return (pocket.mouth, middle, pocket.bore / 2.0), (middle, way_out(pocket), pocket.pilot / 2.0)


def _faces(part: Part, pocket: Pocket) -> tuple[Line, Line, Line]:
    """Own side, opposite side and end of a pocket as lines with the wood to their left."""
    axis = Line.through(*part.axis)
    left, right = max(axis.offset(p) for p in part.outline), min(axis.offset(p) for p in part.outline)
    # Run backwards, a line on the left of the axis has the wood on its own left.
    sides = {"left": axis.shifted(left).reversed(), "right": axis.shifted(right)}
    other = "right" if pocket.side == "left" else "left"
    return sides[pocket.side], sides[other], _end_face(part, pocket.end)


def _end_face(part: Part, end: int) -> Line:
    """The end cut: the edge of the outline that the axis ends on, with the wood to its left."""
    x, y = part.axis[end]
    edges = list(zip(part.outline, part.outline[1:] + part.outline[:1], strict=True))
    axis = Line.through(*part.axis).direction

    def miss(edge: tuple[tuple[float, float], tuple[float, float]]) -> float:
        line = Line.through(*edge)
        slack = 1e9 if abs(line.direction[0] * axis[1] - line.direction[1] * axis[0]) < 0.2 else 0.0
        return abs(line.offset((x, y))) + slack

    return Line.through(*min(edges, key=miss))


def _corners(part: Part, side: str) -> tuple[float, float]:
    axis = Line.through(*part.axis)
    edge = (max if side == "left" else min)(axis.offset(p) for p in part.outline)
    along = [axis.along(p) for p in part.outline if abs(axis.offset(p) - edge) < 1e-3]
    return min(along), max(along)


def _towards_plane(part: Part, pocket: Pocket, plane: Plane, up: float) -> float:
    normal = _normal(plane)
    side, end = (*pocket.normal, 0.0), (*_end_face(part, pocket.end).left, 0.0)
    reaches = (
        (pocket.mouth, oval_reach(pocket, pocket.bore, side, normal)),
        (shoulder(pocket), disc_reach(pocket, normal, pocket.bore / 2.0)),
        (way_out(pocket), oval_reach(pocket, pocket.pilot, end, normal)),
    )
    return min(up * (plane.at((p[0], p[1])) - p[2]) / plane.plumb - reach for p, reach in reaches)


def _normal(plane: Plane) -> Point3:
    return (-plane.sx / plane.plumb, -plane.sy / plane.plumb, 1.0 / plane.plumb)


def _disc_depth(pocket: Pocket, face: Line, centre: Point3, diameter: float) -> float:
    """How deep behind a face the nearest point of a disc lies."""
    normal = (*face.left, 0.0)
    return face.offset((centre[0], centre[1])) - disc_reach(pocket, normal, diameter / 2.0)


def _behind(pocket: Pocket, face: Line) -> float:
    return min(
        _disc_depth(pocket, face, shoulder(pocket), pocket.bore),
        _disc_depth(pocket, face, way_out(pocket), pocket.pilot),
    )


def mouth_half(pocket: Pocket) -> tuple[float, float]:
    """Half the mouth's ellipse along the side face, and half its height."""
    face = (*pocket.normal, 0.0)
    along = (-pocket.normal[1], pocket.normal[0], 0.0)
    return oval_reach(pocket, pocket.bore, face, along), oval_reach(pocket, pocket.bore, face, (0.0, 0.0, 1.0))


def _mouth_margin(part: Part, pocket: Pocket, low: float, high: float) -> float:
    """From the mouth's ellipse to the nearer corner of its side face, along the side."""
    at = Line.through(*part.axis).along((pocket.mouth[0], pocket.mouth[1]))
    half = mouth_half(pocket)[0]
    return min(at - half - low, high - at - half)


def _exit_margin(part: Part, pocket: Pocket) -> float:
    """From the pilot's ellipse on the end grain to the nearer side of it, along the end cut."""
    end = _end_face(part, pocket.end)
    point = way_out(pocket)
    half = oval_reach(pocket, pocket.pilot, (*end.left, 0.0), (*end.direction, 0.0))
    on = [end.along(p) for p in part.outline if abs(end.offset(p)) < 1e-3]
    at = end.along((point[0], point[1]))
    return min(at - half - min(on), max(on) - at - half)


def segment_distance(one: Segment, other: Segment) -> float:
    """Least distance between two straight axes, radii left aside.

    Source: minimum of a quadratic over the unit square, by its corners, sides and inside; from memory.
    """
    p, q = one[0], other[0]
    d, e, r = _minus(one[1], p), _minus(other[1], q), _minus(p, q)
    a, b, c, f, g = _dot(d, d), _dot(d, e), _dot(e, e), _dot(d, r), _dot(e, r)
    ways = [(s, _held((b * s + g) / c)) for s in (0.0, 1.0)] + [(_held((b * t - f) / a), t) for t in (0.0, 1.0)]
    cross = a * c - b * b
    if cross > 1e-12 * a * c:
        s, t = (b * g - c * f) / cross, (a * g - b * f) / cross
        if 0.0 <= s <= 1.0 and 0.0 <= t <= 1.0:
            ways.append((s, t))
    return min(math.dist(step(p, d, s), step(q, e, t)) for s, t in ways)


def _held(value: float) -> float:
    return min(1.0, max(0.0, value))


def _minus(a: Point3, b: Point3) -> Point3:
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def _dot(a: Point3, b: Point3) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
