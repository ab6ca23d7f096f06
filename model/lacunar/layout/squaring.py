"""Where a slat's ends are cut: square and hung centred (rule 8), or to the sides' angle where square cannot hide."""

import math
from dataclasses import dataclass

from lacunar.geometry import Line, Ring, extent
from lacunar.tolerances import ARITHMETIC


@dataclass(frozen=True, slots=True, kw_only=True)
class EndRule:
    """What the config says of slats' ends; lengths in the plan.

    Attributes:
        end_gap: wished for at each end.
        least_end_gap: that still does.
        hidden: trim width less the least overlap.
        mark: lengths are cut to multiples of this, true length.
    """

    end_gap: float
    least_end_gap: float
    hidden: float
    mark: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """How far a coffer's two sides reach along a slat, measured on its axis line.

    Attributes:
        inner: innermost points (start, end).
        outer: outermost points (start, end).
    """

    inner: tuple[float, float]
    outer: tuple[float, float]

    @property
    def tight(self) -> float:
        """Between the innermost points."""
        return self.inner[1] - self.inner[0]

    @property
    def lean(self) -> tuple[float, float]:
        """Outermost less innermost at each end."""
        return (self.inner[0] - self.outer[0], self.outer[1] - self.inner[1])


def reach(region: Ring, near: Line, far: Line, axis: Line) -> Reach | None:
    """Reach of a region that a slat's two edges run through; None where it does not span from edge to edge."""
    spans = [_span_on(region, edge, axis) for edge in (near, far)]
    if spans[0] is None or spans[1] is None:
        return None
    (a0, a1), (b0, b1) = spans[0], spans[1]
    outer = extent(region, axis)
    inner = (max(a0, b0), min(a1, b1))
    return Reach(inner=inner, outer=outer) if inner[1] - inner[0] > ARITHMETIC else None


def _span_on(region: Ring, edge: Line, axis: Line) -> tuple[float, float] | None:
    on = [p for p in region if abs(edge.offset(p)) <= 100.0 * ARITHMETIC]
    if len(on) < 2:
        return None
    return extent(on, axis)


def square_length(reach: Reach, rule: EndRule, stretch: float) -> tuple[float, tuple[float, float]] | None:
    """Rule 8: the designed length and the interval, true lengths; None where no square-cut length hides both ends.

    Args:
        reach: of the coffer's sides along the slat.
        rule: gaps and trim.
        stretch: true length per mm of plan along the slat.
    """
    tight = reach.tight * stretch
    longest = tight - 2.0 * rule.least_end_gap
    shortest = tight + 2.0 * max(reach.lean) * stretch - 2.0 * rule.hidden
    if longest < max(shortest, 0.0) - ARITHMETIC or longest <= 0.0:
        return None
    designed = nearest_mark(tight - 2.0 * rule.end_gap, shortest, longest, rule.mark)
    return designed, (max(shortest, min(longest, rule.mark)), longest)


def nearest_mark(wished: float, shortest: float, longest: float, mark: float) -> float:
    """The mark nearest to a wished length that lies in the interval; without one, the wish held to the interval."""
    low = math.ceil((shortest - ARITHMETIC) / mark)
    high = math.floor((longest + ARITHMETIC) / mark)
    if low > high:
        return min(max(wished, shortest), longest)
    return min(max(math.floor(wished / mark + 0.5), low), high) * mark
