"""Polygons of the plan for the checks: pairs that come near, widths, distances, edges of hulls."""

from collections.abc import Sequence
from typing import cast

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.strtree import STRtree

from lacunar.geometry import Point, Ring
from lacunar.tolerances import ARITHMETIC

GRID = ARITHMETIC
"""Overlays are cut on this grid: without it outlines that nearly coincide can lose whole polygons without a word."""

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]


def polygons_of(outlines: Sequence[Ring], holes: Sequence[Sequence[Ring]]) -> tuple[Polygon, ...]:
    """Many at once; `holes` has one entry for each outline."""
    if not outlines:
        return ()
    points = np.array([point for ring in outlines for point in ring])
    owner = np.repeat(np.arange(len(outlines)), [len(ring) for ring in outlines])
    found = list(cast("Sequence[Polygon]", shapely.polygons(shapely.linearrings(points, indices=owner))))
    for i, inner in enumerate(holes):
        if inner:
            found[i] = Polygon(outlines[i], inner)
    return tuple(found)


def near_pairs(polygons: Sequence[BaseGeometry]) -> tuple[Indices, Indices]:
    """Pairs of different polygons whose bounding boxes meet, lower index first, in order."""
    if not polygons:
        return np.empty(0, np.int64), np.empty(0, np.int64)
    first, second = STRtree(polygons).query(list(polygons))
    apart = first < second
    first, second = np.asarray(first[apart], np.int64), np.asarray(second[apart], np.int64)
    order = np.lexsort((second, first))
    return first[order], second[order]


def distances(first: Sequence[BaseGeometry], second: Sequence[BaseGeometry]) -> Floats:
    """Least distance of each pair, 0 where they meet."""
    if not first:
        return np.empty(0)
    found = shapely.distance(np.array(first, dtype=object), np.array(second, dtype=object))  # pyright: ignore[reportUnknownMemberType]
    return np.asarray(found, np.float64)


def common(first: BaseGeometry, second: BaseGeometry) -> BaseGeometry:
    """What two shapes have in common, contact included."""
    return shapely.intersection(first, second, grid_size=GRID)


def shared(first: BaseGeometry, second: BaseGeometry) -> tuple[Polygon, ...]:
    """The polygons of what two shapes have in common; contact alone gives none or slivers."""
    return polygons_in(common(first, second))


def polygons_in(geometry: BaseGeometry) -> tuple[Polygon, ...]:
    """The polygons of any geometry."""
    return tuple(part for part in shapely.get_parts(geometry) if isinstance(part, Polygon) and not part.is_empty)


def without(whole: BaseGeometry, taken: Sequence[BaseGeometry]) -> BaseGeometry:
    """A shape less others."""
    if not taken:
        return whole
    all_taken = taken[0] if len(taken) == 1 else shapely.union_all(list(taken), grid_size=GRID)
    return shapely.difference(whole, all_taken, grid_size=GRID)


def opened(shape: BaseGeometry, width: float) -> BaseGeometry:
    """A shape without the slivers that are narrower than twice `width`; straight sides and corners stay where they are.

    Two strips that touch leave a crack of rounding noise between them, which would reach as far as they do.
    """
    core = shapely.buffer(shape, -width, join_style="mitre")
    return shapely.buffer(core, width, join_style="mitre")


def narrowest(shape: BaseGeometry) -> float:
    """Least width of a shape's convex hull: between the nearest pair of parallels that hold it."""
    ring = hull_ring(shape)
    if len(ring) < 3:
        return 0.0
    along = np.roll(ring, -1, axis=0) - ring
    normals = np.column_stack((-along[:, 1], along[:, 0])) / np.hypot(along[:, 0], along[:, 1])[:, None]
    heights = np.einsum("ej,vj->ev", normals, ring) - np.einsum("ej,ej->e", normals, ring)[:, None]
    return float(heights.max(axis=1).min())


def hull_ring(shape: BaseGeometry) -> Floats:
    """Corners of the convex hull, counter-clockwise, (n, 2); empty where it has no area."""
    hull = shapely.convex_hull(shape)
    if not isinstance(hull, Polygon) or hull.is_empty:
        return np.empty((0, 2))
    return shapely.get_coordinates(shapely.orient_polygons(hull))[:-1]


def first_hit(point: Point, direction: Point, edges: Floats) -> float:
    """How far a ray goes before it meets an edge; infinite where it meets none.

    Args:
        point: start.
        direction: unit vector.
        edges: (n, 2, 2) start and end of each edge.
    """
    d = np.array(direction)
    start = edges[:, 0, :] - np.array(point)
    along = edges[:, 1, :] - edges[:, 0, :]
    cross = d[0] * along[:, 1] - d[1] * along[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        t = (start[:, 0] * along[:, 1] - start[:, 1] * along[:, 0]) / cross
        u = (start[:, 0] * d[1] - start[:, 1] * d[0]) / cross
    # A ray through the point where two edges meet must hit one of them, so each edge is taken a hair longer.
    hit = (np.abs(cross) > 1e-12) & (u >= -1e-9) & (u <= 1.0 + 1e-9) & (t >= -1e-9)
    return float(t[hit].min()) if hit.any() else float("inf")


def ring_edges(rings: Sequence[Ring]) -> Floats:
    """Start and end of every edge of many rings, (n, 2, 2)."""
    found = [(a, b) for ring in rings for a, b in zip(ring, ring[1:] + ring[:1], strict=True)]
    return np.array(found, np.float64).reshape(-1, 2, 2)
