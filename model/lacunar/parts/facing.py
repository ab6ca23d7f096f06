"""What the ends and the long sides of a part look at: a bar, a wall or a fixture. They have no other names."""

import math
from dataclasses import dataclass

from lacunar.geometry import Line, Point, dot, middle, moved
from lacunar.layout import Bar, Coffer, CofferStrip, Layout

Pair = tuple[str, str]

AHEAD = 0.1
"""Cosine: a side that stands more nearly along the way than 84 degrees does not end it."""

WALL = "the wall"
"""Beside a bar that no coffer lies between."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Facing:
    """What is looked at by a slat or strip: from its ends, the end nearer A first; from left and right of its axis."""

    ends: Pair
    sides: Pair


def bar_beside(layout: Layout, bar: Bar) -> Pair:
    """Of a beam or piece, left and right of its axis: what lies across the coffers beside its middle."""
    axis = Line.through(*bar.axis)
    at = middle(*bar.axis)
    left, right = (_across(layout, bar, at, way) for way in (axis.left, _back(axis.left)))
    return (left, right) if left != right else (f"{left} (1)", f"{right} (2)")


def slat_facing(layout: Layout, one: CofferStrip) -> Facing:
    """Of what lies in a coffer: its sides; of an end that a cut-out made, its fixture."""
    coffer = layout.coffer(one.coffer)
    axis = Line.through(*one.axis)
    ways = (_back(axis.direction), axis.direction)
    first, second = (_seen(coffer, point, way) for point, way in zip(one.axis, ways, strict=True))
    # Only an end at a cut-out takes no share of a change of length.
    at_side = (bool(one.grow[0]), bool(one.grow[1]))
    ends = _told_apart(coffer, (first, second))
    if at_side != (True, True):
        ends = (
            coffer.sides[first].against if at_side[0] else _fixture(layout, one.axis[0]),
            coffer.sides[second].against if at_side[1] else _fixture(layout, one.axis[1]),
        )
    at = middle(*one.axis)
    sides = (_seen(coffer, at, axis.left), _seen(coffer, at, _back(axis.left)))
    return Facing(ends=ends, sides=_told_apart(coffer, sides))


def trim_facing(layout: Layout, strip: CofferStrip) -> Facing:
    """Of a strip: the sides next to its own; the one that it stands against, and the one across the coffer."""
    coffer = layout.coffer(strip.coffer)
    side, n = coffer.sides[strip.side], len(coffer.sides)
    with_side = math.dist(strip.axis[0], side.start) < math.dist(strip.axis[0], side.end)
    before, after = (strip.side - 1) % n, (strip.side + 1) % n
    across = _seen(coffer, side.middle, _back(side.line.left))
    ends = _told_apart(coffer, (before, after) if with_side else (after, before))
    sides = _told_apart(coffer, (strip.side, across) if with_side else (across, strip.side))
    return Facing(ends=ends, sides=sides)


def _told_apart(coffer: Coffer, sides: tuple[int, int]) -> Pair:
    """Names of two sides; numbered clockwise from the first side where they are the same."""
    first, second = (coffer.sides[i].against for i in sides)
    if first != second:
        return first, second
    numbers = (1, 2) if sides[0] <= sides[1] else (2, 1)
    return f"{first} ({numbers[0]})", f"{second} ({numbers[1]})"


def _across(layout: Layout, bar: Bar, at: Point, way: Point) -> str:
    """What stands across the coffer that lies beside a bar's middle."""
    beside = [
        (math.dist(side.middle, at), coffer, side.middle)
        for coffer in layout.coffers
        for side in coffer.sides
        if side.against == bar.id and dot(side.line.left, way) < 0.0
    ]
    if not beside:
        return WALL
    _, coffer, place = min(beside, key=lambda found: found[0])
    return coffer.sides[_seen(coffer, place, way)].against


def _seen(coffer: Coffer, point: Point, way: Point) -> int:
    """The side of a coffer that a look from a point inside meets first; the one most across where it meets none."""
    found: dict[int, float] = {}
    for i, side in enumerate(coffer.sides):
        line = side.line
        facing = dot(line.left, way)
        if facing < AHEAD:
            continue
        ahead = -line.offset(point) / facing
        at = line.along(moved(point, way, ahead))
        if ahead >= 0.0 and 0.0 <= at <= line.along(side.end):
            found[i] = ahead
    if found:
        return min(found, key=found.__getitem__)
    return max(range(len(coffer.sides)), key=lambda i: dot(coffer.sides[i].line.left, way))


def _fixture(layout: Layout, point: Point) -> str:
    """The one whose hole comes nearest to a point."""
    hole = min(layout.cut_outs, key=lambda hole: min(math.dist(point, corner) for corner in hole.outline))
    return hole.name


def _back(way: Point) -> Point:
    return (-way[0], -way[1])
