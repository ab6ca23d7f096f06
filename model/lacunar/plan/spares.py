"""Boards bought on top of those that are cut, because some are not good enough, and the least that both can cost."""

import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from lacunar.plan.cutting import BoardProblem
from lacunar.tolerances import ARITHMETIC

FAR = np.int64(1) << 60

TOO_LARGE = 500_000
"""Sums of prices, beyond which spares are counted as the bare share of the boards, as if they were not rounded up."""


def spares(count: int, cull: float) -> int:
    """Boards to buy on top of those to be cut: the cull's share of them, rounded up."""
    return math.ceil(count * cull - ARITHMETIC)


def total_cost(problem: BoardProblem, counts: Sequence[int], cull: float) -> int:
    """Of so many boards of each stock to be cut, spares included."""
    return sum(problem.price(s) * (n + spares(n, cull)) for s, n in enumerate(counts))


def least_total(problem: BoardProblem, bound: int, cull: float, allowed: Sequence[int]) -> int:
    """No plan whose boards to be cut cost `bound` or more costs less with its spares.

    Spares are rounded up for each length of board. So this is a knapsack over the counts: the least total of all
    counts of the allowed stocks whose boards to be cut reach the bound. Whether the pieces fit is not asked.

    Args:
        problem: prices and supplies.
        bound: on the boards to be cut, in the prices' unit.
        cull: share of the bought boards.
        allowed: stocks that may be used.
    """
    prices = [problem.price(s) for s in allowed]
    unit = math.gcd(*prices, bound) or 1
    if bound // unit > TOO_LARGE:
        return math.ceil(bound * (1.0 + cull) - ARITHMETIC)
    size = bound // unit
    least = np.full(size + 1, FAR, dtype=np.int64)
    least[0] = 0
    for s, price in zip(allowed, prices, strict=True):
        if price:
            most = min(problem.supply(s), max(-(-bound // price), 1))
            least = _with_stock(least, price // unit, price, most, cull)
    return int(least[-1])


def _with_stock(least: npt.NDArray[np.int64], step: int, price: int, most: int, cull: float) -> npt.NDArray[np.int64]:
    """The table with up to so many boards of one more stock; whatever passes the bound counts as reaching it."""
    best = np.full_like(least, FAR)
    for n in range(most + 1):
        add = price * (n + spares(n, cull))
        by = min(n * step, len(least) - 1)
        np.minimum(best[by:], least[: len(least) - by] + add, out=best[by:])
        best[-1] = min(int(best[-1]), int(least[len(least) - 1 - by :].min()) + add)
    return best
