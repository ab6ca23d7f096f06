"""Pockets at their closed-form place: rule 13."""

import math
from typing import Literal

from lacunar.config import Joint
from lacunar.geometry import Line, crossings
from lacunar.layout import Bar
from lacunar.parts.part import Hand, Pocket

SHOULDER_WALL = 0.5
"""mm. The shoulder stays at least this far behind the side face: derived, so that its whole disc stands in wood."""


def bore_pockets(bar: Bar, rule: Joint) -> tuple[Pocket, ...]:
    """The pockets of both ends: the high ones on the left face, the right, the left again lower; then the low ones."""
    return tuple(
        _pocket(bar, rule, end, side, level, row)
        for end in (0, 1)
        for level, count in _levels(rule)
        for side, row in (_place(i) for i in range(count))
    )


def _levels(rule: Joint) -> tuple[tuple[Literal["high", "low"], int], ...]:
    return (("high", rule.high), ("low", rule.low))


def _place(i: int) -> tuple[Hand, int]:
    return ("right" if i % 2 else "left"), i // 2


def _pocket(bar: Bar, rule: Joint, end: int, side: Hand, level: Literal["high", "low"], row: int) -> Pocket:
    """Bored from the side face towards the end; half the screw stands in each piece (common practice, no source)."""
    axis = Line.through(*bar.axis)
    across = bar.width / 2.0 if side == "left" else -bar.width / 2.0
    inward = -1.0 if side == "left" else 1.0
    ahead = 1.0 if end == 1 else -1.0
    ends = crossings(bar.outline, axis, across + inward * rule.offset)
    exit_along = max(ends) if end == 1 else min(ends)
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
