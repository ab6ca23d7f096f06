"""What hangs already or is hung through: existing and main beams, mouldings that stay, half beams along walls."""

import math
from dataclasses import dataclass, replace

from lacunar.config import Beam, BeamEnd, Config, beam_mark
from lacunar.errors import LayoutError, Problem
from lacunar.geometry import Line, Point, Ring, counter_clockwise
from lacunar.layout.astray import refuse_astray
from lacunar.layout.bars import (
    Edge,
    edges_of,
    fitted_planes,
    hung,
    hung_planes,
    nearer_first,
    nearest_owner,
    region_without,
    runs,
    shortened,
    straight_through,
    wall_edges,
)
from lacunar.layout.polygons import endless, inset
from lacunar.layout.saying import saying
from lacunar.layout.spread import Stretch, spread
from lacunar.layout.types import Bar
from lacunar.survey import Room, ceiling_height, wall_point


@dataclass(frozen=True, slots=True, kw_only=True)
class Hung:
    """One existing or main beam before it becomes a bar."""

    name: str
    centre: Line
    width: float
    depth: float
    stock: str
    species: str
    new: bool
    keep: bool
    made: str
    shell: float


def hung_beams(room: Room, config: Config) -> tuple[Hung, ...]:
    """Existing and main beams with their centre lines, as measured at both ends or evenly spread."""
    species = config.cross_beams.species if config.cross_beams else config.slats.species
    measured = tuple(
        Hung(
            name=beam.name,
            centre=_measured_centre(room, beam),
            width=beam.width,
            depth=beam.depth,
            stock=beam.stock or "",
            species=beam.species or species,
            new=beam.new,
            keep=beam.keep,
            made=beam.made.kind,
            shell=beam.made.shell,
        )
        for beam in config.beam
    )
    if config.beams is None:
        return measured
    even = config.beams
    first, second = (_from_a(room, wall) for wall in even.between)
    if first.line.direction[0] * second.line.direction[0] + first.line.direction[1] * second.line.direction[1] < 0.0:
        second = Stretch(second.end, second.start)
    centres = spread(
        first, second, even.count, even.width, f"[beams] between {' and '.join(even.between)}", saying(config)
    )
    return tuple(
        Hung(
            name=f"E{i + 1}",
            centre=centre,
            width=even.width,
            depth=even.depth,
            stock="",
            species=species,
            new=False,
            keep=even.keep,
            made=even.made.kind,
            shell=even.made.shell,
        )
        for i, centre in enumerate(centres)
    )


def _from_a(room: Room, wall: str) -> Stretch:
    start, end = nearer_first(room.wall(wall), room.points[0])
    return Stretch(start, end)


def _measured_centre(room: Room, beam: Beam) -> Line:
    """Rule 2: the near face joins the two marks, the far face lies `width` further from the `from` corners."""
    near = Line.through(*(_end_point(room, beam, end) for end in beam.ends))
    corners = [end.from_ for end in beam.ends]
    sides = [near.offset(room.corner(corner)) for corner in corners]
    if sides[0] * sides[1] < 0.0:
        raise LayoutError(
            [
                Problem(
                    where=f"beam {beam.name}",
                    what=f"its ends are measured from corners {corners[0]} and {corners[1]}, one on each side of it",
                    fix="measure both ends from corners on the same side of the beam",
                )
            ]
        )
    return near.shifted(-beam.width / 2.0 if sides[0] + sides[1] > 0.0 else beam.width / 2.0)


def _end_point(room: Room, beam: Beam, end: BeamEnd) -> Point:
    """Where a near face meets a wall: as adjusted where other distances tell of it, else as read."""
    adjusted = room.marks.get(beam_mark(beam.name, end.wall))
    return adjusted if adjusted is not None else wall_point(room, end.wall, end.from_, end.at)


def hang(room: Room, config: Config, beams: tuple[Hung, ...], outline: Ring) -> tuple[Bar, ...]:
    """Existing and main beams as bars from wall to wall; a new one has the joints' clearance."""
    edges = wall_edges(room, room.points)
    clearance = config.cross_beams.joint.clearance if config.cross_beams else 0.0
    bars = tuple(_hang(room, beam, outline, edges, clearance if beam.new else 0.0) for beam in beams)
    refuse_astray(room, config, bars)
    return bars


def _hang(room: Room, beam: Hung, outline: Ring, edges: tuple[Edge, ...], clearance: float) -> Bar:
    opening = straight_through(outline, beam.centre, beam.width)
    if opening is None:
        raise LayoutError(
            [Problem(where=f"beam {beam.name}", what="it hangs outside the room", fix="measure both of its ends again")]
        )
    run = shortened(opening, beam.centre, clearance) or opening
    axis = nearer_first(run.axis, room.points[0])
    return Bar(
        **hung(run, axis, hung_planes(room, axis, beam.depth)),
        id=beam.name,
        kind="main beam" if beam.new else "existing beam",
        width=beam.width,
        stock=beam.stock,
        stock_depth=beam.depth,
        species=beam.species,
        meets=(nearest_owner(edges, axis[0]), nearest_owner(edges, axis[1])),
        keep=beam.keep,
        made=beam.made,
        shell=beam.shell,
    )


def keep_mouldings(room: Room, config: Config, beams: tuple[Bar, ...]) -> tuple[Ring, tuple[Bar, ...]]:
    """The clockwise ring that a moulding which stays leaves free, and the moulding's bars between the beams."""
    moulding = config.room.moulding
    if moulding is None or not moulding.keep:
        return room.points, ()
    inner = _inset_clockwise(room.points, moulding.out)
    made: list[Bar] = []
    for i in range(len(room.points)):
        j = (i + 1) % len(room.points)
        quad = counter_clockwise((room.points[i], room.points[j], inner[j], inner[i]))
        wall = Line.through(room.points[i], room.points[j])
        region = region_without(quad, beams)
        for run in runs(region, wall.shifted(-moulding.out / 2.0), moulding.out, endless(quad)):
            axis = nearer_first(run.axis, room.points[0])
            made.append(
                Bar(
                    **hung(run, axis, hung_planes(room, axis, moulding.down)),
                    id=f"M{len(made) + 1}",
                    kind="moulding",
                    width=moulding.out,
                    stock_depth=moulding.down,
                    meets=(room.walls[i], room.walls[i]),
                    keep=True,
                )
            )
    return inner, tuple(made)


def _inset_clockwise(ring: Ring, distance: float) -> Ring:
    return tuple(reversed(inset(tuple(reversed(ring)), distance))) if distance else ring


def half_beams(
    room: Room, config: Config, inner: Ring, beams: tuple[Bar, ...], along: tuple[bool, ...]
) -> tuple[Ring, tuple[Bar, ...]]:
    """Half beams along the walls: the clockwise ring that they leave free, and their bars.

    Those along walls that the beams run beside go from corner to corner; the others fit between them and the beams.

    Args:
        room: the room.
        config: the config; its `cross_beams` tells the stock.
        inner: clockwise ring inside a moulding that stays.
        beams: existing and main beams.
        along: for each wall, whether it runs along the beams.
    """
    cross = config.cross_beams
    if cross is None or cross.walls != "half beam":
        return inner, ()
    width = cross.width / 2.0
    hangs = beams[0].stock_depth if beams else cross.depth
    free = _inset_clockwise(inner, width)
    edges = (*wall_edges(room, inner), *(e for beam in beams for e in edges_of(beam.id, beam.outline)))
    made: list[Bar] = []
    order = sorted(range(len(inner)), key=lambda i: not along[i])
    for i in order:
        start, end = inner[i], inner[(i + 1) % len(inner)]
        centre = Line.through(start, end).shifted(-width / 2.0)
        region = region_without(tuple(reversed(inner)), (*beams, *made))
        # A wall's own length and the corners at its ends, so that at a corner that juts in it does not run on.
        length = math.dist(start, end)
        for opening in runs(region, centre, width, (-width, length + width)):
            if not 0.0 < centre.along(opening.axis[0]) + centre.along(opening.axis[1]) < 2.0 * length:
                continue
            run = shortened(opening, centre, cross.joint.clearance) or opening
            axis = nearer_first(run.axis, room.points[0])
            meets = (nearest_owner(edges, axis[0]), nearest_owner(edges, axis[1]))
            bottoms = end_bottoms(room, axis, meets, (*beams, *made), hangs)
            bar = Bar(
                **hung(run, axis, fitted_planes(room, replace(run, axis=axis), bottoms, cross.depth)),
                id=f"H{len(made) + 1}",
                kind="half beam",
                ripped=True,
                width=width,
                stock=cross.stock,
                stock_depth=cross.depth,
                species=cross.species,
                meets=meets,
            )
            made.append(bar)
            edges = (*edges, *edges_of(bar.id, bar.outline))
    return free, tuple(made)


def end_bottoms(
    room: Room, axis: tuple[Point, Point], meets: tuple[str, str], bars: tuple[Bar, ...], depth: float
) -> tuple[float, float]:
    """Heights of the bottom at a piece's two ends: that of the bar it meets; at a wall, the drop of its other end."""
    by_id = {bar.id: bar for bar in bars}
    drops = [
        ceiling_height(room, point) - by_id[owner].bottom.at(point) if owner in by_id else None
        for point, owner in zip(axis, meets, strict=True)
    ]
    first = drops[0] if drops[0] is not None else drops[1]
    second = drops[1] if drops[1] is not None else drops[0]
    return (
        ceiling_height(room, axis[0]) - (depth if first is None else first),
        ceiling_height(room, axis[1]) - (depth if second is None else second),
    )
