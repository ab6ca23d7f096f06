"""What hangs already or is hung through: existing and main beams, mouldings that stay, half beams along walls."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from lacunar.config import Beam, BeamEnd, Beams, CrossBeams, Moulding, beam_mark
from lacunar.geometry import Line, Point, Ring, Segment, counter_clockwise, dot
from lacunar.layout.bars import (
    BarRun,
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
from lacunar.layout.member import PartKind
from lacunar.layout.polygons import endless, inset
from lacunar.layout.saying import Say, refusal
from lacunar.layout.spread import spread
from lacunar.layout.types import Bar
from lacunar.survey import Room, ceiling_height, wall_point


@dataclass(frozen=True, slots=True)
class Hung:
    """One existing or main beam before it becomes a bar, and where it hangs."""

    beam: Beam
    centre: Line


def hung_beams(room: Room, beams: Iterable[Beam], even: Beams | None, say: Say) -> tuple[Hung, ...]:
    """Existing and main beams with their centre lines, as measured at both ends or evenly spread."""
    if even is None:
        return tuple(Hung(beam, _measured_centre(room, beam)) for beam in beams)
    first, second = (_from_a(room, wall) for wall in even.between)
    if dot(first.line.direction, second.line.direction) < 0.0:
        second = Segment(second.end, second.start)
    what = f"[beams] between {' and '.join(even.between)}"
    centres = spread(first, second, even.count, even.width, what, say)
    alike = Beam.model_construct(width=even.width, depth=even.depth, ends=(), made=even.made, keep=even.keep)
    return tuple(Hung(alike.model_copy(update={"name": f"E{i}"}), centre) for i, centre in enumerate(centres, 1))


def _from_a(room: Room, wall: str) -> Segment:
    return Segment(*nearer_first(room.wall(wall), room.points[0]))


def _measured_centre(room: Room, beam: Beam) -> Line:
    """Rule 2: the near face joins the two marks, the far face lies `width` further from the `from` corners."""
    near = Line.through(*(_end_point(room, beam, end) for end in beam.ends))
    corners = [end.from_ for end in beam.ends]
    sides = [near.offset(room.corner(corner)) for corner in corners]
    if sides[0] * sides[1] < 0.0:
        what = f"its ends are measured from corners {corners[0]} and {corners[1]}, one on each side of it"
        raise refusal(f"beam {beam.name}", what, "measure both ends from corners on the same side of the beam")
    return near.shifted(-beam.width / 2.0 if sides[0] + sides[1] > 0.0 else beam.width / 2.0)


def _end_point(room: Room, beam: Beam, end: BeamEnd) -> Point:
    """Where a near face meets a wall: as adjusted where other distances tell of it, else as read."""
    adjusted = room.marks.get(beam_mark(beam.name, end.wall))
    return adjusted if adjusted is not None else wall_point(room, end.wall, end.from_, end.at)


def hang(room: Room, beams: Iterable[Hung], outline: Ring, cross: CrossBeams | None, species: str) -> tuple[Bar, ...]:
    """Existing and main beams as bars from wall to wall; a new one has the joints' clearance."""
    edges, clearance = wall_edges(room, room.points), cross.joint.clearance if cross else 0.0
    made: list[Bar] = []
    for one in beams:
        beam, centre = one.beam, one.centre
        opening = straight_through(outline, centre, beam.width)
        if opening is None:
            raise refusal(f"beam {beam.name}", "it hangs outside the room", "measure both of its ends again")
        run = shortened(opening, centre, clearance if beam.new else 0.0) or opening
        axis = nearer_first(run.axis, room.points[0])
        made.append(
            Bar(
                **hung(run, axis, hung_planes(room, axis, beam.depth)),
                id=beam.name,
                kind="main beam" if beam.new else "existing beam",
                width=beam.width,
                stock=beam.stock or "",
                stock_depth=beam.depth,
                species=beam.species or (cross.species if cross else species),
                meets=(nearest_owner(edges, axis[0]), nearest_owner(edges, axis[1])),
                keep=beam.keep,
                made=beam.made.kind,
                shell=beam.made.shell,
            )
        )
    return tuple(made)


def keep_mouldings(room: Room, moulding: Moulding | None, beams: tuple[Bar, ...]) -> tuple[Ring, tuple[Bar, ...]]:
    """The clockwise ring that a moulding which stays leaves free, and the moulding's bars between the beams."""
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
    room: Room, cross: CrossBeams | None, inner: Ring, beams: tuple[Bar, ...], along: tuple[bool, ...]
) -> tuple[Ring, tuple[Bar, ...]]:
    """Half beams along the walls: the clockwise ring that they leave free, and their bars.

    Those along walls that the beams run beside go from corner to corner; the others fit between them and the beams.

    Args:
        room: the room.
        cross: tells the stock.
        inner: clockwise ring inside a moulding that stays.
        beams: existing and main beams.
        along: for each wall, whether it runs along the beams.
    """
    if cross is None or cross.walls != "half beam":
        return inner, ()
    width = cross.width / 2.0
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
            run = replace(run, axis=nearer_first(run.axis, room.points[0]))
            bar = fitted_bar(
                room, cross, run, run, edges, (*beams, *made), id=f"H{len(made) + 1}", kind="half beam", width=width
            )
            made.append(bar)
            edges = (*edges, *edges_of(bar.id, bar.outline))
    return free, tuple(made)


def fitted_bar(
    room: Room,
    cross: CrossBeams,
    seat: BarRun,
    run: BarRun,
    edges: Iterable[Edge],
    bars: Sequence[Bar],
    *,
    id: str,
    kind: PartKind,
    width: float,
    up: float = 0.0,
) -> Bar:
    """A bar of the cross beams' stock, its bottom between those of the bars that it meets.

    Args:
        room: the room.
        cross: tells the stock.
        seat: the run from the end nearer A at whose ends its heights are taken.
        run: as it is cut.
        edges: faces that it ends against.
        bars: that hang there.
        id: of the bar.
        kind: half beams are ripped from their stock.
        width: of the bar.
        up: how much higher its bottom is than theirs.
    """
    meets = (nearest_owner(edges, seat.axis[0]), nearest_owner(edges, seat.axis[1]))
    low, high = _end_bottoms(room, seat.axis, meets, bars, bars[0].stock_depth if bars else cross.depth)
    return Bar(
        **hung(run, run.axis, fitted_planes(room, seat, (low + up, high + up), cross.depth)),
        id=id,
        kind=kind,
        ripped=kind == "half beam",
        width=width,
        stock=cross.stock,
        stock_depth=cross.depth,
        species=cross.species,
        meets=meets,
    )


def _end_bottoms(
    room: Room, axis: tuple[Point, Point], meets: tuple[str, str], bars: Iterable[Bar], depth: float
) -> tuple[float, float]:
    """Heights of the bottom at a piece's two ends: that of the bar it meets; at a wall, the drop of its other end."""
    by_id = {bar.id: bar for bar in bars}
    drops = [
        ceiling_height(room, point) - by_id[owner].bottom.at(point) if owner in by_id else None
        for point, owner in zip(axis, meets, strict=True)
    ]
    known = next((drop for drop in drops if drop is not None), depth)
    first, second = (
        ceiling_height(room, point) - (known if drop is None else drop) for point, drop in zip(axis, drops, strict=True)
    )
    return first, second
