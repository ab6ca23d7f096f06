"""How parts and coffers stand against the walls and the old ceiling, and how high above the floor.

The ceiling is no plane but triangles from its centre to the walls.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon

from lacunar.analysis.shapes import Floats, Indices, without
from lacunar.analysis.subject import NEW_BEAMS, Subject, lies_on
from lacunar.layout import Layout, OpenGap
from lacunar.parts import Part
from lacunar.survey import ON_FOLD, Room, ceiling_rim
from lacunar.tolerances import ARITHMETIC, CONTACT


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A part that stands in something: its id and how deep, mm."""

    part: str
    depth: float


@dataclass(frozen=True, slots=True, kw_only=True)
class GapPlace:
    """Where the gap above a coffer is largest: its id, and what its sides there are against, none in its middle."""

    coffer: str
    beside: tuple[str, ...]


def gap_places(layout: Layout, gaps: Sequence[OpenGap]) -> tuple[GapPlace, ...]:
    """One for each coffer, in their order."""
    return tuple(
        GapPlace(coffer=one.id, beside=tuple(side.against for side in one.sides if lies_on(side, gap.at, CONTACT)))
        for one, gap in zip(layout.coffers, gaps, strict=True)
    )


def low_points(subject: Subject) -> tuple[float, ...]:
    """Height of each part's lowest point above the floor."""
    return tuple(min(map(part.bottom.at, part.outline)) for part in subject.parts)


def beyond_walls(subject: Subject) -> tuple[Standing, ...]:
    """Parts that leave the room, in order."""
    room = Polygon(subject.room.points)
    shapely.prepare(allowed := shapely.buffer(room, CONTACT, join_style="mitre"))
    found: list[Standing] = []
    for i in np.flatnonzero(~shapely.covers(allowed, list(subject.polygons))):
        points = shapely.get_coordinates(without(subject.polygons[i], [room]))
        out = max(room.distance(shapely.Point(point)) for point in points)
        found.append(Standing(part=subject.parts[i].id, depth=out))
    return tuple(found)


def into_ceiling(subject: Subject) -> tuple[Standing, ...]:
    """Beams that go up, and slats or the furring over them, that rise into the old ceiling, in order."""
    lies = "slat" if subject.layout.furring is None else "furring"
    parts = [part for part in subject.parts if part.kind == lies or part.kind in NEW_BEAMS]
    up = rises(subject.room, parts, [subject.polygon(part.id) for part in parts])
    return tuple(Standing(part=part.id, depth=by) for part, by in zip(parts, up, strict=True) if by > CONTACT)


def rises(room: Room, parts: Sequence[Part], polygons: Sequence[Polygon]) -> tuple[float, ...]:
    """Most that each part's top stands above the old ceiling; negative where it stays below everywhere.

    Exact: ceiling and tops are flat between the points looked at. Those are the outlines' corners, where folds of the
    ceiling cross their edges, and the ceiling's centre.
    """
    if not parts:
        return ()
    owner, points = _turning_points(room, parts, polygons)
    tops = np.array([(part.top.z0, part.top.sx, part.top.sy) for part in parts])[owner]
    over = tops[:, 0] + tops[:, 1] * points[:, 0] + tops[:, 2] * points[:, 1] - ceiling_heights(room, points)
    rise = np.full(len(parts), -np.inf)
    np.maximum.at(rise, owner, over)
    return tuple(rise.tolist())


def ceiling_heights(room: Room, points: Floats) -> Floats:
    """Height of the old ceiling over plan points (n, 2): that of the triangle that holds each, else of the nearest."""
    centre = np.array(room.centre)
    corners = np.array(tuple(ceiling_rim(room).values())) - centre
    following = np.roll(corners, -1, axis=0)
    at = points - centre[:2]
    double = corners[:, 0] * following[:, 1] - corners[:, 1] * following[:, 0]
    real = double != 0.0
    scale = np.where(real, double, 1.0)
    u = (at[:, None, 0] * following[:, 1] - at[:, None, 1] * following[:, 0]) / scale
    v = (corners[:, 0] * at[:, None, 1] - corners[:, 1] * at[:, None, 0]) / scale
    # As the survey has it: beside no fold, beyond no wall, then behind no other wall.
    beside, beyond = (np.where(short > -ON_FOLD, 0.0, short) for short in (np.minimum(u, v), 1.0 - u - v))
    left = np.broadcast_to(real, u.shape)
    for near in (beside, beyond, u + v):
        near = np.where(left, near, -np.inf)
        left = near == near.max(axis=1, keepdims=True)
    best = left.argmax(axis=1)
    z = centre[2] + u * corners[:, 2] + v * following[:, 2]
    return np.take_along_axis(z, best[:, None], axis=1)[:, 0]


def _turning_points(room: Room, parts: Sequence[Part], polygons: Sequence[Polygon]) -> tuple[Indices, Floats]:
    counts = [len(part.outline) for part in parts]
    owner = np.repeat(np.arange(len(parts)), counts)
    start = np.array([point for part in parts for point in part.outline])
    finish = np.array([point for part in parts for point in (*part.outline[1:], part.outline[0])])
    centre = np.array(room.centre[:2])
    owners, points = [owner], [start]
    for corner in np.array([(x, y) for x, y, _ in ceiling_rim(room).values()]):
        crossing, found = _crossings(start, finish, centre, corner)
        owners.append(owner[crossing])
        points.append(found)
    holds = np.flatnonzero(shapely.contains_xy(np.array(polygons, dtype=object), centre[0], centre[1]))
    owners.append(holds)
    points.append(np.tile(centre, (len(holds), 1)))
    return np.concatenate(owners), np.concatenate(points)


def _crossings(start: Floats, finish: Floats, centre: Floats, corner: Floats) -> tuple[Indices, Floats]:
    """Edges that the fold from the centre to a point of the rim crosses, and where."""
    fold = corner - centre
    left = np.array((-fold[1], fold[0]))
    before, after = (start - centre) @ left, (finish - centre) @ left
    cut = np.flatnonzero(before * after < 0.0)
    t = before[cut] / (before[cut] - after[cut])
    points = start[cut] + t[:, None] * (finish[cut] - start[cut])
    along = (points - centre) @ fold / (fold @ fold)
    on = (along >= 0.0) & (along <= 1.0 + ARITHMETIC)
    return cut[on], points[on]
