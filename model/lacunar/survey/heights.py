"""Ceiling heights: corners, the middle, and the plane that fits them best."""

import math
from collections.abc import Mapping, Sequence

import numpy as np

from lacunar.geometry import Line, Plane, Point, Point3, Ring, centroid, counter_clockwise

SEES = 1.0
"""mm. How far inside the line of every wall a middle must lie to see all corners."""


def corner_heights(corners: Sequence[str], heights: Mapping[str, float], height: float | None) -> tuple[float, ...]:
    """Height at each corner: as measured there, else the one height of the room, else the mean of what was measured."""
    given = [heights[c] for c in corners if c in heights]
    rest = height if height is not None else math.fsum(given) / len(given)
    return tuple(heights.get(c, rest) for c in corners)


def middle(ring: Ring) -> Point:
    """Where the ceiling's triangles meet: the centre of area, where it sees every corner.

    Where it does not (an L-shaped room), the centre of the part of the room that does; where there is no such part,
    the centre of area all the same.
    """
    ring = counter_clockwise(ring)
    centre = centroid(ring)
    lines = [Line.through(a, b) for a, b in zip(ring, ring[1:] + ring[:1], strict=True)]
    if all(line.offset(centre) > SEES for line in lines):
        return centre
    kernel = ring
    for line in lines:
        kernel = _left_of(kernel, line)
        if len(kernel) < 3:
            return centre
    return centroid(kernel) if all(line.offset(centroid(kernel)) > SEES for line in lines) else centre


def _left_of(ring: Ring, line: Line) -> Ring:
    """What of a ring lies to the left of a line."""
    kept: list[Point] = []
    for a, b in zip(ring, ring[1:] + ring[:1], strict=True):
        u, v = line.offset(a), line.offset(b)
        if u >= 0.0:
            kept.append(a)
        if (u < 0.0 < v) or (v < 0.0 < u):
            t = u / (u - v)
            kept.append((a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])))
    return tuple(kept)


def with_marks(corners: Mapping[str, Point3], marks: Mapping[str, tuple[str, Point3]]) -> Mapping[str, Point3]:
    """The rim of the ceiling: corners in order, each followed by the marks of the wall that begins there.

    Args:
        corners: by name, in order.
        marks: by name: the wall that each lies on, as the corners run, and its place.
    """
    names = tuple(corners)
    rim: dict[str, Point3] = {}
    for corner, following in zip(names, names[1:] + names[:1], strict=True):
        here = corners[corner]
        rim[corner] = here
        mine = {name: at for name, (wall, at) in marks.items() if wall == corner + following}
        rim |= {name: mine[name] for name in sorted(mine, key=lambda name: math.dist(mine[name][:2], here[:2]))}
    return rim


def best_plane(points: Sequence[Point3]) -> Plane:
    """The plane with the least squares of height differences; exactly level where all heights are equal."""
    heights = [z for _, _, z in points]
    if max(heights) == min(heights):
        return Plane(z0=heights[0])
    n = len(points)
    cx, cy, cz = (math.fsum(point[k] for point in points) / n for k in range(3))
    flat = np.array([(x - cx, y - cy) for x, y, _ in points])
    rise = np.array([z - cz for z in heights])
    sx, sy = (float(slope) for slope in np.linalg.lstsq(flat, rise, rcond=None)[0])
    return Plane(z0=cz - sx * cx - sy * cy, sx=sx, sy=sy)
