"""Where joists and strips of furring cross each coffer, from the faces that a tape is held to."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import shapely
from shapely import Polygon

from lacunar.geometry import Line, Point, dot
from lacunar.layout.nails import ALONG, sine
from lacunar.layout.types import Coffer, FurringStrip, Layout, Side
from lacunar.tolerances import CONTACT


@dataclass(frozen=True, slots=True, kw_only=True)
class OverheadMark:
    """One line over a coffer.

    Attributes:
        name: of the joist ("joist 3"), id of the strip.
        ends: where the line meets the coffer's sides; the first is nearer the start of the face that it is taken from.
        distances: of both ends, square from that face.
    """

    name: str
    ends: tuple[Point, Point]
    distances: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class OverheadLines:
    """Lines over a coffer that are measured from one face.

    Attributes:
        coffer: id.
        kind: centre lines of joists, or near edges of strips.
        side: index of the coffer's side that distances are taken from.
        marks: in order of their distance.
    """

    coffer: str
    kind: str
    side: int
    marks: tuple[OverheadMark, ...]


def overhead_lines(layout: Layout) -> tuple[OverheadLines, ...]:
    """Of every coffer the joists, and the strips of furring, where there are any of them.

    What crosses the slats is taken from the side at their ends that lies nearer A, what runs along them from their
    start side: so nothing is marked from a face that an earlier mark was not.
    """
    found: list[OverheadLines] = []
    for coffer in layout.coffers:
        joists = [(f"joist {number}", line) for number, line in enumerate(layout.joists.lines, 1)]
        strips = [strip for strip in layout.furring_strips if strip.coffer == coffer.id]
        found += _lines(layout, coffer, "joist", joists)
        found += _lines(layout, coffer, "furring", _near_edges(layout, coffer, strips))
    return tuple(found)


def _lines(layout: Layout, coffer: Coffer, kind: str, lines: Iterable[tuple[str, Line]]) -> Iterator[OverheadLines]:
    shape, slats = Polygon(coffer.outline), Line(coffer.outline[0], coffer.direction)
    inside = [(name, line, ends) for name, line in lines if (ends := _inside(shape, line)) is not None]
    for across in (True, False):
        taken = [(name, ends) for name, line, ends in inside if (sine(slats, line) >= ALONG) is across]
        side = _end_side(layout, coffer) if across else coffer.start_side
        marks = [_mark(coffer, coffer.sides[side], name, ends) for name, ends in taken]
        if marks:
            ordered = sorted(marks, key=lambda mark: sum(mark.distances))
            yield OverheadLines(coffer=coffer.id, kind=kind, side=side, marks=tuple(ordered))


def _inside(shape: Polygon, line: Line) -> tuple[Point, Point] | None:
    """The longest stretch of a line in a coffer."""
    cut = shape.intersection(shapely.LineString([line.at(-1e6), line.at(1e6)]))
    pieces = [
        piece for piece in shapely.get_parts(cut) if isinstance(piece, shapely.LineString) and piece.length > CONTACT
    ]
    if not pieces:
        return None
    (ax, ay), (bx, by) = max(pieces, key=lambda piece: piece.length).coords
    return (ax, ay), (bx, by)


def _mark(coffer: Coffer, side: Side, name: str, ends: tuple[Point, Point]) -> OverheadMark:
    first, second = sorted(ends, key=side.line.along)
    stretch = coffer.ceiling.stretch(side.line.left)
    off = (-side.line.offset(first) * stretch, -side.line.offset(second) * stretch)
    return OverheadMark(name=name, ends=(first, second), distances=off)


def _end_side(layout: Layout, coffer: Coffer) -> int:
    """Of the two sides next to the start side the one that lies nearer A."""
    n, at = len(coffer.sides), coffer.start_side
    way = coffer.sides[at].line.direction
    axis = next((slat.axis for slat in layout.slats if slat.coffer == coffer.id), None)
    ahead = axis is None or dot((axis[1][0] - axis[0][0], axis[1][1] - axis[0][1]), way) >= 0.0
    return (at - 1) % n if ahead else (at + 1) % n


def _near_edges(layout: Layout, coffer: Coffer, strips: Iterable[FurringStrip]) -> Iterator[tuple[str, Line]]:
    """Of each strip the edge that lies nearer the side that it is measured from."""
    slats = Line(coffer.outline[0], coffer.direction)
    for strip in strips:
        axis = Line.through(*strip.axis)
        across = sine(slats, axis) >= ALONG
        face = coffer.sides[_end_side(layout, coffer) if across else coffer.start_side].line
        near = axis.shifted(strip.width / 2.0), axis.shifted(-strip.width / 2.0)
        yield strip.id, max(near, key=lambda line: face.offset(line.point))
