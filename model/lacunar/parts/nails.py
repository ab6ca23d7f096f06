"""Where a slat's nails go: rule 12."""

import shapely
from shapely import Polygon

from lacunar.geometry import Line, Point
from lacunar.layout import Joists, Nailing, Slat
from lacunar.units import INCH

FROM_EDGE = 0.75 * INCH
"""A nail from a slat's long edge: common practice, no source."""

NARROW = 2.0 * INCH
"""Rips narrower than this take one nail, on their middle: the contract's `fasteners.slat`."""

JOIST_EDGE = 0.375 * INCH
"""A nail stays so far inside a joist's side when it must move off the centre line: common practice, no source."""


def nail(slat: Slat, joists: Joists, rule: Nailing) -> tuple[tuple[Point, ...], tuple[int, ...]]:
    """A slat's nails and the numbers of the joists that they catch.

    A nail stands on the joist's centre line; near a slat's end it moves along the slat, as far as the joist is wide.
    """
    axis = Line.through(*slat.axis)
    length = axis.along(slat.axis[1])
    body = Polygon(slat.outline, slat.holes)
    narrowest = min(slat.width, slat.width_end or slat.width)
    rows = _rows(narrowest, rule.per_joist)
    reach = joists.width + 2.0 * max(slat.width, slat.width_end or 0.0)
    nails: list[Point] = []
    caught: list[int] = []
    for number, joist in enumerate(joists.lines, start=1):
        turn = abs(axis.direction[0] * joist.direction[1] - axis.direction[1] * joist.direction[0])
        if turn < 0.5:
            continue
        slack = max(0.0, joists.width / 2.0 - JOIST_EDGE) / turn
        if not -reach <= axis.along(axis.crossing(joist)) <= length + reach:
            continue
        here = [_place(axis, joist, across, length, rule.from_end, slack) for across in rows]
        points = [p for p in here if p is not None and shapely.contains_xy(body, *p)]
        nails.extend(points)
        if points:
            caught.append(number)
    return tuple(nails), tuple(caught)


def _rows(width: float, per_joist: int) -> tuple[float, ...]:
    if per_joist < 2 or width < NARROW:
        return (0.0,)
    reach = width / 2.0 - FROM_EDGE
    return tuple(-reach + 2.0 * reach * i / (per_joist - 1) for i in range(per_joist))


def _place(axis: Line, joist: Line, across: float, length: float, from_end: float, slack: float) -> Point | None:
    row = axis.shifted(across)
    at = row.along(row.crossing(joist))
    held = min(max(at, from_end), length - from_end)
    return row.at(held) if abs(held - at) <= slack and length >= 2.0 * from_end else None
