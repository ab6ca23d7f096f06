"""Parts at the lengths that the plan chose."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from lacunar.geometry import Line, Point, Ring
from lacunar.parts.part import Part
from lacunar.tolerances import ARITHMETIC


def cut_to(parts: Sequence[Part], lengths: Mapping[str, float]) -> tuple[Part, ...]:
    """The parts with their ends moved to the planned lengths; what has no planned length stays as designed.

    Args:
        parts: as designed.
        lengths: part id to length, long point to long point.
    """
    return tuple(_cut(part, lengths.get(part.id, part.length)) for part in parts)


def _cut(part: Part, length: float) -> Part:
    if abs(length - part.length) <= ARITHMETIC:
        return part
    axis = Line.through(*part.axis)
    more = (length - part.length) / part.top.stretch(axis.direction)
    back, ahead = -more * part.grow[0], more * part.grow[1]
    reach = axis.along(part.axis[1])
    taper = 0.0 if part.width_end is None else (part.width_end - part.width) / reach
    outline = _moved(part.outline, axis, back, ahead, (taper / part.width, taper / (part.width_end or part.width)))
    return replace(
        part,
        length=length,
        outline=outline,
        axis=(axis.at(back), axis.at(reach + ahead)),
        width=part.width + taper * back,
        width_end=None if part.width_end is None else part.width_end + taper * ahead,
    )


def _moved(outline: Ring, axis: Line, back: float, ahead: float, fan: tuple[float, float]) -> Ring:
    """The points of each end's cut moved along the edges of the part.

    An end's cut is all points that stand beyond the shortest of its corners: those of a square or mitred end, but not
    those of a notch further in. The edges of a tapered part lean to its axis: a point moves aside by `fan` of its first
    or second end, times its distance from the axis and the way along it, so that both edges stay where they are.
    """
    along = [axis.along(p) for p in outline]
    low, high = _cut_reach(outline, along, axis)
    return tuple(
        _shift(p, axis, back, back * fan[0] * axis.offset(p))
        if at <= low
        else _shift(p, axis, ahead, ahead * fan[1] * axis.offset(p))
        if at >= high
        else p
        for p, at in zip(outline, along, strict=True)
    )


def _cut_reach(outline: Ring, along: list[float], axis: Line) -> tuple[float, float]:
    offsets = [axis.offset(p) for p in outline]
    middle = (min(offsets) + max(offsets)) / 2.0
    left = [at for at, o in zip(along, offsets, strict=True) if o >= middle]
    right = [at for at, o in zip(along, offsets, strict=True) if o < middle]
    return max(min(left), min(right)) + ARITHMETIC, min(max(left), max(right)) - ARITHMETIC


def _shift(point: Point, axis: Line, by: float, aside: float) -> Point:
    (x, y), (left_x, left_y) = axis.direction, axis.left
    return (point[0] + by * x + aside * left_x, point[1] + by * y + aside * left_y)
