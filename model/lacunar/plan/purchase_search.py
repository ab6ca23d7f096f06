"""The cheapest boards to buy, spares included: counts are tried in order of what they cost, until some do."""

import math
from dataclasses import replace

from lacunar.plan.cutting import (
    BoardProblem,
    Certificate,
    Effort,
    ShortageError,
    Worth,
    afford_boards,
    solve_boards,
    worth_of,
)
from lacunar.plan.purchase import Proof, Purchase, Refuted, counts_of
from lacunar.plan.slab import list_counts
from lacunar.plan.spares import least_total, spares, total_cost

SHARE = 4.0
"""Counts that may be cheaper are tried with so much less effort each than the whole."""

MOST_TRIED = 150
"""Counts that are tried by a search, at most. Measured: some milliseconds each."""

STEPS = (1 / 32, 1 / 16, 1 / 8, 1 / 4, 1 / 2, 1)
"""Of what is open between the bound and the cost at hand: how far counts are listed at once."""


def cheapest_purchase(problem: BoardProblem, cull: float, effort: Effort) -> Purchase:
    """The counts that cost least with their spares.

    A plan of few lengths needs few spares, so that the cheapest boards to be cut may not be the cheapest to buy.

    Raises:
        PlanError, ShortageError: as `solve_boards`.
    """
    whole = solve_boards(problem, effort)
    counts = counts_of(whole, len(problem.stocks))
    # Without spares the boards to be cut are all there is to pay for.
    bound = least_total(problem, whole.bound, cull, range(len(problem.stocks))) if cull else whole.bound
    purchase = Purchase(
        counts=tuple(counts),
        cost=total_cost(problem, counts, cull),
        bound=bound,
        proof=Proof(problem=problem, certificate=whole.certificate),
    )
    if not cull or bound == purchase.cost:
        return purchase
    return _cheaper(purchase, cull, replace(effort, work=effort.work / SHARE, tidy=False))


def _cheaper(purchase: Purchase, cull: float, effort: Effort) -> Purchase:
    """The cheapest counts that do, or as far as could be told with so much effort for each try."""
    problem, bound, proved = purchase.proof.problem, purchase.bound, purchase.bound
    search = _CountSearch(problem, purchase.proof.certificate, cull, effort)
    counts, least = purchase.counts, purchase.cost
    for step in STEPS:
        below = bound + math.ceil((purchase.cost - bound) * step)
        found = search.between(proved, below)
        if found is not None:
            counts, least = found, total_cost(problem, found, cull)
        if search.is_stuck or found is not None:
            break
        proved = below
    return Purchase(
        counts=counts,
        cost=least,
        bound=min(least, max(search.open_from, bound)) if search.open_from is not None else least,
        proof=replace(purchase.proof, worths=tuple(search.worths), refuted=tuple(search.refuted)),
    )


class _CountSearch:
    """Counts that were tried, and what they have shown."""

    def __init__(self, problem: BoardProblem, certificate: Certificate, cull: float, effort: Effort) -> None:
        self.worths: list[Worth] = []
        self.refuted: list[Refuted] = []
        self.open_from: int | None = None
        """The least total of counts of which nothing is known."""
        self.is_stuck = False
        self._problem, self._cull, self._effort, self._tried = problem, cull, effort, 0
        self._sold = [s for s in range(len(problem.stocks)) if problem.price(s)]
        self._least_cut = certificate.bound
        self._learn(certificate)

    def between(self, least: int, below: int) -> tuple[int, ...] | None:
        """The cheapest counts that do, of those whose total is from `least` to less than `below`."""
        problem, sold = self._problem, self._sold
        totals = [_totals(problem, s, below, self._cull) for s in sold]
        free = {s: problem.supply(s) for s in range(len(problem.stocks)) if s not in sold}
        limits = [
            ([worth.boards[s] for s in sold], worth.pieces - sum(n * worth.boards[s] for s, n in free.items()))
            for worth in self.worths
        ]
        limits.append(([problem.price(s) for s in sold], self._least_cut))
        listed = list_counts(totals, limits, least, below)
        if listed is None:
            self._stop(least)
            return None
        for some in listed.tolist():
            counts = tuple(free[s] if s in free else some[sold.index(s)] for s in range(len(problem.stocks)))
            if not all(worth.may_do(counts) for worth in self.worths) or self._is_refuted(counts):
                continue
            if self._tried >= MOST_TRIED:
                self._stop(total_cost(problem, counts, self._cull))
                return None
            self._tried += 1
            if self._does(counts):
                return counts
        return None

    def _does(self, counts: tuple[int, ...]) -> bool:
        """Whether the pieces come out of so many boards; learns from it where they do not."""
        problem = self._problem
        stocks = tuple(replace(stock, supply=n) for stock, n in zip(problem.stocks, counts, strict=True))
        within = replace(problem, stocks=stocks)
        try:
            answer = afford_boards(within, sum(problem.price(s) * n for s, n in enumerate(counts)), self._effort)
        except ShortageError:
            self.refuted.append(Refuted(problem=within, certificate=None))
            return False
        if isinstance(answer, Certificate):
            self._learn(answer)
            if all(worth.may_do(counts) for worth in self.worths):
                self.refuted.append(Refuted(problem=within, certificate=answer))
        elif answer is None:
            self.open_from = self.open_from or total_cost(problem, counts, self._cull)
        else:
            return True
        return False

    def _learn(self, certificate: Certificate) -> None:
        for values in certificate.values:
            worth = worth_of(self._problem, values)
            if worth.pieces and worth not in self.worths:
                self.worths.append(worth)

    def _is_refuted(self, counts: tuple[int, ...]) -> bool:
        tops = ([stock.supply or 0 for stock in one.problem.stocks] for one in self.refuted)
        return any(all(n <= most for n, most in zip(counts, top, strict=True)) for top in tops)

    def _stop(self, total: int) -> None:
        self.is_stuck = True
        self.open_from = min(total, self.open_from or total)


def _totals(problem: BoardProblem, stock: int, below: int, cull: float) -> list[int]:
    """Of 0, 1, 2, ... boards with their spares, as long as that is less than `below`."""
    price = problem.price(stock)
    out = [0]
    while len(out) <= problem.supply(stock):
        total = price * (len(out) + spares(len(out), cull))
        if total >= below:
            break
        out.append(total)
    return out
