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
    outline = _moved(part.outline, axis, back, ahead)
    return replace(
        part,
        length=length,
        outline=outline,
        axis=(axis.at(back), axis.at(axis.along(part.axis[1]) + ahead)),
    )


def _moved(outline: Ring, axis: Line, back: float, ahead: float) -> Ring:
    """The points of each end's cut moved along the axis.

    An end's cut is all points that stand beyond the shortest of its corners: those of a square or mitred end, but not
    those of a notch further in.
    """
    along = [axis.along(p) for p in outline]
    low, high = _cut_reach(outline, along, axis)
    return tuple(
        _shift(p, axis, back if at <= low else ahead if at >= high else 0.0)
        for p, at in zip(outline, along, strict=True)
    )


def _cut_reach(outline: Ring, along: list[float], axis: Line) -> tuple[float, float]:
    offsets = [axis.offset(p) for p in outline]
    middle = (min(offsets) + max(offsets)) / 2.0
    left = [at for at, o in zip(along, offsets, strict=True) if o >= middle]
    right = [at for at, o in zip(along, offsets, strict=True) if o < middle]
    return max(min(left), min(right)) + ARITHMETIC, min(max(left), max(right)) - ARITHMETIC


def _shift(point: Point, axis: Line, by: float) -> Point:
    return (point[0] + by * axis.direction[0], point[1] + by * axis.direction[1])
