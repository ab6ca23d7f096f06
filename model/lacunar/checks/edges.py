"""The edges of slats that look at the sides of their coffer, and how far behind the trim they lie."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from lacunar.checks.shapes import common, distances, hull_ring, polygon, segment
from lacunar.checks.subject import Subject
from lacunar.geometry import Line, Point, Ring
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


@dataclass(frozen=True, slots=True, kw_only=True)
class OuterEdge:
    """One edge of a slat that no other slat lies beyond.

    Attributes:
        is_end: an end cut; else a long edge.
        end: 0 or 1 for an end cut, the end nearer A first.
        out: unit vector out of the slat: along its axis at an end, square to the edge else.
    """

    part: Part
    coffer: Coffer
    start: Point
    finish: Point
    is_end: bool
    end: int
    out: Point

    @property
    def line(self) -> LineString:
        """As a shape."""
        return segment(self.start, self.finish)


def outer_edges(subject: Subject, *, ends: bool) -> tuple[OuterEdge, ...]:
    """End cuts, or outermost long edges, of every slat, coffer by coffer."""
    by_coffer: dict[str, list[Part]] = {coffer.id: [] for coffer in subject.layout.coffers}
    for part in subject.of_kind("slat"):
        if part.coffer in by_coffer:
            by_coffer[part.coffer].append(part)
    numbers = {slat.id: slat.number for slat in subject.layout.slats}
    holes = [polygon(cut_out.outline) for cut_out in subject.layout.cut_outs]
    found: list[OuterEdge] = []
    for coffer in subject.layout.coffers:
        slats = by_coffer[coffer.id]
        places = _Places.of(coffer, slats, numbers)
        for part in slats:
            edges = [edge for edge in _edges(part, coffer) if edge.is_end == ends]
            if ends:
                found += [edge for edge in edges if not _at_cut_out(edge, holes)]
            else:
                found += [edge for edge in edges if places.is_outermost(edge)]
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _Places:
    """Where slats lie across a coffer."""

    across: Line
    places: tuple[tuple[int, float], ...]
    by_id: dict[str, int]

    @staticmethod
    def of(coffer: Coffer, slats: Sequence[Part], numbers: dict[str, int]) -> "_Places":
        across = Line(coffer.sides[0].start, coffer.direction)
        places = tuple((numbers.get(part.id, i), _middle(across, part.outline)) for i, part in enumerate(slats))
        return _Places(across, places, {part.id: i for i, part in enumerate(slats)})

    def is_outermost(self, edge: OuterEdge) -> bool:
        number, place = self.places[self.by_id[edge.part.id]]
        left = self.across.left
        sign = 1.0 if edge.out[0] * left[0] + edge.out[1] * left[1] > 0.0 else -1.0
        return not any(other != number and sign * (at - place) > 0.0 for other, at in self.places)


def _middle(across: Line, ring: Ring) -> float:
    return sum(across.offset(point) for point in ring) / len(ring)


def _edges(part: Part, coffer: Coffer) -> list[OuterEdge]:
    axis = Line.through(*part.axis)
    ring = part.outline if len(part.outline) == 4 else _hull(part.outline)
    found: list[OuterEdge] = []
    for a, b in pairwise((*ring, ring[0])):
        length = math.dist(a, b)
        if length <= ARITHMETIC:
            continue
        normal = ((b[1] - a[1]) / length, -(b[0] - a[0]) / length)
        lean = normal[0] * axis.direction[0] + normal[1] * axis.direction[1]
        is_end, end = abs(lean) > ALONG, int(lean > 0.0)
        along = axis.direction if end else (-axis.direction[0], -axis.direction[1])
        out = along if is_end else normal
        found.append(OuterEdge(part=part, coffer=coffer, start=a, finish=b, is_end=is_end, end=end, out=out))
    return found


def _hull(ring: Ring) -> Ring:
    return tuple((float(x), float(y)) for x, y in hull_ring(polygon(ring)))


def _at_cut_out(edge: OuterEdge, holes: Sequence[Polygon]) -> bool:
    middle = shapely.Point((edge.start[0] + edge.finish[0]) / 2.0, (edge.start[1] + edge.finish[1]) / 2.0)
    return any(hole.distance(middle) <= AT_CUT_OUT for hole in holes)


def overlaps_of(subject: Subject, edges: Sequence[OuterEdge]) -> tuple[float, ...]:
    """How far each edge lies behind the trim; negative by how much shows beyond it."""
    openings = [subject.openings[edge.coffer.id] for edge in edges]
    behind = distances([edge.line for edge in edges], openings)
    return tuple(
        float(distance) if distance > 0.0 else -_showing(edge, opening)
        for edge, opening, distance in zip(edges, openings, behind, strict=True)
    )


def _showing(edge: OuterEdge, opening: BaseGeometry) -> float:
    """How far the opening goes on beyond an edge, square to it."""
    line = Line.through(edge.start, edge.finish)
    reach = 10.0 * max(1.0, math.dist(edge.start, edge.finish)) + 1e4
    length = math.dist(edge.start, edge.finish)
    beyond = polygon((line.at(0.0), line.at(0.0, -reach), line.at(length, -reach), line.at(length)))
    points = shapely.get_coordinates(common(opening, beyond))
    return max((-line.offset((float(x), float(y))) for x, y in points), default=0.0)


def facing_side(edge: OuterEdge) -> Side:
    """The side of the coffer that an edge looks at: nearest to its middle of those across its way out."""
    middle = ((edge.start[0] + edge.finish[0]) / 2.0, (edge.start[1] + edge.finish[1]) / 2.0)
    facing = [side for side in edge.coffer.sides if _dot(side.line.left, edge.out) > FACING]
    if facing:
        return min(facing, key=lambda side: abs(side.line.offset(middle)))
    return max(edge.coffer.sides, key=lambda side: _dot(side.line.left, edge.out))


def gap_across(edge: OuterEdge) -> float:
    """Least distance from an edge to the side that it looks at, square to that side; negative beyond it."""
    side = facing_side(edge).line
    return min(-side.offset(edge.start), -side.offset(edge.finish))


def _dot(a: Point, b: Point) -> float:
    return a[0] * b[0] + a[1] * b[1]


def gap_along(edge: OuterEdge) -> float:
    """Least distance from an end's two corners to the coffer's sides, measured along the slat; negative beyond them."""
    # A corner may lie on the side that the slat runs along; only sides across the slat's way can stop it.
    across = [side for side in edge.coffer.sides if _dot(side.line.left, edge.out) > ALONG]
    return min(_way(corner, edge.out, across) for corner in (edge.start, edge.finish))


def _way(corner: Point, out: Point, sides: Sequence[Side]) -> float:
    """From a corner to the first side; negative where the corner stands beyond it."""
    found = float("inf")
    for side in sides:
        line = side.line
        ahead = -line.offset(corner) / _dot(line.left, out)
        at = line.along((corner[0] + ahead * out[0], corner[1] + ahead * out[1]))
        if -BACK < ahead < found and -ARITHMETIC <= at <= line.along(side.end) + ARITHMETIC:
            found = ahead
    return found
