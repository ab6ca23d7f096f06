"""The strips of furring of one coffer: outline, screws, and how short and long each may be."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from lacunar.geometry import Line, Plane, Point, Ring, counter_clockwise
from lacunar.layout.bars import nearer_first
from lacunar.layout.furring_places import (
    BESIDE,
    FROM_SIDE,
    FreeSpan,
    crossing_lines,
    free_spans,
    from_corner,
    near,
    under_joist,
)
from lacunar.layout.member import lettered, shares
from lacunar.layout.nails import ALONG, BEARER_EDGE, joist_bearers, nail, sine
from lacunar.layout.squaring import nearest_mark
from lacunar.layout.types import Coffer, CutOut, DressedStock, FurringStrip, JoistLines, Nailing, Slat
from lacunar.tolerances import ARITHMETIC
from lacunar.units import INCH

LEAST_FROM_SIDE, MOST_FROM_SIDE = INCH / 8.0, INCH / 2.0
"""mm. A strip's end from the coffer's side: nobody sees it, so its length may vary. Common practice, no source."""

BEYOND_NAIL = INCH / 4.0
"""mm. Wood of a strip beyond the last nail in it: common practice, no source."""

SCREW_FROM_END = 2.0 * INCH
"""mm. The first and the last screw of a strip along a joist, from its ends: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Above:
    """What a ceiling's furring hangs on.

    Attributes:
        joists: above the old ceiling.
        corner: the room's corner A.
        holes: for fixtures.
        strip: what furring is made of.
        rule: how slats are nailed.
        spacing: most from centre to centre.
        hidden: beside a coffer's side, behind the trim.
        mark: lengths are cut to multiples of this.
        per_joist: screws in each strip at each joist that it crosses.
    """

    joists: JoistLines
    corner: Point
    holes: tuple[CutOut, ...]
    strip: DressedStock
    rule: Nailing
    spacing: float
    hidden: float
    mark: float
    per_joist: int


def runs_along(coffer: Coffer, joists: JoistLines) -> bool:
    """The coffer's slats run along the joists; where no joist is known they are taken as crossing none."""
    return not joists.lines or sine(Line((0.0, 0.0), coffer.direction), joists.lines[0]) < ALONG


def lay_strips(coffer: Coffer, above: Above) -> Iterator[FurringStrip]:
    """The strips of one coffer, lengths without a choice so far."""
    holes = [hole for hole in above.holes if hole.coffer == coffer.id]
    width, ring = above.strip.width, coffer.outline
    if runs_along(coffer, above.joists):
        along = near(Line(ring[0], coffer.direction), ring)
        # A slat's end nailed an inch from it must still have a nail inside the outer strips.
        reach = max(FROM_SIDE, above.hidden + above.rule.from_end - (width - BEARER_EDGE))
        lines = crossing_lines(along, coffer, holes, width, reach, above.spacing)
        placed = [(line, None) for line in from_corner(lines, along, above.corner)]
        clear = width
    else:
        placed = _under_joists(ring, holes, above)
        clear = width + 2.0 * BESIDE
    number = 0
    for line, joist in placed:
        line = _from(line, above.corner, ring)
        spans = free_spans(line, clear, ring, above.holes)
        number += bool(spans)
        for id, span in zip(lettered(f"{coffer.id}-F{number}", len(spans)), spans, strict=False):
            yield _strip(id, coffer, number, line, span, joist, above)


def _under_joists(ring: Ring, holes: Sequence[CutOut], above: Above) -> list[tuple[Line, int]]:
    """Middle lines and joists' numbers, the one nearer A first; a strip that would overlap another is left out."""
    width = above.strip.width
    found: dict[Line, int] = {}
    for number, joist in enumerate(above.joists.lines, start=1):
        line = under_joist(joist, width, ring, holes)
        if line is not None and all(abs(other.offset(line.point)) >= width for other in found):
            found[line] = number
    if not found:
        return []
    first = next(iter(found))
    return [(line, found[line]) for line in from_corner(found, Line(first.point, first.left), above.corner)]


def _from(line: Line, corner: Point, ring: Ring) -> Line:
    """The line, run from its end nearer A."""
    along = [line.along(point) for point in ring]
    ends = (line.at(min(along)), line.at(max(along)))
    return line if nearer_first(ends, corner) == ends else line.reversed()


def _strip(
    id: str, coffer: Coffer, number: int, line: Line, span: FreeSpan, joist: int | None, above: Above
) -> FurringStrip:
    stretch = coffer.ceiling.stretch(line.direction)
    free = sum(span.at_side)
    shortest, wished, longest = (
        (span.high - span.low) * stretch - free * gap for gap in (MOST_FROM_SIDE, FROM_SIDE, LEAST_FROM_SIDE)
    )
    if free:
        length = nearest_mark(wished, shortest, longest, above.mark)
    else:
        length = math.floor((wished + ARITHMETIC) / above.mark) * above.mark
    low, high = _between(span, length / stretch)
    half = above.strip.width / 2.0
    laid = FurringStrip(
        kind="furring",
        id=id,
        coffer=coffer.id,
        number=number,
        outline=counter_clockwise((line.at(low, -half), line.at(high, -half), line.at(high, half), line.at(low, half))),
        axis=(line.at(low), line.at(high)),
        length=length,
        width=above.strip.width,
        grow=shares(span.at_side),
        under_joist=joist is not None,
    )
    screws, joists = _screws(laid, joist, above)
    return replace(laid, interval=(shortest, longest) if free else None, nails=screws, joists=joists)


def _between(span: FreeSpan, length: float) -> tuple[float, float]:
    """From where to where a strip lies in its span: at the cut-out that it ends at, else in the middle."""
    if span.at_side == (True, False):
        return span.high - length, span.high
    if span.at_side == (False, True):
        return span.low, span.low + length
    middle = (span.low + span.high) / 2.0
    return middle - length / 2.0, middle + length / 2.0


def _screws(laid: FurringStrip, joist: int | None, above: Above) -> tuple[tuple[Point, ...], tuple[int, ...]]:
    """On every joist that the strip crosses; or along the one that it lies under."""
    if joist is None:
        screws, caught = nail(laid, joist_bearers(above.joists), above.per_joist, above.rule.from_end)
        return screws, tuple(index + 1 for index in caught)
    line = above.joists.lines[joist - 1]
    start, end = sorted(line.along(point) for point in laid.axis)
    from_end = min(SCREW_FROM_END, (end - start) / 4.0)
    start, end = start + from_end, end - from_end
    steps = max(1, math.ceil((end - start - ARITHMETIC) / above.spacing))
    return tuple(line.at(start + (end - start) * k / steps) for k in range(steps + 1)), (joist,)


def with_intervals(
    coffer: Coffer, strips: Sequence[FurringStrip], slats: Sequence[Slat], above: Above
) -> Iterator[FurringStrip]:
    """The strips, none so short that a nail would stand beyond its end."""
    for one in strips:
        nails = [point for slat in slats if one.id in slat.furring for point in slat.nails]
        yield one if one.interval is None else _holding(one, one.interval, nails, coffer.ceiling, above)


def _holding(
    one: FurringStrip, interval: tuple[float, float], nails: Iterable[Point], ceiling: Plane, above: Above
) -> FurringStrip:
    axis = Line.through(*one.axis)
    stretch, length = ceiling.stretch(axis.direction), axis.along(one.axis[1])
    at = [axis.along(nail) for nail in nails if abs(axis.offset(nail)) <= above.strip.width / 2.0]
    at = [along for along in at if 0.0 <= along <= length]
    shortest = interval[0]
    if at:
        for share, room in zip(one.grow, (min(at), length - max(at)), strict=True):
            if share:
                shortest = max(shortest, one.length - max(room - BEYOND_NAIL, 0.0) * stretch / share)
    return replace(one, interval=(min(shortest, one.length), interval[1]))
