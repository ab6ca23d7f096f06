"""Parts at the lengths that the plan chose."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from shapely import Polygon

from lacunar.config import Slats, TrimTable
from lacunar.geometry import Line, Point, Ring, crossings, moved
from lacunar.layout import Size, holes_of, of_base, ring_of
from lacunar.parts.faces import turned
from lacunar.parts.part import Part, Pocket
from lacunar.parts.sawn import rip_to, sawn_side
from lacunar.tolerances import ARITHMETIC

SQUARE = 1e-6
"""Degrees. An end that is mitred no more is square."""


def cut_to(parts: Sequence[Part], lengths: Mapping[str, float]) -> tuple[Part, ...]:
    """The parts with their ends moved to the planned lengths; what has no planned length stays as designed.

    Args:
        parts: as designed.
        lengths: part id to length, long point to long point.
    """
    return tuple(_cut(part, lengths.get(part.id, part.length)) for part in parts)


def fitting_lengths(part: Part, slats: Slats, trim: TrimTable) -> tuple[float, float]:
    """The shortest and the longest slat that hides its ends; cut along the sides each has the end gap and no lean."""
    if part.interval is not None:
        return part.interval
    hidden, gap, ends = trim.width - trim.least_overlap, slats.end_gap, sum(map(bool, part.grow))
    return part.length - ends * (hidden - gap), part.length + ends * (gap - slats.least_end_gap)


def shaped(parts: Sequence[Part]) -> tuple[Part, ...]:
    """The parts in the shapes of their sizes, those that were measured on the wood too: as they are cut and hung."""
    return tuple(part if part.drawn is None else _shaped(part, part.drawn) for part in parts)


def _shaped(part: Part, drawn: Size) -> Part:
    """Ripped and cut from the size that its shape has; pockets stay as deep in the end that they are near."""
    old = replace(part, **of_base(drawn, Size), drawn=None)
    wished = replace(old, **longer(part, old, drawn.length - part.length))
    edge = sawn_side(part) or sawn_side(drawn)
    is_ripped = max(abs(a - b) for a, b in zip(wished.widths, drawn.widths, strict=True)) > ARITHMETIC
    new = rip_to(old, *wished.widths, edge, part.ripped) if edge is not None and is_ripped else old
    new = _cut(turned(new, part.ends), part.length)
    pockets = tuple(_moved_pocket(pocket, part, old, new) for pocket in part.pockets)
    return replace(new, **of_base(part, Size), pockets=pockets)


def _moved_pocket(pocket: Pocket, part: Part, old: Part, new: Part) -> Pocket:
    plane, (x, y, z) = part.top if pocket.level == "high" else part.bottom, pocket.mouth
    axis, bored = Line.through(*old.axis), pocket.bore_length + pocket.pilot_length
    at = axis.offset(moved((x, y), (pocket.direction[0], pocket.direction[1]), bored))
    ends = [crossings(one.outline, axis, at) for one in (old, new)]
    before, after = (max(along) if pocket.end else min(along) for along in ends)
    by = after - before
    return replace(pocket, mouth=(*moved((x, y), axis.direction, by), z + by * plane.slope(axis.direction)))


def _cut(part: Part, length: float) -> Part:
    """The part and its shape, each longer by as much."""
    by = length - part.length
    if abs(by) <= ARITHMETIC:
        return part
    axis, drawn = Line.through(*part.axis), part.drawn or part
    reach, (back, ahead) = axis.along(part.axis[1]), _moves(part, by)
    first, second = drawn.widths
    fan = ((second - first) / reach / first, (second - first) / reach / second)
    outline, holes = _reshaped(part, axis, reach, back, ahead, fan)
    return replace(
        part,
        **longer(part, part, by),
        drawn=None if part.drawn is None else replace(part.drawn, **longer(part.drawn, part, by)),
        outline=outline,
        holes=holes,
        axis=(axis.at(back), axis.at(reach + ahead)),
        # A cut-out stays where the fixture is while the end that it is measured from moves.
        notches=tuple(replace(n, along=(n.along[0] - back, n.along[1] - back)) for n in part.notches),
    )


def longer(size: Size, part: Part, by: float) -> dict[str, Any]:
    """A size of a part made longer by so much: the widths at its ends go on along its edges."""
    drawn, (first, second), (back, ahead) = part.drawn or part, size.widths, _moves(part, by)
    axis = Line.through(*part.axis)
    reach = axis.along(part.axis[1]) + (size.length - drawn.length) / part.top.stretch(axis.direction)
    taper = (second - first) / reach
    end = None if size.width_end is None else second + taper * ahead
    return {"length": size.length + by, "width": first + taper * back, "width_end": end}


def _moves(part: Part, by: float) -> tuple[float, float]:
    """How far along the axis in the plan each end moves where the length changes by so much."""
    more = by / part.top.stretch(Line.through(*part.axis).direction)
    return -more * part.grow[0], more * part.grow[1]


def _reshaped(
    part: Part, axis: Line, reach: float, back: float, ahead: float, fan: tuple[float, float]
) -> tuple[Ring, tuple[Ring, ...]]:
    """Outline and holes; an end that moves inwards past some of a cut-out takes that with it."""
    square = [bool(part.notches) and abs(end.mitre_deg) <= SQUARE for end in part.ends]
    along = [axis.along(p) for ring in (part.outline, *part.holes) for p in ring]
    first = square[0] and any(ARITHMETIC < at <= back + ARITHMETIC for at in along)
    last = square[1] and any(reach + ahead - ARITHMETIC <= at < reach - ARITHMETIC for at in along)
    low, high = _cut_reach(part.outline, axis)
    # A cut-out that reaches into a square end is no corner of it.
    ends = (ARITHMETIC if square[0] else low, reach - ARITHMETIC if square[1] else high)
    outline = _moved(part.outline, axis, ends, 0.0 if first else back, 0.0 if last else ahead, fan)
    if not first and not last:
        return outline, part.holes
    return _between(outline, part.holes, axis, back if first else None, reach + ahead if last else None)


def _moved(
    outline: Ring, axis: Line, ends: tuple[float, float], back: float, ahead: float, fan: tuple[float, float]
) -> Ring:
    """The points of each end's cut, beyond `ends`, moved along the edges of the part.

    The edges of a tapered part lean to its axis: a point moves aside by `fan` of its first or second end, times its
    distance from the axis and the way along it, so that both edges stay where they are.
    """
    return tuple(
        _shift(p, axis, back, back * fan[0] * axis.offset(p))
        if at <= ends[0]
        else _shift(p, axis, ahead, ahead * fan[1] * axis.offset(p))
        if at >= ends[1]
        else p
        for p, at in zip(outline, map(axis.along, outline), strict=True)
    )


def _between(
    outline: Ring, holes: Sequence[Ring], axis: Line, low: float | None, high: float | None
) -> tuple[Ring, tuple[Ring, ...]]:
    """What lies between two square cuts; the largest piece, where a cut-out leaves several."""
    points = [(axis.along(p), abs(axis.offset(p))) for p in outline]
    side = max(offset for _, offset in points) + 1.0
    start = min(at for at, _ in points) - 1.0 if low is None else low
    finish = max(at for at, _ in points) + 1.0 if high is None else high
    box = Polygon([axis.at(start, -side), axis.at(finish, -side), axis.at(finish, side), axis.at(start, side)])
    left = Polygon(outline, holes).intersection(box)
    whole = max((g for g in getattr(left, "geoms", [left]) if isinstance(g, Polygon)), key=lambda piece: piece.area)
    return ring_of(whole), holes_of(whole)


def _cut_reach(outline: Ring, axis: Line) -> tuple[float, float]:
    """Of each end's cut: all points that stand beyond the shortest of its corners, square or mitred."""
    along = [axis.along(p) for p in outline]
    offsets = [axis.offset(p) for p in outline]
    middle = (min(offsets) + max(offsets)) / 2.0
    left = [at for at, o in zip(along, offsets, strict=True) if o >= middle]
    right = [at for at, o in zip(along, offsets, strict=True) if o < middle]
    low, high = max(min(left), min(right)), min(max(left), max(right))
    # A corner of the coffer may cut a slat to a triangle, whose tip is a corner of both ends: only their long points
    # then move.
    low, high = (low, high) if low < high else (min(along), max(along))
    return low + ARITHMETIC, high - ARITHMETIC


def _shift(point: Point, axis: Line, by: float, aside: float) -> Point:
    return moved(moved(point, axis.direction, by), axis.left, aside)
