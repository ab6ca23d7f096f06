"""How a straight piece ends: from where to where it reaches along its axis, and the angles of its cuts."""

import math
from collections.abc import Iterable

from lacunar.geometry.line import Line
from lacunar.geometry.ring import Point, Ring
from lacunar.tolerances import ANGLE


def extent(points: Iterable[Point], axis: Line) -> tuple[float, float]:
    """From where to where points reach along a line."""
    along = [axis.along(p) for p in points]
    return min(along), max(along)


def crossings(ring: Ring, line: Line, left: float = 0.0) -> tuple[float, ...]:
    """Where along a line, or its parallel so far to the left, the sides of a ring cross it or end on it."""
    found: list[float] = []
    for a, b in zip(ring, ring[1:] + ring[:1], strict=True):
        oa, ob = line.offset(a) - left, line.offset(b) - left
        if (oa <= 0.0 <= ob or ob <= 0.0 <= oa) and oa != ob:
            t = oa / (oa - ob)
            found.append(line.along((a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))))
    return tuple(found)


def end_mitres(ring: Ring, axis: Line) -> tuple[float, float]:
    """Angles away from square of a piece's two ends, radians.

    At each end the cut runs between the ring's outermost points on the left half and on the right half of the piece.
    Positive where the left side, seen from the other end, is the longer.
    """
    offsets = [axis.offset(p) for p in ring]
    across, middle = max(offsets) - min(offsets), (max(offsets) + min(offsets)) / 2.0
    left = [axis.along(p) for p, o in zip(ring, offsets, strict=True) if o >= middle]
    right = [axis.along(p) for p, o in zip(ring, offsets, strict=True) if o < middle]
    return (
        _clean(math.atan2(min(left) - min(right), across)),
        _clean(math.atan2(max(left) - max(right), across)),
    )


def _clean(angle: float) -> float:
    """No -0.0, and no rounding noise where a cut is square."""
    return 0.0 if abs(angle) < ANGLE else angle
