"""A part as triangles fit for light: subdivided, its long lower edges broken, its grain running along it.

Every stick with four corners in the plan is one template stretched to it; notched slats and other outlines are cut
into slabs.
"""

import itertools
import zlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely.ops import nearest_points

from lacunar.geometry import Line, Plane, Point
from lacunar.parts import Part
from lacunar.scene.grain import SLATS, TIMBERS, BoardImage
from lacunar.scene.shape import OFF, Doubles, Shape, surface
from lacunar.scene.template import (
    BOTTOM,
    END,
    LEFT,
    LEFT_ARRIS,
    RIGHT,
    RIGHT_ARRIS,
    START,
    TOP,
    Template,
    stops,
    template,
)
from lacunar.scene.types import Indices

ARRIS = 1.3
"""mm. A sanded edge. Common practice, no source."""

INSET = 24.0
"""mm. A slat's light is sampled so far from its ends and edges, or the trim over them would darken half the board."""

STEP = {"slat": 170.0, "trim": 150.0}
"""mm between stops; 85 for all that is thicker, whose shadows are deeper."""


def shape_of(part: Part, step: float = 1.0) -> Shape:
    """The part's triangles; `step` stretches the distance between the places where light is worked out."""
    corners = _corners(part)
    if corners is None or part.holes:
        return _slabs(part, step)
    return _stretched(part, corners, step)


def edges_of(part: Part) -> Doubles:
    """The part's edges as lines, shape (k, 2, 3), mm: round its bottom and top, and upright at sharp corners."""
    out: list[Doubles] = []
    for ring in (part.outline, *part.holes):
        plan = np.array(ring)
        low = np.column_stack([plan, _heights(part.bottom, plan)])
        high = np.column_stack([plan, _heights(part.top, plan)])
        before, after = plan - np.roll(plan, 1, axis=0), np.roll(plan, -1, axis=0) - plan
        turn = np.cross(np.column_stack([before, 0 * before[:, 0]]), np.column_stack([after, 0 * after[:, 0]]))[:, 2]
        sharp = np.abs(np.arctan2(turn, (before * after).sum(axis=1))) > 0.35
        out += [np.stack([e, np.roll(e, -1, axis=0)], 1) for e in (low, high)]
        out.append(np.stack([low, high], 1)[sharp])
    return np.concatenate(out)


def sheet_of(part: Part) -> BoardImage:
    """Which image of its wood a part is cut from."""
    return SLATS if part.kind in ("slat", "trim", "furring", "plug") else TIMBERS


def _corners(part: Part) -> tuple[Point, Point, Point, Point] | None:
    """Right and left corner of the first end, then of the second; None where the outline has no such four."""
    if len(part.outline) != 4:
        return None
    line = Line.through(*part.axis)
    by_along = sorted(part.outline, key=line.along)
    first, second = (sorted(pair, key=line.offset) for pair in (by_along[:2], by_along[2:]))
    if line.offset(first[0]) >= line.offset(second[1]) or line.offset(second[0]) >= line.offset(first[1]):
        return None
    return first[0], first[1], second[0], second[1]


def _sampling(part: Part, length: float, step: float) -> tuple[Doubles, Template]:
    fractions = stops(length, step * STEP.get(part.kind, 85.0))
    if part.kind == "slat":
        return fractions, template(len(fractions), (0.0, 1.0), (0.0, 0.5, 1.0), True)
    if part.kind == "trim":
        return fractions, template(len(fractions), (0.0, 1.0), (0.0, 1.0), False)
    return fractions, template(len(fractions), (0.0, 0.5, 1.0), (0.0, 0.35, 0.65, 0.8, 1.0), False)


def _heights(plane: Plane, plan: Doubles) -> Doubles:
    return plane.z0 + plane.sx * plan[:, 0] + plane.sy * plan[:, 1]


def _face_normals(part: Part, c: Doubles) -> Doubles:
    """Unit normals by face, shape (8, 3). `c`: right and left corner of the first end, then of the second."""

    def level(a: Doubles, b: Doubles) -> Doubles:
        d = b - a
        return np.array([d[1], -d[0], 0.0]) / np.hypot(d[0], d[1])

    down = np.array([part.bottom.sx, part.bottom.sy, -1.0])
    up = np.array([-part.top.sx, -part.top.sy, 1.0])
    right, left = level(c[0], c[2]), level(c[3], c[1])
    out = np.zeros((8, 3))
    out[[BOTTOM, RIGHT, LEFT, TOP]] = down, right, left, up
    out[[RIGHT_ARRIS, LEFT_ARRIS]] = right + down, left + down
    out[[START, END]] = level(c[1], c[0]), level(c[2], c[3])
    return out / np.linalg.norm(out, axis=1, keepdims=True)


def _stretched(part: Part, corners: tuple[Point, Point, Point, Point], step: float) -> Shape:
    c = np.array(corners)
    length = float(np.hypot(*(c[2] + c[3] - c[0] - c[1]) / 2))
    fractions, shape = _sampling(part, length, step)
    normals = _face_normals(part, c)
    f = fractions[shape.stop][:, None]
    # The arris is measured square to the edge, and taken along the end's own cut, which so stays flat.
    square = abs(float((c[1] - c[0]) @ normals[LEFT, :2]))
    # A sawn edge is left as the saw leaves it.
    left, right = (0.15 if sawn else 1.0 for sawn in part.sawn_edges)
    arris = np.where(shape.across > 0.5, left, right) * ARRIS
    e = (shape.across + shape.inset * arris / max(square, 4.0 * ARRIS))[:, None]
    plan = _place(c, f, e)
    zb, zt = _heights(part.bottom, plan), _heights(part.top, plan)
    z = zb + shape.height * (zt - zb) + shape.raised * np.minimum(arris, part.thickness / 4)
    points = np.column_stack([plan, z])
    probes = _probes(part, c, fractions, shape, normals, length)
    return Shape(
        points=points,
        faces=shape.faces,
        normals=normals[shape.group],
        probes=probes,
        uv=_grain_uv(part, points, shape.group, zb),
        probe_normals=normals[shape.probe_group],
        lit_by=shape.lit_by,
        share=shape.share,
    )


def _place(c: Doubles, f: Doubles, e: Doubles) -> Doubles:
    return (1 - e) * ((1 - f) * c[0] + f * c[2]) + e * ((1 - f) * c[1] + f * c[3])


def _probes(part: Part, c: Doubles, fractions: Doubles, shape: Template, normals: Doubles, length: float) -> Doubles:
    width = max(1.0, float(np.hypot(*(c[1] - c[0]))))
    along = min(0.4, (INSET if part.kind == "slat" else 6.0) / length)
    aside = min(0.35, INSET / width) if part.kind == "slat" else 0.08
    under = shape.probe_group == BOTTOM
    e = np.where(under, np.clip(shape.probe_across, aside, 1 - aside), shape.probe_across)[:, None]
    plan = _place(c, np.clip(fractions[shape.probe_stop], along, 1 - along)[:, None], e)
    zb, zt = _heights(part.bottom, plan), _heights(part.top, plan)
    h = np.where(under, 0.0, np.clip(shape.probe_height, 0.06, 0.94))
    return np.column_stack([plan, zb + h * (zt - zb)]) + OFF * normals[shape.probe_group]


def _grain_uv(part: Part, points: Doubles, group: Indices, bottom: Doubles) -> Doubles:
    """Texture places: the grain continues round the arris, each piece from its own board, start and way round."""
    sheet = sheet_of(part)
    line = Line.through(*part.axis)
    d, n = np.array(line.direction), np.array(line.left)
    from_start = points[:, :2] - np.array(line.point)
    s, t, up = from_start @ d, from_start @ n, points[:, 2] - bottom
    t = t - t.min()
    width = float(t.max())
    round_it = width + 2 * float(up.max()) < sheet.width
    u = np.where(group == RIGHT, -up if round_it else up, np.where(group == LEFT, width + up if round_it else up, t))
    rng = np.random.default_rng(zlib.crc32(part.id.encode()))
    boards, starts, flips = rng.integers(0, sheet.boards - 1, 8), rng.random((8, 2)), rng.choice((-1.0, 1.0), (8, 2))
    piece = np.zeros(8, dtype=int) if round_it else np.array([0, 1, 2, 0, 0, 3, 0, 0])
    out = np.zeros((len(points), 2))
    for face in np.unique(piece[group]):
        of = piece[group] == face
        low, high = float(u[of].min()), float(u[of].max())
        shrink = min(1.0, (sheet.width - 4.0) / max(high - low, 1.0))
        across = (u[of] - low) * shrink
        span = (high - low) * shrink
        across = (span - across if flips[face, 0] < 0 else across) + 2.0 + starts[face, 0] * (sheet.width - 4.0 - span)
        out[of, 0] = (boards[face] + across / sheet.width) / sheet.boards
        out[of, 1] = flips[face, 1] * s[of] / sheet.length + starts[face, 1]
    ends = (group == START) | (group == END)
    out[ends, 0] = (sheet.boards - 1 + np.clip((t[ends] + 2.0) / sheet.width, 0.01, 0.99)) / sheet.boards
    out[ends, 1] = up[ends] / sheet.length
    return out


def _slabs(part: Part, step: float) -> Shape:
    """Any outline: cut across its length into slabs for the light; no arris."""
    line = Line.through(*part.axis)
    whole = shapely.Polygon(part.outline, part.holes)
    along = [line.along(p) for p in part.outline]
    left = [line.offset(p) for p in part.outline]
    low, high = min(along), max(along)
    cuts = low + (high - low) * stops(high - low, step * STEP.get(part.kind, 85.0))
    flat: list[Doubles] = []
    for a, b in itertools.pairwise(cuts):
        slab = shapely.Polygon(
            [line.at(a, min(left) - 1), line.at(b, min(left) - 1), line.at(b, max(left) + 1), line.at(a, max(left) + 1)]
        )
        flat += _triangles(whole.intersection(slab))
    faces = [*_caps(part, flat, _within(whole, INSET if part.kind == "slat" else 6.0))]
    for k, ring in enumerate((whole.exterior, *whole.interiors)):
        turned = shapely.geometry.polygon.orient(shapely.Polygon(ring))
        faces += _walls(part, np.array(turned.exterior.coords), hole=k > 0)
    return _soup(part, faces)


def _triangles(piece: shapely.Geometry) -> list[Doubles]:
    out: list[Doubles] = []
    for polygon in shapely.get_parts(piece):
        if isinstance(polygon, shapely.Polygon) and polygon.area > 1e-3:
            for triangle in shapely.get_parts(shapely.constrained_delaunay_triangles(polygon)):
                corners = np.array(shapely.geometry.polygon.orient(triangle).exterior.coords)[:3]
                out.append(corners)
    return out


@dataclass(frozen=True, slots=True)
class _Face:
    """Triangles of an upright prism with one normal: corners and a probe for each, and shares of light."""

    corners: Doubles
    normal: Doubles
    group: int
    probes: Doubles
    share: Doubles


def _within(whole: shapely.Polygon, inset: float) -> shapely.Geometry:
    """The part of an outline that lies so far from its edges, or a third of that and so on where none does."""
    inner = whole.buffer(-inset)
    return _within(whole, inset / 3) if inner.is_empty else inner


def _caps(part: Part, triangles: Iterable[Doubles], inner_part: shapely.Geometry) -> Iterator[_Face]:
    """Underside and top from plan triangles; corners that meet take one light, sampled off the edges."""
    for triangle in triangles:
        inner = np.array([nearest_points(inner_part, shapely.Point(corner))[0].coords[0] for corner in triangle])
        for plane, group, turn in ((part.bottom, BOTTOM, -1), (part.top, TOP, 1)):
            normal = np.array([-turn * plane.sx, -turn * plane.sy, turn])
            normal = normal / np.linalg.norm(normal)
            corners = np.column_stack([triangle, _heights(plane, triangle)])[::turn]
            probes = np.column_stack([inner, _heights(plane, inner)])[::turn]
            yield _Face(corners, normal, group, probes, np.full(3, 1.0 if group == BOTTOM else 0.02))


def _walls(part: Part, ring: Doubles, hole: bool) -> Iterator[_Face]:
    """Upright sides along a closed ring (first point repeated), counter-clockwise."""
    for a, b in itertools.pairwise(ring):
        start, end = (b, a) if hole else (a, b)
        length = float(np.hypot(*(end - start)))
        # A long edge in one piece would be as dark all along as where its ends hide in the trim.
        at = start + (end - start) * stops(length, 170.0)[:, None] if length > 60.0 else np.array([start, end])
        for p, q in itertools.pairwise(at):
            yield _side(part, p, q, np.array([end[1] - start[1], start[0] - end[0], 0.0]) / length)


def _side(part: Part, a: Doubles, b: Doubles, normal: Doubles) -> _Face:
    plan = np.array([a, b, b, a])
    zb, zt = _heights(part.bottom, plan), _heights(part.top, plan)
    quad = np.column_stack([plan, np.where([True, True, False, False], zb, zt)])
    slat = part.kind == "slat"
    share = np.array([0.45, 0.45, 0.03, 0.03]) if slat else np.ones(4)
    # A slat's sides take the light under the slat, as the template's do.
    probes = np.column_stack([plan, zb - OFF]) if slat else quad + 0.15 * (quad.mean(axis=0) - quad)
    pick = [0, 1, 2, 0, 2, 3]
    return _Face(quad[pick], normal, RIGHT if slat else LEFT, probes[pick], share[pick])


def _soup(part: Part, faces: Sequence[_Face]) -> Shape:
    points = np.concatenate([face.corners for face in faces])
    normals = np.concatenate([np.tile(face.normal, (len(face.corners), 1)) for face in faces])
    group = np.concatenate([np.full(len(face.corners), face.group, dtype=np.int32) for face in faces])
    uv = _grain_uv(part, points, group, _heights(part.bottom, points[:, :2]))
    probes = np.concatenate([face.probes + OFF * face.normal for face in faces])
    shape = surface(points, np.arange(len(points)).reshape(-1, 3), normals, probes=probes, uv=uv)
    slat_side = group == RIGHT
    probe_normals = np.where(slat_side[:, None], np.array([0.0, 0.0, -1.0]), normals)
    return replace(shape, probe_normals=probe_normals, share=np.concatenate([face.share for face in faces]))
