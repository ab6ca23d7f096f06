"""A board problem as arrays, with the numbers made as small as they can be without changing what fits."""

import math
from dataclasses import dataclass, replace

import numpy as np

from lacunar.plan.cutting.knapsack import Floats, Ints, subset_sums
from lacunar.plan.cutting.problem import BoardProblem


@dataclass(frozen=True, slots=True)
class Instance:
    """Rows in the order of the problem.

    Attributes:
        weights: (demands,), divided by their greatest common divisor.
        counts: (demands,), pieces wanted.
        capacities: (stocks,), rounded down to a sum of weights.
        prices: (stocks,), as in the problem.
        supply: (stocks,), most boards of it in any plan.
        lengths: (stocks,), ticks.
        unit: the dearest board; prices divided by it stand in the linear program.
    """

    weights: Ints
    counts: Ints
    capacities: Ints
    prices: Ints
    supply: Ints
    lengths: Ints
    unit: float

    @property
    def costs(self) -> Floats:
        """Prices as the linear program sees them; (stocks,)."""
        return self.prices / self.unit

    @property
    def largest(self) -> int:
        """Capacity of the largest board."""
        return int(self.capacities.max())

    def part(self, kinds: Ints, counts: Ints, supply: Ints) -> "Instance":
        """The same boards for some of the pieces only.

        Args:
            kinds: indices of the demands that stay.
            counts: (kinds,), of each.
            supply: (stocks,), most boards.
        """
        return replace(self, weights=self.weights[kinds], counts=counts, supply=supply)


def make_instance(problem: BoardProblem) -> Instance:
    """Arrays of a problem that `check_problem` passed."""
    stocks, demands = range(len(problem.stocks)), range(len(problem.demands))
    unit = math.gcd(*(problem.weight(i) for i in demands))
    weights = [problem.weight(i) // unit for i in demands]
    counts = [demand.count for demand in problem.demands]
    capacities = [max(problem.capacity(s), 0) // unit for s in stocks]
    sums = subset_sums(zip(weights, counts, strict=True), max(capacities))
    prices = np.array(problem.prices, dtype=np.int64)
    return Instance(
        weights=np.array(weights, dtype=np.int64),
        counts=np.array(counts, dtype=np.int64),
        capacities=np.array([_last_bit(sums, capacity) for capacity in capacities], dtype=np.int64),
        prices=prices,
        supply=np.array([problem.supply(s) for s in stocks], dtype=np.int64),
        lengths=np.array([stock.length for stock in problem.stocks], dtype=np.int64),
        unit=float(max(prices.max(), 1)),
    )


def _last_bit(sums: int, capacity: int) -> int:
    return (sums & ((1 << (capacity + 1)) - 1)).bit_length() - 1
