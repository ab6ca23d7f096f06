"""Cutting rings: strips out of a region, half planes off a convex ring, rings set in by a distance."""

import math
from collections.abc import Iterable

import shapely
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from lacunar.geometry import Line, Point, Ring, counter_clockwise, tidy
from lacunar.tolerances import ARITHMETIC, OVERLAY_GRID, POLYGON_AREA


def pieces_of(geometry: BaseGeometry) -> tuple[Polygon, ...]:
    """The polygons in a geometry that are more than rounding noise."""
    found = shapely.get_parts(geometry)
    return tuple(g for g in found if isinstance(g, Polygon) and g.area > POLYGON_AREA)


def common(one: BaseGeometry, other: BaseGeometry) -> BaseGeometry:
    """What two areas share, on the overlay grid; touching lines and points are left out."""
    return _areas(shapely.intersection(one, other, grid_size=OVERLAY_GRID))


def rest(whole: BaseGeometry, taken: Iterable[BaseGeometry]) -> BaseGeometry:
    """An area less others, on the overlay grid; what is left as a line or point only is left out."""
    together = shapely.union_all(list(taken), grid_size=OVERLAY_GRID)
    return _areas(shapely.difference(whole, together, grid_size=OVERLAY_GRID))


def _areas(geometry: BaseGeometry) -> BaseGeometry:
    """The areas of an overlay: one that comes out mixed with lines is refused by the next overlay."""
    return MultiPolygon(pieces_of(geometry))


def ring_of(polygon: Polygon) -> Ring:
    """The outer ring, counter-clockwise, without points that shape nothing."""
    points: Ring = tuple((float(x), float(y)) for x, y in polygon.exterior.coords[:-1])
    return counter_clockwise(tidy(points, ARITHMETIC))


def holes_of(polygon: Polygon) -> tuple[Ring, ...]:
    """The inner rings, counter-clockwise."""
    return tuple(
        counter_clockwise(tidy(tuple((float(x), float(y)) for x, y in hole.coords[:-1]), ARITHMETIC))
        for hole in polygon.interiors
    )


def strip(axis: Line, left: float, right: float, span: tuple[float, float]) -> Polygon:
    """A straight strip along a line, from `right` (negative) to `left` across, over a span along it."""
    low, high = span
    return Polygon([axis.at(low, right), axis.at(high, right), axis.at(high, left), axis.at(low, left)])


def endless(ring: Ring) -> tuple[float, float]:
    """A span along any line through a ring that leaves the ring at both ends."""
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    reach = 2.0 * math.hypot(max(xs) - min(xs), max(ys) - min(ys)) + 1.0
    return -reach, reach


def shift(ring: Ring, by: Point) -> Ring:
    """The ring, moved."""
    return tuple((x + by[0], y + by[1]) for x, y in ring)


def inset(ring: Ring, distance: float) -> Ring:
    """A counter-clockwise ring with every side moved in by the distance; sides keep their places in the order.

    Unlike a general buffer it never drops or adds a side, so the result's sides answer to the ring's.
    """
    return inset_each(ring, [distance] * len(ring))


def inset_each(ring: Ring, distances: Iterable[float]) -> Ring:
    """`inset` with a distance of its own for each side; side i runs from point i to the next."""
    n = len(ring)
    lines = [
        Line.through(ring[i], ring[(i + 1) % n]).shifted(distance)
        for i, distance in zip(range(n), distances, strict=True)
    ]
    return tuple(lines[i - 1].crossing(lines[i]) for i in range(n))


def clip(ring: Ring, line: Line) -> Ring:
    """What of a convex ring lies to the left of a line; empty where nothing does.

    Points on the line count as inside, so a ring that only touches comes back without area.
    """
    kept: list[Point] = []
    offsets = [line.offset(p) for p in ring]
    for i, point in enumerate(ring):
        previous, before, here = ring[i - 1], offsets[i - 1], offsets[i]
        if (before < 0.0 < here) or (here < 0.0 < before):
            t = before / (before - here)
            kept.append((previous[0] + t * (point[0] - previous[0]), previous[1] + t * (point[1] - previous[1])))
        if here >= 0.0:
            kept.append(point)
    return tuple(kept)


def is_convex(ring: Ring) -> bool:
    """A counter-clockwise ring that never turns right."""
    n = len(ring)
    return all(Line.through(ring[i - 1], ring[i]).offset(ring[(i + 1) % n]) >= -ARITHMETIC for i in range(n))
