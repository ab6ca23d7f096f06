"""Holes for fixtures: rule 11, and what they take out of slats."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import shapely
from shapely import Polygon

from lacunar.config import Fixture
from lacunar.geometry import Line, Point, Ring, counter_clockwise, extent
from lacunar.layout.member import Cutaway
from lacunar.layout.polygons import common, holes_of, pieces_of, rest, ring_of
from lacunar.layout.types import Cell, CutOut
from lacunar.survey import Room, point_from_walls
from lacunar.units import INCH

ALL_ROUND = INCH / 16.0
"""A cut-out is larger than its fixture by this on every side: rule 11, common practice."""

ROUND_SIDES = 64
"""A round hole is a 64-gon outside its circle, so that it never bites into the fixture."""

LEAST_FRAGMENT = INCH
"""A shorter stump beside a cut-out cannot be held by a nail an inch from its end: it is left out."""


def cut_outs(room: Room, fixtures: Iterable[Fixture], cells: tuple[Cell, ...]) -> tuple[CutOut, ...]:
    """Every fixture with its hole, in their order."""
    made: list[CutOut] = []
    for fixture in fixtures:
        centre = point_from_walls(room, fixture.at)
        along = room.wall_line(next(iter(fixture.at)))
        holder = [c.id for c in cells if shapely.contains_xy(Polygon(c.outline), *centre)]
        made.append(
            CutOut(
                name=fixture.name,
                centre=centre,
                fixture=_shape(centre, fixture.shape, fixture.size, along, 0.0),
                outline=_shape(centre, fixture.shape, fixture.size, along, ALL_ROUND),
                cover=None
                if fixture.canopy is None
                else _shape(centre, fixture.shape, _cover_size(fixture.canopy, fixture.size), along, 0.0),
                coffer=holder[0] if holder else None,
            )
        )
    return tuple(made)


def _cover_size(canopy: float, size: tuple[float, float]) -> tuple[float, float]:
    larger = max(size)
    return (canopy * size[0] / larger, canopy * size[1] / larger)


def _shape(centre: Point, shape: str, size: tuple[float, float], along: Line, more: float) -> Ring:
    if shape == "round":
        radius = (size[0] / 2.0 + more) / math.cos(math.pi / ROUND_SIDES)
        return tuple(
            (
                centre[0] + radius * math.cos((2 * i + 1) * math.pi / ROUND_SIDES),
                centre[1] + radius * math.sin((2 * i + 1) * math.pi / ROUND_SIDES),
            )
            for i in range(ROUND_SIDES)
        )
    axis = Line(centre, along.direction)
    a, b = size[0] / 2.0 + more, size[1] / 2.0 + more
    return counter_clockwise((axis.at(-a, -b), axis.at(a, -b), axis.at(a, b), axis.at(-a, b)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Fragment:
    """What is left of a slat: the whole of it, or a stump on one side of a cut-out that severs it.

    Attributes:
        outline: plan ring.
        holes: rings inside it.
        notches: what was taken out beside it.
        kept: which of the slat's two ends it has.
    """

    outline: Ring
    holes: tuple[Ring, ...]
    notches: tuple[Cutaway, ...]
    kept: tuple[bool, bool]


def notch(outline: Ring, axis: Line, holes: Sequence[CutOut]) -> tuple[Fragment, ...]:
    """Cut fixtures out of a slat; its fragments in order along the axis."""
    near = [hole for hole in holes if _may_meet(outline, hole.outline)]
    whole = Polygon(outline if near else ())
    hit = [hole for hole in near if whole.intersection(Polygon(hole.outline)).area > 1e-3]
    if not hit:
        return (Fragment(outline=outline, holes=(), notches=(), kept=(True, True)),)
    left = rest(whole, [Polygon(hole.outline) for hole in hit])
    low, high = extent(outline, axis)
    found: list[Fragment] = []
    for polygon in pieces_of(left):
        ring = ring_of(polygon)
        start, end = extent(ring, axis)
        if end - start < LEAST_FRAGMENT:
            continue
        beside = [hole for hole in hit if polygon.distance(Polygon(hole.outline)) <= 1e-6]
        found.append(
            Fragment(
                outline=ring,
                holes=holes_of(polygon),
                notches=tuple(_notch(hole, whole, axis, start) for hole in beside),
                kept=(start <= low + 1e-6, end >= high - 1e-6),
            )
        )
    return tuple(sorted(found, key=lambda fragment: extent(fragment.outline, axis)))


def _may_meet(one: Ring, other: Ring) -> bool:
    """Whether two rings overlap, seen along x or y alone: quickly told of most."""
    pairs = [([p[i] for p in one], [p[i] for p in other]) for i in (0, 1)]
    return all(min(a) < max(b) and min(b) < max(a) for a, b in pairs)


def _notch(hole: CutOut, whole: Polygon, axis: Line, start: float) -> Cutaway:
    bitten = common(whole, Polygon(hole.outline))
    ring = ring_of(max(pieces_of(bitten), key=lambda polygon: polygon.area))
    low, high = extent(ring, axis)
    return Cutaway(
        fixture=hole.name,
        outline=ring,
        along=(low - start, high - start),
        inside=bool(whole.contains_properly(Polygon(hole.outline))),
    )
