"""Column generation: the linear relaxation within bounds on the counts, and the whole-number bounds it leads to."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from lacunar.plan.cutting.budget import Budget
from lacunar.plan.cutting.instance import Instance
from lacunar.plan.cutting.knapsack import Floats, Ints, Loads, best_loads
from lacunar.plan.cutting.linear import Master

IMPROVES = 1e-7
"""Reduced cost, in dearest boards, that makes a pattern worth adding: a hundred times the solver's tolerance."""

SMOOTH = 0.5
"""How far piece values are drawn towards those of the best bound before pricing, 0 to 1. Source: idea of Wentges 1997;
measured, 0.3 to 0.7 are alike."""

MANY = 8
"""Patterns of one pricing, at most."""

COARSEST = 1500
"""Cells that the largest board has on the coarsest grid, at least. Measured."""

STEP = 4
"""Each grid is this much finer than the one before."""


@dataclass(frozen=True, slots=True)
class Relaxed:
    """What is known within a box of counts.

    Attributes:
        value: of the linear program over the patterns found, in dearest boards; infinite where no plan fits.
        use: (patterns,), boards of each.
        piece_values: (demands,), those of the best bound.
        bound: no plan within the box costs less, in dearest boards.
        complete: no pattern improves it any more.
    """

    value: float
    use: Floats
    piece_values: Floats
    bound: float
    complete: bool


@dataclass(frozen=True, slots=True)
class _Rounded:
    """Weights rounded up and capacities down to a grid: what fits there fits."""

    weights: Ints
    capacities: Ints

    def loads(self, values: Floats, demand: Ints, budget: Budget) -> Loads:
        """Best loads for all capacities, on the budget."""
        loads = best_loads(self.weights, values, demand, int(self.capacities.max()))
        budget.charge(loads.took.size, 0, 0)
        budget.flat(1)
        return loads


def relax(
    master: Master,
    demand: Ints,
    lo: Ints,
    hi: Ints,
    budget: Budget,
    *,
    is_enough: Callable[[float, float], bool] | None = None,
    rounds: int = 1_000_000,
    share: float = 1.0,
) -> Relaxed:
    """Add patterns until none improves, the bound is enough, or the rounds or the budget are spent.

    Args:
        master: its patterns, which grow.
        demand: pieces that are still wanted.
        lo: boards of each stock, at least.
        hi: and at most.
        budget: is charged.
        is_enough: of the bound and the linear program's value, both in dearest boards.
        rounds: of pricing, at most.
        share: of the budget that may be spent.
    """
    master.bound(demand, lo, hi)
    pricing = _Pricing(master, demand, lo, hi, budget)
    while True:
        before = master.iterations
        value, use, values, boards = master.solve()
        budget.charge(0, master.iterations - before, master.n_pieces)
        added = pricing.add(values, boards)
        rounds -= 1
        enough = is_enough is not None and is_enough(pricing.best, value)
        if not added or enough or rounds <= 0 or not budget.is_left(share):
            return Relaxed(value, use, pricing.best_values, pricing.best, not added)


class _Pricing:
    """Looks for patterns that improve, on coarse grids first, and keeps the best bound."""

    def __init__(self, master: Master, demand: Ints, lo: Ints, hi: Ints, budget: Budget) -> None:
        self.best, self.best_values = -np.inf, np.zeros(len(demand))
        self._master, self._demand, self._lo, self._hi, self._budget = master, demand, lo, hi, budget
        instance = master.instance
        self._exact = _Rounded(instance.weights, instance.capacities)
        self._coarse = _coarse_grids(instance)

    def add(self, values: Floats, boards: Floats) -> bool:
        """Patterns with these values of a piece and of a board's count; False where none improves."""
        costs = self._master.instance.costs - boards
        while self._coarse:
            if self._add(self._coarse[0], self._loads(self._coarse[0], values), costs, values, values):
                return True
            self._coarse.pop(0)
        for pull in (SMOOTH, 0.0) if np.isfinite(self.best) else (0.0,):
            tried = pull * self.best_values + (1.0 - pull) * values
            loads = self._loads(self._exact, tried)
            self._improve_bound(tried, loads)
            if self._add(self._exact, loads, costs, tried, values):
                return True
        return False

    def _loads(self, grid: _Rounded, values: Floats) -> Loads:
        return grid.loads(values, self._demand, self._budget)

    def _improve_bound(self, values: Floats, loads: Loads) -> None:
        """With these values, and with them scaled down until no board yields more than it costs (Farley)."""
        instance = self._master.instance
        full = loads.best[instance.capacities]
        worth = (instance.prices > 0) & (full > 0.0)
        scale = min(float((instance.costs[worth] / full[worth]).min()), 1.0) if worth.any() else 1.0
        for factor in {1.0, scale}:
            margin = instance.costs - factor * full
            bound = float(factor * (values @ self._demand) + np.where(margin >= 0.0, self._lo, self._hi) @ margin)
            if bound > self.best:
                self.best, self.best_values = bound, factor * values

    def _add(self, grid: _Rounded, loads: Loads, costs: Floats, tried: Floats, values: Floats) -> bool:
        """The best pattern of each stock, and once more of the pieces that the best of these leaves."""
        order = np.argsort(costs - loads.best[grid.capacities], kind="stable")
        first, added = self._add_best(grid, loads, order[:MANY], costs, values)
        if first is None:
            return added
        rest = np.where(first > 0, 0, self._demand)
        again = grid.loads(tried, rest, self._budget)
        order = np.argsort(costs - again.best[grid.capacities], kind="stable")
        return self._add_best(grid, again, order[:2], costs, values)[1] or added

    def _add_best(
        self, grid: _Rounded, loads: Loads, stocks: Ints, costs: Floats, values: Floats
    ) -> tuple[Ints | None, bool]:
        """Add what improves; the first pattern that does, and whether any is new."""
        first, added = None, False
        for stock in stocks.tolist():
            pattern = loads.load(int(grid.capacities[stock]), len(values))
            if costs[stock] - values @ pattern < -IMPROVES:
                added |= self._master.is_new(stock, pattern)
                first = pattern if first is None else first
        return first, added


def _coarse_grids(instance: Instance) -> list[_Rounded]:
    grids: list[_Rounded] = []
    step = STEP
    while instance.largest // step >= COARSEST:
        grids.insert(0, _Rounded(-(-instance.weights // step), instance.capacities // step))
        step *= STEP
    return grids
