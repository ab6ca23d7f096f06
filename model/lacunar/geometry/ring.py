"""Closed rings of plan points, first point not repeated."""

import math

Point = tuple[float, float]
Point3 = tuple[float, float, float]
Ring = tuple[Point, ...]


def signed_area(ring: Ring) -> float:
    """Area in mm2, positive where the ring runs counter-clockwise."""
    # Coordinates of 25 m lose 1e-11 relative in the shoelace: measure from the first point.
    x0, y0 = ring[0]
    total = 0.0
    for (xa, ya), (xb, yb) in zip(ring, ring[1:] + ring[:1], strict=True):
        total += (xa - x0) * (yb - y0) - (xb - x0) * (ya - y0)
    return total / 2.0


def area(ring: Ring) -> float:
    """Area in mm2."""
    return abs(signed_area(ring))


def centroid(ring: Ring) -> Point:
    """Centre of area."""
    x0, y0 = ring[0]
    total = cx = cy = 0.0
    for (xa, ya), (xb, yb) in zip(ring, ring[1:] + ring[:1], strict=True):
        cross = (xa - x0) * (yb - y0) - (xb - x0) * (ya - y0)
        total += cross
        cx += cross * (xa + xb - 2.0 * x0)
        cy += cross * (ya + yb - 2.0 * y0)
    return (x0 + cx / (3.0 * total), y0 + cy / (3.0 * total))


def counter_clockwise(ring: Ring) -> Ring:
    """The ring, reversed if it runs clockwise; the first point stays the first."""
    if signed_area(ring) >= 0.0:
        return ring
    return ring[:1] + ring[:0:-1]


def tidy(ring: Ring, tolerance: float) -> Ring:
    """Drop points that repeat or lie on the straight line between their neighbours.

    Args:
        ring: any simple ring.
        tolerance: mm; a point nearer than this to its neighbours' line goes.

    Returns:
        The ring with the points that shape it, in the same order.
    """
    points = list(ring)
    kept: list[Point] = []
    for point in points:
        if not kept or math.dist(kept[-1], point) > tolerance:
            kept.append(point)
    while len(kept) > 1 and math.dist(kept[0], kept[-1]) <= tolerance:
        kept.pop()
    changed = True
    while changed and len(kept) > 3:
        changed = False
        for i in range(len(kept)):
            a, b, c = kept[i - 1], kept[i], kept[(i + 1) % len(kept)]
            base = math.dist(a, c)
            double = abs((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]))
            if base <= tolerance or double <= tolerance * base:
                del kept[i]
                changed = True
                break
    return tuple(kept)
