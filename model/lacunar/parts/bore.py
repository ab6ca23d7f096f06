"""Pockets at their closed-form place: rule 13."""

import math
from typing import Literal

from lacunar.geometry import Line, Point
from lacunar.layout import Bar, Pocketing
from lacunar.parts.part import Hand, Pocket

SHOULDER_WALL = 0.5
"""mm. The shoulder stays at least this far behind the side face: derived, so that its whole disc stands in wood."""


def bore_pockets(bar: Bar, rule: Pocketing) -> tuple[Pocket, ...]:
    """The pockets of both ends: the high ones on the left face, the right, the left again lower; then the low ones."""
    return tuple(
        _pocket(bar, rule, end, side, level, row)
        for end in (0, 1)
        for level, count in _levels(rule)
        for side, row in (_place(i) for i in range(count))
    )


def _levels(rule: Pocketing) -> tuple[tuple[Literal["high", "low"], int], ...]:
    return (("high", rule.high), ("low", rule.low))


def _place(i: int) -> tuple[Hand, int]:
    return ("right" if i % 2 else "left"), i // 2


def _pocket(bar: Bar, rule: Pocketing, end: int, side: Hand, level: Literal["high", "low"], row: int) -> Pocket:
    """Bored from the side face towards the end; half the screw stands in each piece (common practice, no source)."""
    axis = Line.through(*bar.axis)
    across = bar.width / 2.0 if side == "left" else -bar.width / 2.0
    inward = -1.0 if side == "left" else 1.0
    ahead = 1.0 if end == 1 else -1.0
    exit_along = _end_at(bar, axis, across + inward * rule.offset, end)
    mouth_plan = axis.at(exit_along - ahead * rule.offset / math.tan(rule.angle), across)
    dx, dy = axis.direction
    lx, ly = axis.left
    along, aside = ahead * math.cos(rule.angle), inward * math.sin(rule.angle)
    drop = rule.drop * (1 + row)
    z = bar.top.at(mouth_plan) - drop if level == "high" else bar.bottom.at(mouth_plan) + drop
    total = rule.offset / math.sin(rule.angle)
    bore = max(total - rule.screw / 2.0, rule.bore / 2.0 / math.tan(rule.angle) + SHOULDER_WALL)
    return Pocket(
        end=end,
        side=side,
        level=level,
        mouth=(*mouth_plan, z),
        direction=(along * dx + aside * lx, along * dy + aside * ly, 0.0),
        bore=rule.bore,
        pilot=rule.pilot,
        bore_length=bore,
        pilot_length=total - bore,
        screw=rule.screw,
        normal=(-inward * lx, -inward * ly),
    )


def _end_at(bar: Bar, axis: Line, across: float, end: int) -> float:
    """How far along the axis an end's cut lies, at a place across the piece."""
    ring = bar.outline
    found: list[float] = []
    for a, b in zip(ring, ring[1:] + ring[:1], strict=True):
        oa, ob = axis.offset(a) - across, axis.offset(b) - across
        if oa * ob < 0.0:
            t = oa / (oa - ob)
            found.append(axis.along(_between(a, b, t)))
    return max(found) if end == 1 else min(found)


def _between(a: Point, b: Point, t: float) -> Point:
    return (a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))
