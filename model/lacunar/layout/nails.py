"""Where nails and screws go: rule 12, for slats on joists, slats on furring, and furring on joists."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import shapely
from shapely import Polygon

from lacunar.geometry import Line, Point
from lacunar.layout.member import Member
from lacunar.layout.types import FurringStrip, JoistLines, Nailing, Slat
from lacunar.tolerances import ARITHMETIC
from lacunar.units import INCH

FROM_EDGE = 0.75 * INCH
"""A nail from a slat's long edge: common practice, no source."""

NARROW = 2.0 * INCH
"""Rips narrower than this take one nail, on their middle: the contract's `fasteners.slat`."""

BEARER_EDGE = 0.375 * INCH
"""A nail stays so far inside what it goes into when it must move off the centre line: common practice, no source."""

ALONG = 0.5
"""A board runs along a joist where the sine of the angle between them is less than this (30 degrees)."""

ENOUGH = 2
"""Joists, or strips of furring, that a slat must catch. Source: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bearer:
    """What a board is nailed to.

    Attributes:
        line: its centre line.
        width: across the line.
        body: where there is wood; None for what runs through.
    """

    line: Line
    width: float
    body: Polygon | None = None


def sine(one: Line, other: Line) -> float:
    """Of the angle between two lines, from 0 to 1."""
    return abs(one.direction[0] * other.direction[1] - one.direction[1] * other.direction[0])


def joist_bearers(joists: JoistLines) -> tuple[Bearer, ...]:
    """Every joist; joists run through."""
    return tuple(Bearer(line=line, width=joists.width) for line in joists.lines)


def strip_bearers(strips: Iterable[FurringStrip], width: float) -> tuple[Bearer, ...]:
    """Every strip of furring, as long as it is."""
    return tuple(Bearer(line=Line.through(*one.axis), width=width, body=Polygon(one.outline)) for one in strips)


def nail(
    one: Member, bearers: Sequence[Bearer], per_bearer: int, from_end: float
) -> tuple[tuple[Point, ...], tuple[int, ...]]:
    """A piece's nails, and which of the bearers they catch, from 0.

    A nail stands on the bearer's centre line; near the piece's end it moves along the piece, as far as the bearer is
    wide, so that it keeps its distance from the end however short the piece may be cut. Bearers that run along the
    piece are passed over.
    """
    axis, widths = Line.through(*one.axis), one.widths
    length = axis.along(one.axis[1])
    shorter = max(one.length - one.interval[0], 0.0) if one.interval is not None else 0.0
    room = _NailRoom(length=length, from_end=from_end, cut_back=(shorter * one.grow[0], shorter * one.grow[1]))
    body, rows = Polygon(one.outline, one.holes), _rows(min(widths), per_bearer)
    found: list[tuple[int, Point]] = []
    for index, bearer in enumerate(bearers):
        turn = sine(axis, bearer.line)
        if turn < ALONG:
            continue
        reach = bearer.width + 2.0 * max(widths)
        slack = max(0.0, bearer.width / 2.0 - BEARER_EDGE) / turn
        if not -reach <= axis.along(axis.crossing(bearer.line)) <= length + reach:
            continue
        here = [_place(axis.shifted(across), bearer.line, room, slack) for across in rows]
        found += [(index, point) for point in here if point is not None]
    if not found:
        return (), ()
    wood: list[bool] = shapely.contains_xy(body, [point for _, point in found]).tolist()
    held = [(index, point) for (index, point), inside in zip(found, wood, strict=True) if inside]
    held = [(index, point) for index, point in held if _holds(bearers[index], point)]
    return tuple(point for _, point in held), tuple(dict.fromkeys(index for index, _ in held))


def nail_slat(slat: Slat, bearers: Sequence[Bearer], rule: Nailing) -> tuple[tuple[Point, ...], tuple[int, ...]]:
    """A slat's nails, and which of the bearers they catch, from 0."""
    return nail(slat, bearers, rule.per_joist, rule.from_end)


def _holds(bearer: Bearer, point: Point) -> bool:
    return bearer.body is None or bool(shapely.contains_xy(bearer.body, *point))


def _rows(width: float, per_bearer: int) -> tuple[float, ...]:
    if per_bearer < 2 or width < NARROW:
        return (0.0,)
    reach = width / 2.0 - FROM_EDGE
    return tuple(-reach + 2.0 * reach * i / (per_bearer - 1) for i in range(per_bearer))


@dataclass(frozen=True, slots=True, kw_only=True)
class _NailRoom:
    """Where nails may stand along a piece: so far from its ends, better so far from where they may be cut."""

    length: float
    from_end: float
    cut_back: tuple[float, float]


def _place(row: Line, bearer: Line, room: _NailRoom, slack: float) -> Point | None:
    at = row.along(row.crossing(bearer))
    low, high = room.from_end + room.cut_back[0], room.length - room.from_end - room.cut_back[1]
    wished = min(max(at, low), high) if low <= high else room.length / 2.0
    held = min(max(wished, at - slack), at + slack)
    # Rounding may not take a nail that stands just where it must.
    inside = room.from_end - ARITHMETIC <= held <= room.length - room.from_end + ARITHMETIC
    return row.at(held) if inside else None
