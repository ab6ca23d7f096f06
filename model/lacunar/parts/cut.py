"""Parts at the lengths that the plan chose."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from shapely import Polygon

from lacunar.config import Config
from lacunar.geometry import Line, Point, Ring
from lacunar.layout import holes_of, ring_of
from lacunar.parts.part import Cutaway, Part
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


def fitting_lengths(part: Part, config: Config) -> tuple[float, float]:
    """The shortest and the longest slat that hides its ends; cut along the sides each has the end gap and no lean."""
    if part.interval is not None:
        return part.interval
    hidden, gap, ends = config.trim.width - config.trim.least_overlap, config.slats.end_gap, sum(map(bool, part.grow))
    return part.length - ends * (hidden - gap), part.length + ends * (gap - config.slats.least_end_gap)


def _cut(part: Part, length: float) -> Part:
    if abs(length - part.length) <= ARITHMETIC:
        return part
    axis = Line.through(*part.axis)
    more = (length - part.length) / part.top.stretch(axis.direction)
    back, ahead = -more * part.grow[0], more * part.grow[1]
    reach = axis.along(part.axis[1])
    taper = 0.0 if part.width_end is None else (part.width_end - part.width) / reach
    fan = (taper / part.width, taper / (part.width_end or part.width))
    outline, holes = _reshaped(part, axis, reach, back, ahead, fan)
    return replace(
        part,
        length=length,
        outline=outline,
        holes=holes,
        axis=(axis.at(back), axis.at(reach + ahead)),
        width=part.width + taper * back,
        width_end=None if part.width_end is None else part.width_end + taper * ahead,
        notches=tuple(_seen_from(notch, -back) for notch in part.notches),
    )


def _seen_from(notch: Cutaway, by: float) -> Cutaway:
    """A cut-out stays where the fixture is while the end that it is measured from moves."""
    return replace(notch, along=(notch.along[0] + by, notch.along[1] + by))


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
    (x, y), (left_x, left_y) = axis.direction, axis.left
    return (point[0] + by * x + aside * left_x, point[1] + by * y + aside * left_y)
