"""Which parts overlap and how deep: separating axes in the plan, planes in height.

Parts are upright prisms, so two of them overlap where their outlines overlap in the plan and, over that region,
each one's top stands above the other's bottom. Convex outlines are compared by separating axes, exact for convex
shapes; others through what they have in common.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from lacunar.analysis.shapes import (
    Floats,
    Indices,
    common,
    hull_ring,
    narrowest,
    near_pairs,
    polygons_in,
    shared,
)
from lacunar.geometry import Plane, Point
from lacunar.parts import Part
from lacunar.tolerances import ARITHMETIC

MOST_CORNERS = 8
"""Convex outlines of up to so many corners are compared together; others go through their common region."""


SLACK = 10.0 * ARITHMETIC
"""Added to a way out before looking again, so that its own rounding is no overlap."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Overlap:
    """Two parts by their ids, and the shortest way out, mm; of neighbours that do not overlap what separates them."""

    first: str
    second: str
    depth: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Way:
    """A direction to move one shape in, and between which distances it comes clear of the other."""

    direction: Point
    least: float
    most: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Overlaps:
    """What a search found.

    Attributes:
        found: deeper than the tolerance, in the order of the parts.
        closest: the pair of neighbours at one height that comes nearest to overlapping, where there is one.
    """

    found: tuple[Overlap, ...]
    closest: Overlap | None


def find_overlaps(parts: Sequence[Part], polygons: Sequence[Polygon], tolerance: float) -> Overlaps:
    """Every pair of parts that overlaps by more than `tolerance`, mm; contact is no overlap."""
    first, second = _near_in_height(parts, polygons, *near_pairs(polygons), tolerance)
    plan = _plan_depths(parts, polygons, first, second)
    deep = np.flatnonzero(plan > tolerance)
    found: list[Overlap] = []
    for k in deep:
        i, j = int(first[k]), int(second[k])
        regions = shared(polygons[i], polygons[j])
        ways = (_region_depth(parts[i], parts[j], region, float(plan[k]), tolerance) for region in regions)
        depth = max(ways, default=0.0)
        if depth > tolerance:
            found.append(Overlap(first=parts[i].id, second=parts[j].id, depth=depth))
    return Overlaps(found=tuple(found), closest=_closest(parts, first, second, plan, tolerance))


def plan_depth(one: Polygon, other: BaseGeometry) -> float:
    """The shortest way out of two plan shapes of any outline, square to one of the edges where they overlap.

    Along each such way one shape has to move by the longest chord of their common region at least, and by the region's
    whole reach at most; between the two the distance that clears it is found by halving. Where no way clears it, as in
    a hole that it more than fills, the narrowest width of the region is taken.
    """
    regions = shared(one, other)
    if _is_noise(regions):
        return 0.0
    best = float("inf")
    for way in sorted(_ways_out(regions), key=lambda way: (way.least, way.most)):
        if way.least < best:
            best = min(best, _clearing(one, other, way))
    return best if best < float("inf") else max(narrowest(region) for region in regions)


def _clearing(one: Polygon, other: BaseGeometry, way: _Way) -> float:
    """How far along a way the other shape moves until it is clear; infinite where it never is."""

    def clears(by: float) -> bool:
        x, y = (by + SLACK) * way.direction[0], (by + SLACK) * way.direction[1]
        return _is_noise(shared(one, translate(other, x, y)))

    if clears(way.least):
        return way.least
    if not clears(way.most):
        return float("inf")
    low, high = way.least, way.most
    while high - low > ARITHMETIC:
        middle = (low + high) / 2.0
        low, high = (low, middle) if clears(middle) else (middle, high)
    return high


def _is_noise(regions: Sequence[Polygon]) -> bool:
    """Rounding leaves slivers where shapes touch: long, and far thinner than anything that is meant."""
    return sum(region.area for region in regions) <= ARITHMETIC * sum(region.length for region in regions)


def _ways_out(regions: Sequence[Polygon]) -> Iterator[_Way]:
    """Both ways square to each edge of each region's hull."""
    for region in regions:
        ring = hull_ring(region)
        for (x0, y0), (x1, y1) in zip(ring, np.roll(ring, -1, axis=0), strict=True):
            length = float(np.hypot(x1 - x0, y1 - y0))
            if length <= ARITHMETIC:
                continue
            nx, ny = float(y1 - y0) / length, float(x0 - x1) / length
            least = _longest_chord(region, np.array((nx, ny)))
            most = float((nx * (x0 - ring[:, 0]) + ny * (y0 - ring[:, 1])).max())
            yield _Way(direction=(nx, ny), least=least, most=most)
            yield _Way(direction=(-nx, -ny), least=least, most=most)


def _longest_chord(region: Polygon, way: Floats) -> float:
    """A chord's length changes evenly between two corners, so the longest lies beside one of them."""
    points = shapely.get_coordinates(region)
    across = np.array((-way[1], way[0]))
    offsets = np.unique(points @ across)
    steps = np.diff(offsets)
    beside = np.concatenate((offsets[:-1] + 1e-9 * steps, offsets[1:] - 1e-9 * steps))
    along = points @ way
    ends = np.array((along.min() - 1.0, along.max() + 1.0))
    lines = beside[:, None, None] * across + ends[None, :, None] * way
    chords = shapely.intersection(shapely.linestrings(lines), region)
    return max((float(chord.length) for chord in shapely.get_parts(chords)), default=0.0)


def _closest(parts: Sequence[Part], first: Indices, second: Indices, plan: Floats, tolerance: float) -> Overlap | None:
    shallow = np.where(plan > tolerance, -np.inf, plan)
    if len(shallow) == 0 or not np.isfinite(shallow.max()):
        return None
    k = int(shallow.argmax())
    return Overlap(first=parts[int(first[k])].id, second=parts[int(second[k])].id, depth=float(shallow[k]))


def _near_in_height(
    parts: Sequence[Part], polygons: Sequence[Polygon], first: Indices, second: Indices, tolerance: float
) -> tuple[Indices, Indices]:
    """The pairs that could overlap in height somewhere over the common part of their bounding boxes."""
    if len(first) == 0:
        return first, second
    bottom, top = _planes([part.bottom for part in parts]), _planes([part.top for part in parts])
    boxes = np.array([polygon.bounds for polygon in polygons])
    low = np.maximum(boxes[first, :2], boxes[second, :2])
    high = np.minimum(boxes[first, 2:], boxes[second, 2:])
    up = _most(top[first] - bottom[second], low, high)
    down = _most(top[second] - bottom[first], low, high)
    keep = (up > tolerance) & (down > tolerance)
    return first[keep], second[keep]


def _planes(planes: Sequence[Plane]) -> Floats:
    return np.array([(plane.z0, plane.sx, plane.sy) for plane in planes], np.float64)


def _most(planes: Floats, low: Floats, high: Floats) -> Floats:
    """Greatest value of planes over upright boxes of the plan."""
    across = np.maximum(planes[:, 1] * low[:, 0], planes[:, 1] * high[:, 0])
    down = np.maximum(planes[:, 2] * low[:, 1], planes[:, 2] * high[:, 1])
    return planes[:, 0] + across + down


def _plan_depths(parts: Sequence[Part], polygons: Sequence[Polygon], first: Indices, second: Indices) -> Floats:
    """Depth in the plan of each pair; negative by what separates them where both are convex."""
    if len(first) == 0:
        return np.empty(0)
    used = {int(index) for index in (*first, *second)}
    simple = np.zeros(len(parts), bool)
    rings = np.zeros((len(parts), MOST_CORNERS, 2))
    for index in used:
        ring = _convex_ring(parts[index])
        if ring is not None:
            simple[index] = True
            rings[index] = ring
    both = simple[first] & simple[second]
    depths = np.empty(len(first))
    # The shortest way out of two convex rings is the largest separation along a normal of either, negated.
    a, b = rings[first[both]], rings[second[both]]
    depths[both] = -np.maximum(_one_way(a, b), _one_way(b, a))
    for k in np.flatnonzero(~both):
        depths[k] = plan_depth(polygons[int(first[k])], polygons[int(second[k])])
    return depths


def _convex_ring(part: Part) -> Sequence[Point] | None:
    """The outline with its last corner repeated up to MOST_CORNERS, where it is convex and has no more."""
    ring = part.outline
    if part.holes or len(ring) > MOST_CORNERS:
        return None
    for (ax, ay), (bx, by), (cx, cy) in zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1], strict=True):
        turn = (bx - ax) * (cy - by) - (by - ay) * (cx - bx)
        if turn < -ARITHMETIC * (abs(cx - ax) + abs(cy - ay)):
            return None
    return (*ring, *ring[-1:] * (MOST_CORNERS - len(ring)))


def _one_way(a: Floats, b: Floats) -> Floats:
    """Largest signed separation of convex rings (n, k, 2) along the normals of the first."""
    edges = np.roll(a, -1, axis=1) - a
    lengths = np.hypot(edges[..., 0], edges[..., 1])
    real = lengths > ARITHMETIC
    scale = np.where(real, lengths, 1.0)
    # Outward of a ring that runs counter-clockwise is to the right of its edges.
    nx, ny = edges[..., 1] / scale, -edges[..., 0] / scale
    reach = a[..., 0] * nx + a[..., 1] * ny
    over = b[:, None, :, 0] * nx[..., None] + b[:, None, :, 1] * ny[..., None]
    gap = over.min(axis=2) - reach
    return np.where(real, gap, -np.inf).max(axis=1)


def _region_depth(one: Part, other: Part, region: Polygon, plan: float, tolerance: float) -> float:
    up, down = _difference(one.top, other.bottom), _difference(other.top, one.bottom)
    points = shapely.get_coordinates(region)
    over, under = _at(up, points), _at(down, points)
    if min(over.max(), under.max()) <= tolerance:
        return 0.0
    if min(over.min(), under.min()) > tolerance:
        return min(plan, float(over.max()), float(under.max()))
    return _crossing_depth(region, up, down, plan, tolerance)


def _crossing_depth(region: Polygon, up: Plane, down: Plane, plan: float, tolerance: float) -> float:
    """Where faces cross over the region, only what lies beyond both crossings overlaps."""
    left = common(_above(region, up, tolerance), _above(region, down, tolerance))
    best = 0.0
    for piece in polygons_in(left):
        points = shapely.get_coordinates(piece)
        heights = float(_at(up, points).max()), float(_at(down, points).max())
        best = max(best, min(plan, narrowest(piece), *heights))
    return best


def _difference(upper: Plane, lower: Plane) -> Plane:
    return Plane(z0=upper.z0 - lower.z0, sx=upper.sx - lower.sx, sy=upper.sy - lower.sy)


def _at(plane: Plane, points: Floats) -> Floats:
    return plane.z0 + plane.sx * points[:, 0] + plane.sy * points[:, 1]


def _above(region: Polygon, plane: Plane, limit: float) -> BaseGeometry:
    """The part of a region over which a plane stands above a limit."""
    slope = float(np.hypot(plane.sx, plane.sy))
    points = shapely.get_coordinates(region)
    if slope == 0.0:
        return region if plane.z0 > limit else Polygon()
    up = np.array((plane.sx, plane.sy)) / slope
    across = np.array((-up[1], up[0]))
    reach = 2.0 * float(np.ptp(points, axis=0).sum()) + 1.0
    centre = points.mean(axis=0)
    to_foot = (limit - float(_at(plane, centre[None, :])[0])) / slope
    # A nearly level plane meets its limit far away: further than the region reaches makes no difference.
    foot = centre + up * min(max(to_foot, -reach), reach)
    half = Polygon(
        [
            foot - reach * across,
            foot - reach * across + 4.0 * reach * up,
            foot + reach * across + 4.0 * reach * up,
            foot + reach * across,
        ]
    )
    return common(region, half)
