"""Beams, pieces and mouldings as upright prisms: their outline, what their ends meet, their two planes."""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from lacunar.geometry import Line, Plane, Point, Ring, Segment, crossings, end_mitres, extent
from lacunar.layout.member import mitred
from lacunar.layout.polygons import common, endless, pieces_of, rest, ring_of, shift, strip
from lacunar.layout.types import Bar
from lacunar.survey import Room, ceiling_height, fold_crossings
from lacunar.tolerances import ARITHMETIC


@dataclass(frozen=True, slots=True)
class Edge(Segment):
    """A face that ends can stand against: a side of a bar or a wall."""

    owner: str

    def distance(self, point: Point) -> float:
        """From a point to the nearest point of the edge."""
        line = self.line
        return math.dist(line.at(min(max(line.along(point), 0.0), line.along(self.end))), point)

    def is_beyond(self, reach: float, point: Point) -> bool:
        """Whether the edge is further from a point than that, seen along x or y alone: quickly told of most edges."""
        return any(
            min(a, b) - at > reach or at - max(a, b) > reach
            for a, b, at in zip(self.start, self.end, point, strict=True)
        )


def edges_of(owner: str, ring: Ring) -> tuple[Edge, ...]:
    """The sides of a ring, all of one owner."""
    return tuple(Edge(a, b, owner) for a, b in zip(ring, ring[1:] + ring[:1], strict=True))


def wall_edges(room: Room, inner: Ring) -> tuple[Edge, ...]:
    """The sides of the room, or of its clockwise inset, named after the walls."""
    return tuple(Edge(a, b, wall) for wall, a, b in zip(room.walls, inner, inner[1:] + inner[:1], strict=True))


def nearest_owner(edges: Iterable[Edge], point: Point) -> str:
    """Whose face a point lies on."""
    nearest, owner = math.inf, ""
    for edge in edges:
        if not edge.is_beyond(nearest, point) and (distance := edge.distance(point)) < nearest:
            nearest, owner = distance, edge.owner
    return owner


@dataclass(frozen=True, slots=True, kw_only=True)
class BarRun:
    """One straight run of a bar through a region, before anything is taken off its ends.

    Attributes:
        outline: counter-clockwise.
        axis: the centre line's two ends.
        clear: the shorter and the longer of its two sides.
    """

    outline: Ring
    axis: tuple[Point, Point]
    clear: tuple[float, float]


def runs(region: BaseGeometry, centre: Line, width: float, span: tuple[float, float]) -> tuple[BarRun, ...]:
    """The pieces of a bar's strip inside a region, in order along its centre line; not those that it does not pass.

    Args:
        region: where the bar may be.
        centre: centre line.
        width: across.
        span: from where to where along the centre line the strip is drawn.
    """
    found = pieces_of(common(region, strip(centre, width / 2.0, -width / 2.0, span)))
    made = [_run(ring_of(polygon), centre, width) for polygon in found]
    return tuple(sorted((run for run in made if run is not None), key=lambda run: centre.along(run.axis[0])))


def shortened(run: BarRun, centre: Line, clearance: float) -> BarRun | None:
    """A run less half the clearance at each end, its sides where they were; None where nothing is left."""
    if clearance <= 0.0:
        return run
    if min(run.clear) < clearance + ARITHMETIC:
        return None
    dx, dy = (clearance / 2.0 * c for c in centre.direction)
    ahead, back = (Polygon(shift(run.outline, by)) for by in ((dx, dy), (-dx, -dy)))
    left = pieces_of(common(ahead, back))
    if not left:
        return None
    line = Line.through(*run.axis)
    axis = (line.at(clearance / 2.0), line.at(line.along(run.axis[1]) - clearance / 2.0))
    return replace(run, outline=ring_of(max(left, key=lambda polygon: polygon.area)), axis=axis)


def _run(outline: Ring, centre: Line, width: float) -> BarRun | None:
    half = width / 2.0
    sides = [_side_extent(outline, centre, at) for at in (-half, half)]
    along = crossings(outline, centre)
    if not along:
        return None
    lengths = sorted(end - start for start, end in sides)
    return BarRun(outline=outline, axis=(centre.at(min(along)), centre.at(max(along))), clear=(lengths[0], lengths[1]))


def _side_extent(outline: Ring, centre: Line, at: float) -> tuple[float, float]:
    nearest = min(abs(centre.offset(p) - at) for p in outline)
    return extent([p for p in outline if abs(centre.offset(p) - at) <= nearest + 1e-6], centre)


def past_the_walls(beam: Bar) -> Polygon:
    """A beam's strip a little longer than the beam: rounding at its ends must not join what lies beside it."""
    axis = Line.through(*beam.axis)
    low, high = extent(beam.outline, axis)
    return strip(axis, beam.width / 2.0, -beam.width / 2.0, (low - 1.0, high + 1.0))


def region_without(outline: Ring, bars: Iterable[Bar]) -> BaseGeometry:
    """A ring's area less bars."""
    return rest(Polygon(outline), [past_the_walls(bar) for bar in bars])


def straight_through(outline: Ring, centre: Line, width: float) -> BarRun | None:
    """The longest run of a bar through a ring; None where it passes outside."""
    found = runs(Polygon(outline), centre, width, endless(outline))
    return max(found, key=lambda run: run.clear[1], default=None)


def hung_planes(room: Room, axis: tuple[Point, Point], depth: float) -> tuple[Plane, Plane]:
    """Bottom and top of a bar that hangs `depth` under the ceiling at both ends, straight between."""
    start, end = axis
    z0, z1 = ceiling_height(room, start), ceiling_height(room, end)
    return Plane.along(start, end, z0 - depth, z1 - depth), Plane.along(start, end, z0, z1)


def hung(run: BarRun, axis: tuple[Point, Point], planes: tuple[Plane, Plane]) -> dict[str, Any]:
    """A bar's shape: its run, from the end nearer A, between two planes."""
    line = Line.through(*axis)
    low, high = extent(run.outline, line)
    return {
        "outline": run.outline,
        "axis": axis,
        "clear": run.clear,
        "bottom": planes[0],
        "top": planes[1],
        "length": (high - low) * planes[0].stretch(line.direction),
        "ends": mitred(end_mitres(run.outline, line)),
    }


def fitted_planes(room: Room, run: BarRun, bottoms: tuple[float, float], depth: float) -> tuple[Plane, Plane]:
    """Bottom and top of a bar whose bottom joins two heights.

    The top is as bought where the ceiling leaves room for the whole section; else it is cut to the highest straight
    line that stays under the ceiling and inside the section.
    """
    start, end = run.axis
    bottom = Plane.along(start, end, *bottoms)
    points = ceiling_points(room, run.outline)
    room_above = min(ceiling_height(room, p) - bottom.at(p) for p in points)
    if room_above >= depth - 1e-9:
        return bottom, bottom.lifted(depth)
    tops = tuple(min(ceiling_height(room, p), bottom.at(p) + depth) for p in run.axis)
    top = Plane.along(start, end, *tops)
    over = max(top.at(p) - ceiling_height(room, p) for p in points)
    return bottom, top.lifted(-max(over, 0.0))


def ceiling_points(room: Room, outline: Ring) -> tuple[Point, ...]:
    """Points of an outline at which the ceiling over it can be lowest: corners, folds of the ceiling, its centre."""
    found = list(outline)
    for a, b in zip(outline, outline[1:] + outline[:1], strict=True):
        side, length = Line.through(a, b), math.dist(a, b)
        found.extend(side.at(along) for along in fold_crossings(room, side) if 0.0 < along < length)
    if shapely.contains_xy(Polygon(outline), *room.centre[:2]):
        found.append(room.centre[:2])
    return tuple(found)


def nearer_first(axis: tuple[Point, Point], corner: Point) -> tuple[Point, Point]:
    """The two ends, the one nearer to a corner of the room first."""
    return axis if math.dist(axis[0], corner) <= math.dist(axis[1], corner) else (axis[1], axis[0])
