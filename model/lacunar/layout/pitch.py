"""Running dimensions: where every slat of a coffer begins, from its start side, so that no errors add up."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import shapely

from lacunar.geometry import Line, Point, Ring, counter_clockwise, extent
from lacunar.layout.types import Coffer, Layout, Slat


@dataclass(frozen=True, slots=True, kw_only=True)
class RunningMark:
    """Where one slat begins, square to the start side.

    Attributes:
        number: of the slat, from 1; both halves of a severed one lie on one mark.
        start: at the start side's first corner, clockwise round the coffer on the plan.
        end: at its second corner; the same where slats are parallel to it.
    """

    number: int = field(metadata={"alias": "slat"})
    start: float
    end: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Running:
    """The running dimensions of one coffer.

    Attributes:
        coffer: id.
        base: what they are taken from: the start side, run so that the coffer lies to its right; where slats lie at
            an angle, the first slat's near edge.
        length: of the base; distances are taken at its two ends.
        marks: slat 1 first.
    """

    coffer: str
    base: Line
    length: float
    marks: tuple[RunningMark, ...]


def running_dimensions(layout: Layout, *, far: bool = False) -> tuple[Running, ...]:
    """From the start side to each slat's near edge, or far edge, for every coffer, in the order of the coffers.

    Each is measured from the same place: an error in one of them moves one slat, where a spacer set from slat to slat
    would move all that follow. They go by the true pitch where ten boards and ten spacers were measured.
    """
    slats: dict[str, list[Slat]] = {}
    for slat in layout.slats:
        slats.setdefault(slat.coffer, []).append(slat)
    return tuple(_running(coffer, slats.get(coffer.id, ()), far=far) for coffer in layout.coffers)


def _running(coffer: Coffer, slats: Sequence[Slat], *, far: bool) -> Running:
    numbers: dict[int, list[Slat]] = {}
    for slat in slats:
        numbers.setdefault(slat.number, []).append(slat)
    edge_of = _topmost if coffer.cut_to_shape else _near_edge
    edges = {number: edge_of(numbers[number], coffer.direction) for number in sorted(numbers)}
    base, length = _base(coffer, edges)
    if far:
        # Run the other way, the far edge is the near one.
        back = (-coffer.direction[0], -coffer.direction[1])
        edges = {number: edge_of(numbers[number], back) for number in edges}
    stretch = coffer.ceiling.stretch(base.left)
    return Running(
        coffer=coffer.id,
        base=base,
        length=length,
        marks=tuple(
            RunningMark(
                number=number,
                start=_depth(base, edge, 0.0) * stretch,
                end=_depth(base, edge, length) * stretch,
            )
            for number, edge in edges.items()
        ),
    )


def _base(coffer: Coffer, edges: Mapping[int, Line]) -> tuple[Line, float]:
    if coffer.cut_to_shape and edges:
        first = next(iter(edges.values()))
        low, high = extent(coffer.outline, first)
        return Line(first.at(low), first.direction), high - low
    side = coffer.sides[coffer.start_side]
    return side.line, math.dist(side.start, side.end)


def _near_edge(pieces: Sequence[Slat], direction: Point) -> Line:
    """The edge towards the start side, as if no fixture were cut out of it, run along the slats' direction.

    The start side lies to the left of that direction. The hull runs counter-clockwise, so its left side runs against
    it.
    """
    ring = _hull([point for piece in pieces for point in piece.outline])
    along = Line(ring[0], direction)
    b, a = max(
        zip(ring, ring[1:] + ring[:1], strict=True), key=lambda side: along.along(side[0]) - along.along(side[1])
    )
    return Line.through(a, b)


def _topmost(pieces: Sequence[Slat], direction: Point) -> Line:
    """Through the slat's point nearest to where slat 1 begins: the first may be a triangle that has no near edge."""
    points = [point for piece in pieces for point in piece.outline]
    along = Line(points[0], direction)
    return Line(max(points, key=along.offset), direction)


def _hull(points: Sequence[Point]) -> Ring:
    return counter_clockwise(
        tuple(shapely.get_coordinates(shapely.convex_hull(shapely.multipoints(points))).tolist()[:-1])
    )


def _depth(base: Line, edge: Line, at: float) -> float:
    """How deep an edge lies below a place of the base."""
    upright = Line(base.at(at), base.left)
    return -upright.along(upright.crossing(edge))
