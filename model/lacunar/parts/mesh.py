"""Triangles straight from a part's outline: watertight, pockets as real holes, no boolean operation."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from lacunar.errors import LayoutError, Problem
from lacunar.geometry import Point, Ring
from lacunar.parts.drilling import Drilling, drillings, faces
from lacunar.parts.part import Part
from lacunar.tolerances import ARITHMETIC

Triangle = tuple[int, int, int]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Mesh:
    """A closed surface.

    Attributes:
        vertices: (n, 3) float64.
        faces: (m, 3) int64, counter-clockwise seen from outside.
    """

    vertices: NDArray[np.float64]
    faces: NDArray[np.int64]


def prism_mesh(part: Part) -> Mesh:
    """The part before any pocket is drilled."""
    points = _plan_points(part)
    if not part.holes and _is_convex(part.outline):
        return Mesh(vertices=_heights(part, points), faces=_convex_faces(len(points)))
    triangles = [*_caps(part), *_walls(part, len(points), frozenset())]
    return Mesh(vertices=_heights(part, points), faces=np.array(triangles, dtype=np.int64))


def mesh(part: Part, segments: int = 48) -> Mesh:
    """The part with its pockets, each a tube of so many flat sides inscribed in the true one.

    The tube takes segments / (2 pi) sin(2 pi / segments) of the volume of the true hole. Pockets that cannot be drilled
    as drawn are left out: `undrilled` names them.
    """
    holes = drillings(part)
    if not holes:
        return prism_mesh(part)
    points = _plan_points(part)
    curves = [curve for hole in holes for curve in (hole.mouth, hole.bore_end, hole.pilot_start, hole.exit)]
    vertices = np.concatenate([_heights(part, points), *(curve.ring(segments) for curve in curves)])
    openings = _openings(holes, 2 * len(points), segments)
    triangles = [*_caps(part), *_walls(part, len(points), frozenset(openings))]
    for edge, mouths in sorted(openings.items()):
        triangles += _opened_wall(part, len(points), edge, mouths, vertices)
    tubes = [_tube(segments) + (2 * len(points) + 4 * segments * number) for number in range(len(holes))]
    return Mesh(vertices=vertices, faces=np.concatenate([np.array(triangles, dtype=np.int64), *tubes]))


def _plan_points(part: Part) -> list[Point]:
    return [point for ring in (part.outline, *part.holes) for point in ring]


def _heights(part: Part, points: Sequence[Point]) -> NDArray[np.float64]:
    """Every plan point on the underside, then every one on the upper side."""
    low, high = part.bottom, part.top
    below = [(x, y, low.z0 + low.sx * x + low.sy * y) for x, y in points]
    return np.array([*below, *((x, y, high.z0 + high.sx * x + high.sy * y) for x, y in points)], dtype=np.float64)


def _is_convex(ring: Ring) -> bool:
    """Whether every corner turns left by more than noise."""
    for (ax, ay), (bx, by), (cx, cy) in zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1], strict=True):
        if (bx - ax) * (cy - by) - (by - ay) * (cx - bx) <= ARITHMETIC * (abs(cx - ax) + abs(cy - ay)):
            return False
    return True


@cache
def _convex_faces(n: int) -> NDArray[np.int64]:
    top = [(0, k, k + 1) for k in range(1, n - 1)]
    whole = np.array([*_both(top, n), *_band(range(n), n)], dtype=np.int64)
    whole.flags.writeable = False
    return whole


def _both(top: Sequence[Triangle], n: int) -> list[Triangle]:
    """Plan triangles as the underside, turned over, and as the upper side."""
    return [*((a, c, b) for a, b, c in top), *((a + n, b + n, c + n) for a, b, c in top)]


def _band(ring: Sequence[int], n: int, closed: frozenset[int] = frozenset()) -> list[Triangle]:
    """Walls over a ring of plan points, but not over the edges in `closed`."""
    result: list[Triangle] = []
    for edge, (i, j) in enumerate(pairwise((*ring, ring[0]))):
        if edge not in closed:
            result += ((i, j, j + n), (i, j + n, i + n))
    return result


def _walls(part: Part, n: int, opened: frozenset[int]) -> list[Triangle]:
    result = _band(range(len(part.outline)), n, opened)
    first = len(part.outline)
    for hole in part.holes:
        # The ring of a hole runs counter-clockwise as the outline does: turned round, its walls face into the hole.
        result += _band(range(first + len(hole) - 1, first - 1, -1), n)
        first += len(hole)
    return result


def _caps(part: Part) -> list[Triangle]:
    n = len(part.outline) + sum(len(hole) for hole in part.holes)
    if not part.holes and _is_convex(part.outline):
        return _both([(0, k, k + 1) for k in range(1, n - 1)], n)
    return _both(_triangulate(part.id, [np.array(ring) for ring in (part.outline, *part.holes)]), n)


def _triangulate(name: str, rings: Sequence[NDArray[np.float64]]) -> list[Triangle]:
    """Counter-clockwise triangles of a polygon, outline first, as places in all its points; no point is added."""
    points = np.concatenate(rings)
    collection = shapely.constrained_delaunay_triangles(shapely.Polygon(rings[0], rings[1:]))
    corners = shapely.get_coordinates(collection).reshape(-1, 4, 2)[:, :3]
    ab, ac = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    clockwise = ab[:, 0] * ac[:, 1] < ab[:, 1] * ac[:, 0]
    corners[clockwise] = corners[clockwise, ::-1]
    places = {(x, y): place for place, (x, y) in enumerate(points.tolist())}
    expected = len(points) + 2 * len(rings) - 4
    if len(corners) != expected or len(places) != len(points):
        what = f"{len(points)} points and {len(rings) - 1} holes gave {len(corners)} triangles, must be {expected}"
        raise LayoutError([Problem(where=name, what=what, fix="its outline touches itself")])
    found = [places[x, y] for x, y in corners.reshape(-1, 2).tolist()]
    return list(zip(found[0::3], found[1::3], found[2::3], strict=True))


def _openings(holes: Sequence[Drilling], first: int, segments: int) -> dict[int, list[range]]:
    """Edges of the outline whose walls are opened, each with the places of the rings that open it."""
    result: dict[int, list[range]] = {}
    for hole in holes:
        result.setdefault(hole.mouth_face.edge, []).append(range(first, first + segments))
        result.setdefault(hole.exit_face.edge, []).append(range(first + 3 * segments, first + 4 * segments))
        first += 4 * segments
    return result


@cache
def _tube(segments: int) -> NDArray[np.int64]:
    """The inside of a stepped hole, facing its axis: bore, shoulder and pilot are three bands of one strip."""
    result: list[Triangle] = []
    for start in (0, segments, 2 * segments):
        for k in range(segments):
            i, j = start + k, start + (k + 1) % segments
            result += ((i, j + segments, j), (i, i + segments, j + segments))
    return np.array(result, dtype=np.int64)


def _opened_wall(
    part: Part, n: int, edge: int, openings: Sequence[range], vertices: NDArray[np.float64]
) -> list[Triangle]:
    """One side of the part less the mouths and ways out that lie in it."""
    after = (edge + 1) % len(part.outline)
    rings = [(edge, after, after + n, edge + n), *openings]
    along = np.array(faces(part.outline)[edge].along)
    start = np.array(part.outline[edge])
    flat = [np.stack(((vertices[ring, :2] - start) @ along, vertices[ring, 2]), axis=1) for ring in map(list, rings)]
    places = [place for ring in rings for place in ring]
    return [(places[a], places[b], places[c]) for a, b, c in _triangulate(part.id, flat)]
