"""Rows of cross beams and the pieces they are cut into: rule 3."""

from collections.abc import Sequence
from dataclasses import replace

from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from lacunar.config import Config, CrossBeams, Fixture, WindowTable
from lacunar.geometry import Line, Point, Ring, Segment
from lacunar.layout.bars import Edge, nearer_first, runs, shortened
from lacunar.layout.beams import fitted_bar
from lacunar.layout.grid import BeamGrid, outer_stretch
from lacunar.layout.polygons import common, endless, strip
from lacunar.layout.saying import Say, refusal
from lacunar.layout.spread import moved_to, spread
from lacunar.layout.types import Bar
from lacunar.survey import Room, point_from_walls, wall_point
from lacunar.tolerances import POLYGON_AREA


def row_lines(room: Room, config: Config, grid: BeamGrid, free: Ring) -> tuple[Line, ...]:
    """Centre lines of the rows, each from the first outer line to the second, in order away from A.

    Args:
        room: the room.
        config: the config.
        grid: the walls that the beams run beside.
        free: clockwise ring inside a moulding that stays and half beams.
    """
    cross = config.cross_beams
    if cross is None:
        return ()
    if cross.at:
        walls = _outer(room, grid, room.points)
        placed = tuple(Line.through(*(wall.line.at(at) for wall in walls)) for at in cross.at)
        _stay_inside(placed, cross.width, walls, "cross_beams.at", "one of the rows would stand in a wall")
        return placed
    count = cross.rows if cross.rows is not None else 1
    if count == 0:
        return ()
    first, second = _outer(room, grid, free)
    centres = spread(first, second, count, cross.width, "cross_beams.rows", config.tape.text)
    if cross.align is None:
        return centres
    target = _target(room, config.fixture, config.window, grid, cross.align)
    moved = moved_to(centres, cross.width, first, second, target)
    what = f'moving the rows to "{cross.align}" pushes one of them into a wall'
    _stay_inside(moved, cross.width, (first, second), "cross_beams.align", what)
    return moved


def _outer(room: Room, grid: BeamGrid, ring: Ring) -> tuple[Segment, Segment]:
    """The two outer lines of rule 3.

    Where the room has more than four corners the outer walls need not face each other over their whole length: rows
    then run parallel to the wall at A that they do not end on, shared out along the longer one.
    """
    first, second = (outer_stretch(room, wall, grid.ahead, ring) for wall in grid.outer)
    if len(room.points) == 4:
        return first, second
    beside = room.walls[0] if room.walls[0] not in grid.outer else room.walls[-1]
    direction = room.wall_line(beside).direction
    longer, other = (first, second) if first.length >= second.length else (second, first)
    ends = [Line(p, direction).crossing(other.line) for p in (longer.start, longer.end)]
    projected = Segment(ends[0], ends[1])
    return (longer, projected) if longer is first else (projected, longer)


def _target(
    room: Room, fixtures: Sequence[Fixture], windows: Sequence[WindowTable], grid: BeamGrid, align: str
) -> Point:
    """The middle of the window or fixture that a coffer is to lie on."""
    fixture = next((f for f in fixtures if align in ("fixture", f.name)), None)
    if fixture is not None:
        return point_from_walls(room, fixture.at)
    window = next((w for w in windows if w.wall in grid.outer), None)
    if align == "window" and window is not None:
        return wall_point(room, window.wall, window.from_, window.at + window.width / 2.0)
    walls = " or ".join(grid.outer)
    what = f'got "{align}": there is no such fixture, and no window in wall {walls}'
    raise refusal("cross_beams.align", what, f"rows can be aligned to a window in {walls} or to a fixture by its name")


def _stay_inside(
    rows: tuple[Line, ...], width: float, stretches: tuple[Segment, Segment], where: str, what: str
) -> None:
    for stretch in stretches:
        places = [stretch.line.along(row.crossing(stretch.line)) for row in rows]
        if min(places) < width / 2.0 or max(places) > stretch.length - width / 2.0:
            raise refusal(where, what, "take one row less, or give their places with at = [...]")


def cut_rows(
    room: Room,
    cross: CrossBeams | None,
    rows: tuple[Line, ...],
    region: BaseGeometry,
    edges: tuple[Edge, ...],
    bars: tuple[Bar, ...],
    say: Say,
) -> tuple[Bar, ...]:
    """The pieces of every row.

    Args:
        room: the room.
        cross: tells the stock.
        rows: centre lines.
        region: what beams, half beams and mouldings leave free.
        edges: faces that pieces end against.
        bars: beams and half beams; a piece's bottom joins theirs.
        say: prints a length in a message.

    Returns:
        X1-1, X1-2, ..., X2-1, ...: in each row from the end nearer A.
    """
    if cross is None:
        return ()
    made: list[Bar] = []
    for number, row in enumerate(rows, start=1):
        span = endless(room.points)
        openings = runs(region, row, cross.width, span)
        inside = common(region, strip(row, cross.width / 2.0, -cross.width / 2.0, span))
        passed_by = inside.area > sum(Polygon(run.outline).area for run in openings) + POLYGON_AREA
        # Ends that lean by up to 45 degrees make one side two widths longer than the other.
        if passed_by or any(run.clear[1] - run.clear[0] > 2.0 * cross.width for run in openings):
            what = "it runs along a wall or a beam, or round a corner, with only a part of its width in the room"
            raise refusal(f"row X{number}", what, "move that row, or measure the beams' ends again")
        for i, opening in enumerate(openings, start=1):
            id, seat = f"X{number}-{i}", replace(opening, axis=nearer_first(opening.axis, room.points[0]))
            piece = shortened(seat, row, cross.joint.clearance)
            if piece is None:
                what = f"its opening is only {say(opening.clear[1])} long"
                raise refusal(f"piece {id}", what, "move that row")
            made.append(
                fitted_bar(
                    room, cross, seat, piece, edges, bars, id=id, kind="cross beam", width=cross.width, up=cross.bottom
                )
            )
    return tuple(made)
