"""Each coffer's own plane under an old ceiling that is out of flat, and the ceiling itself piece by piece."""

from collections.abc import Sequence
from itertools import combinations

import numpy as np
import numpy.typing as npt
from shapely import Polygon

from lacunar.geometry import Plane, Point, Point3, Ring, centroid
from lacunar.layout.polygons import common, pieces_of, ring_of
from lacunar.survey import Room, best_plane, ceiling_facets, ceiling_rim
from lacunar.tolerances import ARITHMETIC

SAME = 0.25
"""mm. Mean gaps that differ by no more are the same to a carpenter: a sixth of the finest mark that a tape is read to.

Where a fold of the ceiling passes by the middle of a coffer, planes that lean to either side of it have nearly one mean
gap, but the largest gap of the leaning ones is up to twice that of the one between them.
"""

Doubles = npt.NDArray[np.float64]


def coffer_plane(room: Room, ring: Ring) -> Plane:
    """The plane that a coffer's slats or furring lie against: nowhere above the old ceiling, with the least mean gap.

    Of planes with the same least mean gap the one whose slope is nearest to that of the ceiling over the coffer.

    Args:
        room: with its heights.
        ring: the coffer's outline, counter-clockwise.
    """
    if _is_flat(room):
        return room.ceiling
    # Each corner once: neighbouring pieces share theirs.
    corners = {
        (round(x, 3), round(y, 3), round(plane.at((x, y)), 6)): (x, y, plane.at((x, y)))
        for piece, plane in surface_over(room, ring)
        for x, y in piece
    }
    return highest_under(tuple(corners.values()), centroid(ring), SAME)


def surface_over(room: Room, ring: Ring) -> tuple[tuple[Ring, Plane], ...]:
    """The old ceiling over a plan ring: its flat pieces, each with its plane; one where it is flat.

    Where its centre does not see every corner of the room, pieces may overlap.
    """
    if _is_flat(room):
        return ((ring, room.ceiling),)
    whole = Polygon(ring)
    return tuple(
        (ring_of(piece), plane)
        for facet, plane in ceiling_facets(room)
        for piece in pieces_of(common(whole, Polygon(facet)))
    )


def _is_flat(room: Room) -> bool:
    points = (*ceiling_rim(room).values(), room.centre)
    return all(abs(z - room.ceiling.at((x, y))) <= ARITHMETIC for x, y, z in points)


def highest_under(points: Sequence[Point3], middle: Point, slack: float) -> Plane:
    """A plane that lies under all points and over `middle` no more than `slack` lower than any such plane can.

    Of all that do, the one whose slope is nearest to that of the points' best fit.

    Args:
        points: not all in one line of the plan.
        middle: inside their hull.
        slack: mm.
    """
    at = np.array(points)
    reach, z = at[:, :2] - np.array(middle), at[:, 2]

    def heights(slopes: Doubles) -> Doubles:
        """How high over the middle the highest plane of each slope lies."""
        return (z - slopes @ reach.T).min(axis=1)

    i, j, k = np.array(list(combinations(range(len(at)), 3))).T
    # The highest of all planes rests on three points.
    resting = _solve(reach[j] - reach[i], reach[k] - reach[i], z[j] - z[i], z[k] - z[i])
    floor = heights(resting).max() - slack
    # Slopes that keep the floor are a polygon with one side for each point: reach . slope = z - floor.
    fit = best_plane(points)
    wished = np.array([[fit.sx, fit.sy]])
    away = (reach**2).sum(axis=1)
    beside = away > 0.0
    off = ((z - floor - wished @ reach.T)[0][beside] / away[beside])[:, None] * reach[beside]
    a, b = np.array(list(combinations(range(len(at)), 2))).T
    corners = _solve(reach[a], reach[b], (z - floor)[a], (z - floor)[b])
    tried = np.concatenate([wished, wished + off, corners, resting])
    kept = tried[heights(tried) >= floor - ARITHMETIC]
    slope = kept[((kept - wished) ** 2).sum(axis=1).argmin()]
    height = float(heights(slope[None])[0])
    sx, sy = (float(s) for s in slope)
    return Plane(z0=height - sx * middle[0] - sy * middle[1], sx=sx, sy=sy)


def _solve(one: Doubles, other: Doubles, first: Doubles, second: Doubles) -> Doubles:
    """Slopes (m, 2) with one . slope = first and other . slope = second; none where the two run one way."""
    double = one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]
    real = np.abs(double) > ARITHMETIC
    x = first * other[:, 1] - second * one[:, 1]
    y = one[:, 0] * second - other[:, 0] * first
    return np.stack([x[real], y[real]], 1) / double[real, None]
