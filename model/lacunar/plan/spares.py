"""Boards bought on top of those that are cut, because some are not good enough, and the least that both can cost."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from lacunar.plan.cutting import BoardProblem, BoardSolution, Certificate, Effort, ShortageError, solve_boards
from lacunar.plan.refute import MOST_VECTORS, Refuted, find_cheaper
from lacunar.tolerances import ARITHMETIC

FAR = np.int64(1) << 60

LARGEST_TABLE = 20_000
"""Sums of prices up to the bound, at most, for which sets of lengths are looked at one by one: milliseconds each."""

TOO_LARGE = 500_000
"""Sums of prices, beyond which spares are counted as the bare share of the boards, as if they were not rounded up."""

MOST_SETS = 16
"""Sets of lengths that are looked at, at most."""

SHARE = 4.0
"""Each count that may be cheaper is tried with so much less effort than the whole."""


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """A certificate of what a problem's boards to be cut cost at least."""

    problem: BoardProblem
    certificate: Certificate


@dataclass(frozen=True, slots=True, kw_only=True)
class StockChoice:
    """Which stocks to buy of, spares counted.

    Attributes:
        counts: boards of each stock.
        bound: no plan costs less, spares included.
        proof: that the boards to be cut cost no less.
        refuted: all counts that would be cheaper with their spares lie below one of these; none where `proof` suffices.
    """

    counts: tuple[int, ...]
    bound: int
    proof: Proof
    refuted: tuple[Refuted, ...]


def choose_stocks(problem: BoardProblem, cull: float, effort: Effort) -> StockChoice:
    """The stocks whose cheapest plan costs least with its spares.

    A plan of few lengths needs few spares, so that the cheapest boards to be cut may not be the cheapest to buy. Each
    set of lengths that could be cheaper still is solved by itself, the most promising first.

    Raises:
        PlanError, ShortageError: as `solve_boards`.
    """
    every = tuple(range(len(problem.stocks)))
    whole = solve_boards(problem, effort)
    proof = Proof(problem=problem, certificate=whole.certificate)
    counts = counts_of(whole, len(every))
    best = total_cost(problem, counts, cull)
    # Without spares the boards to be cut are all there is to pay for.
    bound = least_total(problem, whole.bound, cull, every) if cull else whole.bound
    if cull and bound < best:
        counts = _of_fewer_stocks(problem, counts, whole.bound, cull, effort)
        best = total_cost(problem, counts, cull)
    if not cull or bound == best:
        return StockChoice(counts=tuple(counts), bound=bound, proof=proof, refuted=())
    return _closed(problem, counts, bound, proof, cull, effort)


def _of_fewer_stocks(
    problem: BoardProblem, counts: Sequence[int], bound: int, cull: float, effort: Effort
) -> Sequence[int]:
    """The best counts of all sets of the stocks; those given where none is cheaper with its spares."""
    every = range(len(problem.stocks))
    sold, free = [s for s in every if problem.price(s)], [s for s in every if not problem.price(s)]
    if bound // math.gcd(*(problem.price(s) for s in sold)) > LARGEST_TABLE:
        return counts
    best = total_cost(problem, counts, cull)
    sets = [tuple(sorted((*free, *some))) for n in range(len(sold)) for some in itertools.combinations(sold, n)]
    least = {some: least_total(problem, bound, cull, some) for some in sets[:MOST_SETS]}
    for some in sorted(least, key=lambda some: (least[some], some)):
        narrow = replace(problem, stocks=tuple(problem.stocks[s] for s in some))
        solved = _within(narrow, effort) if least[some] < best else None
        if solved is None:
            continue
        found = [0] * len(every)
        for s, n in zip(some, counts_of(solved, len(some)), strict=True):
            found[s] = n
        if total_cost(problem, found, cull) < best:
            counts, best = found, total_cost(problem, found, cull)
    return counts


def _within(problem: BoardProblem, effort: Effort) -> BoardSolution | None:
    try:
        return solve_boards(problem, effort)
    except ShortageError:
        return None


def _closed(
    problem: BoardProblem,
    counts: Sequence[int],
    bound: int,
    proof: Proof,
    cull: float,
    effort: Effort,
) -> StockChoice:
    """Look for counts that are cheaper still until there are none, or too many to look at."""
    small = replace(effort, work=effort.work / SHARE, tidy=False)
    sold = [s for s in range(len(problem.stocks)) if problem.price(s)]
    known: tuple[Refuted, ...] = ()
    while True:
        best = total_cost(problem, counts, cull)
        totals = {s: _totals(problem, s, best, cull) for s in sold}
        if math.prod(len(totals[s]) for s in sold[:-1]) > MOST_VECTORS:
            return StockChoice(counts=tuple(counts), bound=bound, proof=proof, refuted=())
        cheaper = find_cheaper(problem, totals, best, proof.certificate.bound, small, known)
        if cheaper.plan is None:
            return StockChoice(
                counts=tuple(counts),
                bound=best if cheaper.is_complete else bound,
                proof=proof,
                refuted=cheaper.refuted if cheaper.is_complete else (),
            )
        counts, known = counts_of(cheaper.plan, len(problem.stocks)), cheaper.refuted


def _totals(problem: BoardProblem, stock: int, best: int, cull: float) -> list[int]:
    """Of 0, 1, 2, ... boards with their spares, as long as that is below the best."""
    price = problem.price(stock)
    out = [0]
    while len(out) <= problem.supply(stock):
        total = price * (len(out) + spares(len(out), cull))
        if total >= best:
            break
        out.append(total)
    return out


def counts_of(solution: BoardSolution, stocks: int) -> list[int]:
    """Boards of each stock."""
    counts = [0] * stocks
    for pattern in solution.patterns:
        counts[pattern.stock] += pattern.times
    return counts
