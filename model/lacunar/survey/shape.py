"""Is this ring a room? Simple, clockwise, and with its tape lines inside."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
from shapely import LinearRing

from lacunar.geometry import Line, Point, Ring, signed_area

Array = npt.NDArray[np.float64]

LINE_OF_SIGHT = 30.0
"""mm. How far a tape's line may pass outside a wall and still count as inside: past a moulding or a bowed wall.
Source: common practice, no source."""

STEPS = 16
"""Parts of a tape's line that are looked at."""


def is_simple(ring: Ring) -> bool:
    """No two sides of the ring cross or touch but neighbours at their common corner."""
    return LinearRing(ring).is_simple


def are_inside(ring: Ring, starts: Sequence[Point], ends: Sequence[Point]) -> tuple[bool, ...]:
    """Which straight lines stay inside the ring, or within `LINE_OF_SIGHT` of it."""
    if not starts:
        return ()
    steps = np.linspace(0.0, 1.0, STEPS + 1)[1:-1, None]
    first, last = np.array(starts)[:, None, :], np.array(ends)[:, None, :]
    points = (first + (last - first) * steps).reshape(-1, 2)
    a = np.array(ring)
    b = np.roll(a, -1, axis=0)
    held = _holds(a, b, points)
    held[~held] = _distance(a, b, points[~held]) <= LINE_OF_SIGHT
    return tuple(bool(line.all()) for line in np.split(held, len(starts)))


def framed(ring: Ring) -> Ring:
    """First corner at the origin, second on the x axis, clockwise: as a network holds it."""
    line = Line.through(ring[0], ring[1])
    side = 1.0 if signed_area(ring) < 0.0 else -1.0
    return tuple((line.along(point), side * line.offset(point)) for point in ring)


def on_page(ring: Ring) -> Ring:
    """Shifted so that the smallest x and y are 0."""
    left, low = (min(point[k] for point in ring) for k in (0, 1))
    return tuple((x - left, y - low) for x, y in ring)


def turns(ring: Ring) -> tuple[float, ...]:
    """By how much the walls turn at each corner, radians, counter-clockwise positive."""
    n = len(ring)
    lines = [Line.through(ring[i - 1], ring[i]) for i in range(n)]
    return tuple(lines[i].angle_to(lines[(i + 1) % n]) for i in range(n))


def _holds(a: Array, b: Array, points: Array) -> npt.NDArray[np.bool_]:
    """By counting the sides that a ray to the right crosses."""
    x, y = points[:, :1], points[:, 1:]
    (xa, ya), (xb, yb) = a.T, b.T
    rise = np.where(yb == ya, 1.0, yb - ya)
    crossed = ((ya > y) != (yb > y)) & (x < xa + (y - ya) * (xb - xa) / rise)
    return np.asarray(crossed.sum(axis=1) % 2 == 1, dtype=np.bool_)


def _distance(a: Array, b: Array, points: Array) -> Array:
    """From each point to the nearest side."""
    away = b - a
    length = np.hypot(away[:, 0], away[:, 1])
    unit = away / length[:, None]
    to = points[:, None, :] - a
    along = np.clip((to * unit).sum(axis=2), 0.0, length)
    off = to - along[:, :, None] * unit
    return np.asarray(np.hypot(off[:, :, 0], off[:, :, 1]).min(axis=1), dtype=np.float64)
