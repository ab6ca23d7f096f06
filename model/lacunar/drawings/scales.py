"""Scales: how small a piece of the plan is drawn, so that it fits and can be taken off with a rule."""

from collections.abc import Mapping, Sequence
from typing import Final

from lacunar.drawings.drawing import Spot
from lacunar.drawings.plan_view import PlanView, fitted
from lacunar.geometry import Point
from lacunar.units import Units

WHOLE: Final[Sequence[int]] = range(1, 1000)
"""1 : n, for what is drawn as large as goes."""

ON_A_RULE: Final[Mapping[Units, Sequence[int]]] = {
    "in": (1, 2, 4, 8, 12, 16, 24, 32, 48, 64, 96, 128, 192, 384),
    "mm": (1, 2, 5, 10, 20, 25, 50, 100, 200, 500),
}
"""1 : n, as they stand on a scale rule: 3 in to 1/32 in to a foot; ISO 5455. Source: common practice."""


def to_scale(points: Sequence[Point], at: Spot, size: Spot, steps: Sequence[int] = WHOLE) -> tuple[PlanView, int]:
    """In the middle of a rectangle, at the largest scale of some that fits; and its number."""
    full = fitted(points, at, size)
    number = next((n for n in steps if full.scale * n >= 1.0), steps[-1])
    xs, ys = zip(*points, strict=True)
    middle = ((max(xs) + min(xs)) / 2.0, (max(ys) + min(ys)) / 2.0)
    scale = 1.0 / number
    origin = (at[0] + size[0] / 2.0 - scale * middle[0], at[1] + size[1] / 2.0 + scale * middle[1])
    return PlanView(scale=scale, origin=origin), number
