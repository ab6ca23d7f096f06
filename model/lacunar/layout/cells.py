"""Coffers: what beams and walls leave of the room, numbered, with their sides: rule 4."""

from collections.abc import Iterable, Sequence

import shapely
from shapely import Polygon

from lacunar.errors import LayoutError, Problem
from lacunar.geometry import Line, Point, Ring, centroid, middle
from lacunar.layout.bars import Edge, nearest_owner, past_the_walls
from lacunar.layout.grid import QUARTER, BeamGrid
from lacunar.layout.polygons import endless, inset, pieces_of, rest, ring_of, strip
from lacunar.layout.saying import Say, refusal
from lacunar.layout.types import Bar, Cell, Side
from lacunar.survey import Room


def cut_cells(
    room: Room,
    grid: BeamGrid,
    free: Ring,
    beams: tuple[Bar, ...],
    rows: tuple[Line, ...],
    width: float,
    edges: Iterable[Edge],
) -> tuple[Cell, ...]:
    """The coffers, C1, C2, ... along AB first from A, then row by row away from AB.

    Args:
        room: the room.
        grid: direction of the beams.
        free: clockwise ring inside a moulding that stays and half beams.
        beams: existing and main beams.
        rows: centre lines of the cross beams; their strips are taken uncut, so clearance joins no coffers.
        width: of the cross beams.
        edges: faces that coffers' sides lie on.
    """
    span = endless(room.points)
    solid = [past_the_walls(beam) for beam in beams]
    solid += [strip(row, width / 2.0, -width / 2.0, span) for row in rows]
    left = rest(Polygon(free), solid)
    rings = [ring_of(polygon) for polygon in pieces_of(left)]
    if not rings:
        raise refusal("the ceiling", "beams leave no coffer between them", "take fewer beams")
    placed = sorted(((_place(room, grid, beams, rows, ring), ring) for ring in rings), key=lambda item: _order(*item))
    faces = tuple(edges)
    return tuple(
        Cell(id=f"C{i}", row=row, column=column, sides=_sides(room, grid, ring, faces))
        for i, ((row, column), ring) in enumerate(placed, start=1)
    )


def refuse_narrow(cells: Sequence[Cell], trim: float, say: Say) -> None:
    """Look at every side that a strip of trim is to lie along, and at what its strips leave of a coffer.

    Raises:
        LayoutError: of some coffer nothing is left to cover; else a side is shorter than the trim is wide, or trim
            along its neighbours leaves nothing of it.
    """
    problems = [
        Problem(
            where=f"coffer {cell.id}",
            what=f"it is narrower than its two strips of trim, {say(2.0 * trim)} together",
            fix=f"move {' or '.join(sorted({side.against for side in cell.sides}))} or take fewer",
        )
        for cell in cells
        if Polygon(cell.outline).buffer(-trim, join_style="mitre").is_empty
    ]
    for cell in () if problems else cells:
        # Sides run the other way round than the ring.
        inner = inset(cell.outline, trim)
        ends = zip(inner, inner[1:] + inner[:1], strict=True)
        for side, (end, start) in zip(reversed(cell.sides), ends, strict=True):
            if side.length < trim or side.line.along(end) <= side.line.along(start):
                problems.append(_short(cell, side, trim, say))
    if problems:
        raise LayoutError(problems)


def _short(cell: Cell, side: Side, trim: float, say: Say) -> Problem:
    long, wide = say(side.length), say(trim)
    beside = sorted({one.against for one in cell.sides if {one.start, one.end} & {side.start, side.end}})
    return Problem(
        where=f"coffer {cell.id}",
        what=f"its side along {side.against} is only {long} long, too short for trim {wide} wide on both sides of it",
        fix=f"measure again where {', '.join(beside)} are, or move them",
    )


def _order(place: tuple[int, int], ring: Ring) -> tuple[int, int, float, float]:
    x, y = centroid(ring)
    return (*place, x, -y)


def _place(room: Room, grid: BeamGrid, beams: tuple[Bar, ...], rows: tuple[Line, ...], ring: Ring) -> tuple[int, int]:
    """Row and column: how many lines of each family lie between a ring and corner A."""
    point = shapely.point_on_surface(Polygon(ring))
    at = (float(point.x), float(point.y))
    passed = (
        sum(_between(Line.through(*beam.axis), room.points[0], at) for beam in beams),
        sum(_between(row, room.points[0], at) for row in rows),
    )
    beams_cross_ab = Line((0.0, 0.0), grid.ahead).lean_to(room.wall_line(room.walls[0])) >= QUARTER
    return (passed[1], passed[0]) if beams_cross_ab else passed


def _between(line: Line, corner: Point, at: Point) -> bool:
    return line.offset(corner) * line.offset(at) < 0.0


def _sides(room: Room, grid: BeamGrid, ring: Ring, edges: tuple[Edge, ...]) -> tuple[Side, ...]:
    """Sides clockwise, first the one on or facing AB: nearest to it of those that look towards it."""
    clockwise = ring[:1] + ring[:0:-1]
    sides = [
        Side(
            start=a,
            end=b,
            against=nearest_owner(edges, middle(a, b)),
            along_beams=grid.along_beams(Line.through(a, b)),
        )
        for a, b in zip(clockwise, clockwise[1:] + clockwise[:1], strict=True)
    ]
    ab = room.wall_line(room.walls[0])
    looking = [i for i, side in enumerate(sides) if abs(side.line.angle_to(ab)) <= QUARTER] or list(range(len(sides)))
    first = min(looking, key=lambda i: -max(ab.offset(sides[i].start), ab.offset(sides[i].end)))
    return tuple(sides[first:] + sides[:first])
