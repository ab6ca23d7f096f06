"""The edges of slats that look at the sides of their coffer, and how far behind the trim they lie."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from lacunar.analysis.shapes import common, distances, hull_ring
from lacunar.analysis.subject import Subject
from lacunar.geometry import Line, Point, dot, middle, moved
from lacunar.layout import Coffer, Side
from lacunar.parts import Part
from lacunar.tolerances import ARITHMETIC

ALONG = 0.2
"""An edge whose normal leans less than this (sine, 11.5 degrees) towards the slat's axis is a long edge, else an end.

A tapered slat's edges lean 2 degrees at most, an end cut to a side 30 degrees from the axis or more.
"""

FACING = 0.5
"""A side looks at an edge where its normal lies within 60 degrees of the edge's way out."""

BACK = 50.0
"""mm. Further than any end stands beyond its side."""

AT_CUT_OUT = 1.0
"""mm. An end that lies so near a cut-out was made by it and looks at the fixture, not at the trim."""

NOTHING_AHEAD = 1e6
"""mm. The gap of an end that no side stands before: further than any room reaches."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeFit:
    """An end cut, or an outermost long edge, of a slat at the side of its coffer that it looks at.

    Attributes:
        part: id.
        against: id of the bar, or name of the wall, that it looks at.
        end: 0 or 1 for an end cut, the end nearer A first; None for a long edge.
        aligned: its slats run along the coffer's sides or across them; else at an angle.
        overlap: how far it lies behind the trim; negative by how much shows beyond it.
        gap: least distance to the side: along the slat from an end, square to the side else; negative beyond it.
        line: from where to where it runs in the plan.
    """

    part: str
    against: str
    end: int | None
    aligned: bool
    overlap: float
    gap: float
    # Where the report has the part's outline.
    line: tuple[Point, ...] = field(default=(), metadata={"exclude": True})


@dataclass(frozen=True, slots=True, kw_only=True)
class _Edge:
    """One edge of a slat; `out` is a unit vector out of it: along its axis at an end, square to the edge else."""

    part: Part
    coffer: Coffer
    start: Point
    finish: Point
    end: int | None
    out: Point

    @property
    def middle(self) -> Point:
        return middle(self.start, self.finish)


def end_fits(subject: Subject) -> tuple[EdgeFit, ...]:
    """Ends of every slat, coffer by coffer, but for those that a cut-out made and those at other slats."""
    holes = [Polygon(cut_out.outline) for cut_out in subject.layout.cut_outs]
    edges = [edge for _, found in _by_coffer(subject) for edge in _at_sides(subject, found)]
    return _fits(subject, [e for e in edges if all(h.distance(shapely.Point(e.middle)) > AT_CUT_OUT for h in holes)])


def _at_sides(subject: Subject, edges: Sequence[_Edge]) -> list[_Edge]:
    """Ends of one coffer's slats that look at its sides: no other slat lies between."""
    ends = [edge for edge in edges if edge.end is not None]
    slats = tuple(dict.fromkeys(edge.part.id for edge in edges))
    ways = [shapely.LineString([_ahead(end, ARITHMETIC), _ahead(end, _end_gap(end))]) for end in ends]
    tree = shapely.STRtree([subject.polygon(name) for name in slats])
    pairs: list[list[int]] = tree.query(ways, predicate="intersects").T.tolist()
    met = {i for i, j in pairs if slats[j] != ends[i].part.id}
    return [end for i, end in enumerate(ends) if i not in met]


def _ahead(edge: _Edge, by: float) -> Point:
    """So far out of the middle of an edge."""
    return moved(edge.middle, edge.out, by)


def side_edge_fits(subject: Subject) -> tuple[EdgeFit, ...]:
    """Long edges of slats that no other slat lies beyond, coffer by coffer."""
    numbers = {slat.id: slat.number for slat in subject.layout.slats}
    found: list[_Edge] = []
    for coffer, edges in _by_coffer(subject):
        across = Line(coffer.sides[0].start, coffer.direction)
        slats = {edge.part.id: edge.part for edge in edges}
        places = {
            name: (numbers.get(name, i), sum(map(across.offset, part.outline)) / len(part.outline))
            for i, (name, part) in enumerate(slats.items())
        }
        found += [edge for edge in edges if edge.end is None and _is_outermost(edge, across, places)]
    return _fits(subject, found)


def _by_coffer(subject: Subject) -> list[tuple[Coffer, list[_Edge]]]:
    """Every edge of every slat."""
    slats = subject.of_kind("slat")
    return [
        (coffer, [edge for part in slats if part.coffer == coffer.id for edge in _edges(part, coffer)])
        for coffer in subject.layout.coffers
    ]


def _fits(subject: Subject, edges: Sequence[_Edge]) -> tuple[EdgeFit, ...]:
    found: list[EdgeFit] = []
    for edge, overlap in zip(edges, _overlaps(subject, edges), strict=True):
        facing = _facing_side(edge)
        fit = EdgeFit(
            part=edge.part.id,
            against=facing.against if edge.end is None else edge.part.meets[edge.end],
            end=edge.end,
            aligned=not edge.coffer.cut_to_shape,
            overlap=overlap,
            gap=_gap(edge, facing),
            line=(edge.start, edge.finish),
        )
        found.append(fit)
    return tuple(found)


def _is_outermost(edge: _Edge, across: Line, places: dict[str, tuple[int, float]]) -> bool:
    number, place = places[edge.part.id]
    sign = 1.0 if dot(edge.out, across.left) > 0.0 else -1.0
    return not any(other != number and sign * (at - place) > 0.0 for other, at in places.values())


def _edges(part: Part, coffer: Coffer) -> list[_Edge]:
    axis = Line.through(*part.axis)
    ring = part.outline
    if len(ring) != 4:
        ring = tuple((float(x), float(y)) for x, y in hull_ring(Polygon(ring)))
    found: list[_Edge] = []
    for a, b in pairwise((*ring, ring[0])):
        length = math.dist(a, b)
        if length <= ARITHMETIC:
            continue
        normal = ((b[1] - a[1]) / length, -(b[0] - a[0]) / length)
        lean = dot(normal, axis.direction)
        along = axis.direction if lean > 0.0 else (-axis.direction[0], -axis.direction[1])
        end, out = (int(lean > 0.0), along) if abs(lean) > ALONG else (None, normal)
        found.append(_Edge(part=part, coffer=coffer, start=a, finish=b, end=end, out=out))
    return found


def _overlaps(subject: Subject, edges: Sequence[_Edge]) -> list[float]:
    openings = [subject.openings[edge.coffer.id] for edge in edges]
    behind = distances([shapely.LineString([edge.start, edge.finish]) for edge in edges], openings)
    return [
        float(distance) if distance > 0.0 else -_showing(edge, opening)
        for edge, opening, distance in zip(edges, openings, behind, strict=True)
    ]


def _showing(edge: _Edge, opening: BaseGeometry) -> float:
    """How far the opening goes on beyond an edge, square to it."""
    line = Line.through(edge.start, edge.finish)
    length = math.dist(edge.start, edge.finish)
    reach = 10.0 * max(1.0, length) + 1e4
    beyond = Polygon((line.at(0.0), line.at(0.0, -reach), line.at(length, -reach), line.at(length)))
    points = shapely.get_coordinates(common(opening, beyond))
    return max((-line.offset((float(x), float(y))) for x, y in points), default=0.0)


def _facing_side(edge: _Edge) -> Side:
    """The side of the coffer that an edge looks at: nearest to its middle of those across its way out."""
    facing = [side for side in edge.coffer.sides if dot(side.line.left, edge.out) > FACING]
    if facing:
        return min(facing, key=lambda side: abs(side.line.offset(edge.middle)))
    return max(edge.coffer.sides, key=lambda side: dot(side.line.left, edge.out))


def _gap(edge: _Edge, facing: Side) -> float:
    """Of an edge's two corners."""
    if edge.end is not None:
        return _end_gap(edge)
    return min(-facing.line.offset(edge.start), -facing.line.offset(edge.finish))


def _end_gap(edge: _Edge) -> float:
    # A corner may lie on the side that the slat runs along; only sides across the slat's way can stop it.
    across = [side for side in edge.coffer.sides if dot(side.line.left, edge.out) > ALONG]
    return min(_way(corner, edge.out, across) for corner in (edge.start, edge.finish))


def _way(corner: Point, out: Point, sides: Sequence[Side]) -> float:
    """From a corner to the first side; negative where the corner stands beyond it."""
    found = NOTHING_AHEAD
    for side in sides:
        line = side.line
        ahead = -line.offset(corner) / dot(line.left, out)
        at = line.along(moved(corner, out, ahead))
        if -BACK < ahead < found and -ARITHMETIC <= at <= line.along(side.end) + ARITHMETIC:
            found = ahead
    return found
