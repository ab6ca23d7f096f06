"""One spacer for all coffers: the gaps at which most of them need no ripped slat."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Spacing:
    """Slats and what lies between and beside them; ticks.

    Attributes:
        slat: width of a slat.
        gap: least and most between two slats.
        edge: least and most between the last slat and the beam, on either side; the trim hides it.
    """

    slat: int
    gap: tuple[int, int]
    edge: tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class CommonGap:
    """The gaps that serve most coffers.

    Attributes:
        gaps: ticks, ascending.
        coffers: how many need no rip at each of these gaps.
    """

    gaps: tuple[int, ...]
    coffers: int


def gaps_without_rip(widths: Sequence[int], spacing: Spacing) -> tuple[tuple[int, int], ...]:
    """Intervals of gaps, ends included, at which whole slats fill a coffer of these widths.

    With n slats, 2 e = W - n w - (n - 1) g must lie within twice the edge's limits where the coffer is widest and
    where it is narrowest.
    """
    w, (low, high), (least, most) = spacing.slat, spacing.gap, spacing.edge
    found: list[tuple[int, int]] = []
    for n in range(1, min(widths) // w + 1):
        free = n - 1
        lo_room, hi_room = max(widths) - n * w - 2 * most, min(widths) - n * w - 2 * least
        if free == 0:
            found += [(low, high)] if lo_room <= 0 <= hi_room else []
            continue
        lo, hi = max(-(-lo_room // free), low), min(hi_room // free, high)
        found += [(lo, hi)] if lo <= hi else []
    return tuple(found)


def common_gap(coffers: Sequence[Sequence[int]], spacing: Spacing, grid: int = 1) -> CommonGap:
    """The gaps on the grid at which most coffers need no rip; an exact sweep over the ends of intervals."""
    steps: dict[int, int] = {}
    for widths in coffers:
        served = {g for lo, hi in gaps_without_rip(widths, spacing) for g in range(-(-lo // grid) * grid, hi + 1, grid)}
        for gap in served:
            steps[gap] = steps.get(gap, 0) + 1
    most = max(steps.values(), default=0)
    return CommonGap(gaps=tuple(sorted(gap for gap, n in steps.items() if n == most)), coffers=most)
