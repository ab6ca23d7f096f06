"""The room round the ceiling: floor, walls with their openings, skirting, the old ceiling behind the slats."""

import itertools
from collections.abc import Iterable, Sequence

import numpy as np
import numpy.typing as npt
import shapely
from shapely.ops import nearest_points

from lacunar.geometry import Plane, Ring, area
from lacunar.layout import surface_over
from lacunar.scene.look import Opening
from lacunar.scene.shape import OFF, Doubles, Shape, box, joined, sheet, splits, surface
from lacunar.survey import Room, ceiling_height

CASED = (103.0, 110.0)
"""mm beside and above or below an opening that its casing covers, and a little more (see `openings.CASING`)."""

SKIRTING = (130.0, 16.0)
"""mm, high and thick: as in houses with wooden ceilings. Common practice, no source."""


AT_CORNER = (35.0, 100.0, 210.0)
"""mm from a wall's end: cells that grow slowly, or one sees where a corner's shade begins."""

SLIVER = 100.0
"""mm2. A piece of the ceiling too small for a cell of its own: nobody sees it."""


def wall_frame(room: Room, wall: str) -> tuple[Doubles, Doubles, float]:
    """First corner, frame (along, up, inward) and length of a wall seen from inside, left to right."""
    a, b = (np.array([*p, 0.0]) for p in room.wall(wall))
    length = float(np.linalg.norm(b - a))
    d = (b - a) / length
    return a, np.array([d, [0.0, 0.0, 1.0], [d[1], -d[0], 0.0]]), length


def _borders(low: float, high: float, step: float, fixed: Iterable[float]) -> Doubles:
    """Cell borders with the fixed ones among them, and finer at both ends, where rooms are darkest."""
    near = [low, *(low + d for d in AT_CORNER), *(high - d for d in AT_CORNER), high]
    marks = sorted({round(m, 3) for m in (*near, *fixed) if low <= m <= high})
    wide = [m for i, m in enumerate(marks) if i == 0 or m - marks[i - 1] > 1.0]
    return np.concatenate([splits(a, b, step)[:-1] for a, b in itertools.pairwise(wide)] + [[wide[-1]]])


BeamEnd = tuple[float, float, float]
"""Where a beam meets a wall: left and right side, mm along it from its first corner, and height of the under side."""

NEAR_END = (-4.0, 10.0, 50.0)
"""mm from a beam's faces, out of it: light falls off so fast beside them that cells of a hand's breadth lose it."""


def wall_shape(
    room: Room, wall: str, openings: tuple[Opening, ...], step: float, covered: float, ends: Iterable[BeamEnd] = ()
) -> Shape:
    """The wall's inner face, its openings left out; its top follows the ceiling, `covered` behind slats and trim."""
    corner, frame, length = wall_frame(room, wall)
    mine = [o for o in openings if o.wall == wall]
    top = min(_top(room, corner, frame, x) for x in (0.0, length))
    beams = tuple(ends)
    beside = [x for left, right, _ in beams for d in NEAR_END for x in (left - d, right + d)]
    under = sorted({round(low, -1) for _, _, low in beams})
    xs = _borders(0.0, length, step, [*(x for o in mine for x in (o.start, o.start + o.width)), *beside])
    ys = _borders(
        0.0,
        top,
        step,
        [
            *(y for o in mine for y in (o.sill, min(o.head, top))),
            top - covered - 6.0,
            top - covered + 6.0,
            *(low - d for low in under for d in NEAR_END),
        ],
    )
    cx, cy = np.meshgrid((xs[1:] + xs[:-1]) / 2, (ys[1:] + ys[:-1]) / 2)
    keep = np.ones(cx.shape, dtype=bool)
    for o in mine:
        keep &= ~((cx > o.start) & (cx < o.start + o.width) & (cy > o.sill) & (cy < o.head))
    shape = sheet(corner, frame[0], frame[1], xs, ys, keep)
    _share_probes(shape, beams, corner, frame)
    _uncover(shape, mine, corner, frame)
    # The upper edge is bent to the ceiling: only the topmost row moves.
    shape.share[shape.points[:, 2] > top - covered] = 0.03
    last = shape.points[:, 2] > top - 1e-6
    shape.points[last, 2] = [_top(room, corner, frame, float((p - corner) @ frame[0])) for p in shape.points[last]]
    return shape


def _share_probes(shape: Shape, beams: Sequence[BeamEnd], corner: Doubles, frame: Doubles) -> None:
    """Away from beams what was cut finely for them takes one light across: rays leave streaks in narrow cells."""
    x, y = (shape.probes - corner) @ frame[0], shape.probes[:, 2].copy()
    reach = NEAR_END[-1] + 1.0
    wide = np.array([[left - reach, right + reach, low - reach] for left, right, low in beams]).reshape(-1, 3)
    over = (x[:, None] > wide[:, 0]) & (x[:, None] < wide[:, 1])
    for k, (left, right, low) in enumerate(wide):
        below = over[:, k] & (y < low)
        shape.probes[below] += np.outer((left + right) / 2 - x[below], frame[0])
        beside = ~over.any(axis=1) & (y > low) & (y < low + reach - NEAR_END[0] + 1.0)
        shape.probes[beside, 2] = low + reach


def _uncover(shape: Shape, openings: list[Opening], corner: Doubles, frame: Doubles) -> None:
    """Probes under a casing go to its outer edge: what they see from beneath it would glow round the window."""
    for o in openings:
        x, y = (shape.probes - corner) @ frame[0], shape.probes[:, 2]
        left, right = o.start - CASED[0], o.start + o.width + CASED[0]
        under = (x > left) & (x < right) & (y > o.sill - CASED[1]) & (y < o.head + CASED[1])
        nearer_left = x - left < right - x
        out = (left - x) * nearer_left + (right - x) * ~nearer_left
        shape.probes[under] += (out[:, None] * frame[0])[under]


def _top(room: Room, corner: Doubles, frame: Doubles, x: float) -> float:
    """The old ceiling, and a little more, so that no light leaks in."""
    point = corner + x * frame[0] + 1.0 * frame[2]
    return ceiling_height(room, (float(point[0]), float(point[1]))) + 4.0


def flat_shape(
    ring: Ring, plane: Plane, up: bool, step: float, scale: float = 1000.0, within: Ring | None = None
) -> Shape:
    """A level or sloping polygon in cells, seen from above (`up`) or below; it may be a part `within` another."""
    polygon = shapely.Polygon(ring)
    x0, y0, x1, y1 = polygon.bounds
    xs, ys = splits(x0, x1, step), splits(y0, y1, step)
    cx, cy = np.meshgrid(np.arange(len(xs) - 1), np.arange(len(ys) - 1))
    cells = shapely.box(xs[cx], ys[cy], xs[cx + 1], ys[cy + 1])
    triangles: list[Doubles] = []
    for piece in shapely.get_parts(shapely.intersection(cells.ravel(), polygon)):
        if isinstance(piece, shapely.Polygon) and piece.area > 1.0:
            triangles += _fan(piece)
    plan = np.concatenate(triangles)
    points, index = np.unique(plan.round(3), axis=0, return_inverse=True)
    return _lifted(points, index.reshape(-1, 3), plane, up, shapely.Polygon(within or ring), scale)


def ceiling_shape(room: Room, ring: Ring, up: bool, step: float, lifted: float = 0.0) -> Shape:
    """The old ceiling over a plan ring, seen from above (`up`) or below, so much higher."""
    return joined(
        [
            flat_shape(piece, plane.lifted(lifted), up, step, within=ring)
            for piece, plane in surface_over(room, ring)
            if area(piece) > SLIVER
        ]
    )


def _fan(piece: shapely.Polygon) -> list[Doubles]:
    ring = np.array(shapely.geometry.polygon.orient(piece).exterior.coords)[:-1]
    if shapely.convex_hull(piece).area - piece.area < 1e-6 * piece.area:
        return [ring[[0, k, k + 1]] for k in range(1, len(ring) - 1)]
    parts = shapely.get_parts(shapely.constrained_delaunay_triangles(piece))
    return [np.array(shapely.geometry.polygon.orient(t).exterior.coords)[:3] for t in parts]


def _lifted(
    points: Doubles, faces: npt.NDArray[np.intp], plane: Plane, up: bool, room: shapely.Polygon, scale: float
) -> Shape:
    turn = 1.0 if up else -1.0
    z = plane.z0 + plane.sx * points[:, 0] + plane.sy * points[:, 1]
    normal = turn * np.array([-plane.sx, -plane.sy, 1.0])
    normal /= np.linalg.norm(normal)
    inner = shapely.buffer(room, -SKIRTING[1] - 10.0)
    probes = points.copy()
    outside = ~shapely.contains_xy(inner, points[:, 0], points[:, 1])
    for i in np.flatnonzero(outside):
        probes[i] = nearest_points(inner, shapely.Point(points[i]))[0].coords[0]
    return surface(
        np.column_stack([points, z]),
        faces if up else faces[:, ::-1],
        np.broadcast_to(normal, (len(points), 3)),
        probes=np.column_stack([probes, z]) + OFF * normal,
        uv=points * np.array([1.0, -1.0]) / scale,
    )


def skirting_shape(room: Room, wall: str, openings: tuple[Opening, ...], casing: float) -> Shape | None:
    """Skirting along one wall, stopped at the doors' casings."""
    corner, frame, length = wall_frame(room, wall)
    doors = sorted((o.start, o.start + o.width) for o in openings if o.wall == wall and o.kind == "door")
    high, thick = SKIRTING
    runs: list[Shape] = []
    at = 0.0
    for start, end in [*doors, (length + casing, length)]:
        if start - casing - at > 20.0:
            origin = corner + at * frame[0]
            axes = np.array([frame[0], frame[1], frame[2]])
            size = start - casing - at
            runs.append(box(origin, axes, (size, high - 12.0, thick), 250.0, (2, 4)))
            # A small cap: a bead of half the thickness that catches the light.
            runs.append(box(origin + (high - 12.0) * frame[1], axes, (size, 12.0, thick * 0.55), 250.0, (2, 4)))
        at = end + casing
    return joined(runs) if runs else None
