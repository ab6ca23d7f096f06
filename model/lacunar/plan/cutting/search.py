"""The state of one search: the best plan, what proves bounds, and what may still be spent."""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from lacunar.plan.cutting.budget import Budget
from lacunar.plan.cutting.certificate import Box, is_cost_left
from lacunar.plan.cutting.greedy import Boards, cost, downsized, is_plan, length, trimmed
from lacunar.plan.cutting.instance import Instance
from lacunar.plan.cutting.knapsack import Floats, Ints, whole_values
from lacunar.plan.cutting.linear import ARTIFICIAL, Master

FINEST = 10**10
"""Value units in the dearest board: rounding values down then costs a bound nothing that matters."""

LARGEST_SUM = 1 << 61
"""Values of all pieces together stay below this, for 64-bit tables."""


@dataclass(slots=True)
class Proofs:
    """Whole-number vectors of piece values and what each proves: sum n z >= total for the counts n of any plan."""

    scale: int
    values: list[Ints] = field(default_factory=list[Ints])
    totals: list[int] = field(default_factory=list[int])
    loads: list[Ints] = field(default_factory=list[Ints])

    def bounds(self, prices: Ints, lo: Ints, hi: Ints) -> list[int]:
        """The least cost within the box by each vector, rounded up to the price's unit."""
        return [self.bound(k, prices, lo, hi) for k in range(len(self.values))]

    def bound(self, proof: int, prices: Ints, lo: Ints, hi: Ints) -> int:
        """The same by one vector."""
        margin = prices * self.scale - self.loads[proof]
        ends = np.where(margin >= 0, lo, hi)
        return -(-(self.totals[proof] + dot(ends, margin)) // self.scale)

    def refute(self, counts: Ints) -> bool:
        """Some vector shows that so many boards do not hold all pieces."""
        return any(dot(load, counts) < total for load, total in zip(self.loads, self.totals, strict=True))


def dot(a: Ints, b: Ints) -> int:
    """In Python's integers: products of 64-bit numbers may not fit 64 bits."""
    return sum(x * y for x, y in zip(a.tolist(), b.tolist(), strict=True))


class Search:
    """One instance being solved."""

    def __init__(self, instance: Instance, budget: Budget, wanted: int | None = None) -> None:
        """Nothing found yet; where a cost is `wanted`, only plans of no more are of use, and the first will do."""
        self.instance = instance
        self.budget = budget
        self.master = Master(instance)
        self.boards: list[Boards] | None = None
        self.wanted = wanted
        self.cost = (int(instance.prices @ instance.supply) if wanted is None else wanted) + 1
        self.length = 0
        pieces = int(instance.counts.sum())
        most = int(LARGEST_SUM // (ARTIFICIAL * pieces * instance.unit))
        self.proofs = Proofs(scale=max(min(int(FINEST // instance.unit), most), 1))
        self._prices = tuple(int(price) for price in instance.prices)

    def offer(self, boards: Sequence[Boards]) -> None:
        """Keep a plan if it is valid and better than the best; its patterns become columns."""
        plan = self.checked(boards)
        for board in plan or ():
            self.master.add(board.stock, board.pattern)
        if plan is not None and self.rank(plan) < (self.cost, self.length):
            self.keep(plan)
            self.budget.is_met = self.wanted is not None and self.cost <= self.wanted

    def checked(self, boards: Sequence[Boards]) -> list[Boards] | None:
        """The same with no piece too many, on boards as cheap as will do; None where that is no plan."""
        plan = downsized(self.instance, trimmed(boards, self.instance.counts))
        return plan if is_plan(self.instance, plan) else None

    def rank(self, plan: Sequence[Boards]) -> tuple[int, int]:
        """Cost and length of the boards: less is better."""
        return cost(self.instance, plan), length(self.instance, plan)

    def keep(self, plan: list[Boards]) -> None:
        """It is the best now."""
        self.boards, (self.cost, self.length) = plan, self.rank(plan)

    def is_closed(self, least: int, lo: Ints, hi: Ints, below: int | None = None) -> bool:
        """No cost from `least` to below another one, that of the best plan if none is given, is left within the box."""
        box: Box = (tuple(lo.tolist()), tuple(hi.tolist()))
        return not is_cost_left(self._prices, box, least, self.cost if below is None else below)

    def is_closed_by(self, bound: float, lo: Ints, hi: Ints) -> bool:
        """As `is_closed` for a bound of the linear program, in dearest boards."""
        return self.is_closed(self._whole(bound), lo, hi) if np.isfinite(bound) else bound > 0.0

    def is_settled(self, bound: float, value: float, lo: Ints, hi: Ints) -> bool:
        """No cost is left within the box from the bound to the value, both in dearest boards: more pricing is vain."""
        if not np.isfinite(bound) or not np.isfinite(value):
            return False
        return self.is_closed(self._whole(bound), lo, hi, min(self._whole(value), self.cost))

    def _whole(self, dearest_boards: float) -> int:
        """The least cost in the prices' unit that is no less."""
        return int(np.ceil(dearest_boards * self.instance.unit - 1e-6))

    def prove(self, values: Floats) -> int:
        """Keep these piece values as a proof; the index."""
        instance, proofs = self.instance, self.proofs
        whole = np.floor(values * (instance.unit * proofs.scale)).astype(np.int64)
        table = whole_values(instance.weights, whole, instance.counts, instance.largest)
        self.budget.charge(3 * len(table) * len(values), 0, 0)
        proofs.values.append(whole)
        proofs.totals.append(dot(whole, instance.counts))
        proofs.loads.append(table[instance.capacities])
        return len(proofs.values) - 1
