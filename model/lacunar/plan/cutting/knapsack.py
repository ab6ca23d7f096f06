"""The best load of a board, for every capacity up to the largest at once."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
import numpy.typing as npt

Ints = npt.NDArray[np.int64]
Floats = npt.NDArray[np.float64]
Value = TypeVar("Value", np.int64, np.float64)


@dataclass(frozen=True, slots=True)
class Lot:
    """So many pieces of one kind, taken together or not at all."""

    item: int
    count: int
    weight: int


@dataclass(frozen=True, slots=True)
class Loads:
    """Best values for every capacity, and which lots they took.

    Attributes:
        best: (capacity + 1,), most value of pieces that fit.
        took: (lots, capacity + 1), the lot improved what came before it.
        alone: only one lot of each item may be taken.
    """

    best: npt.NDArray[np.float64]
    took: npt.NDArray[np.bool_]
    lots: tuple[Lot, ...]
    alone: bool = False

    def load(self, capacity: int, n_items: int) -> Ints:
        """How many of each item the best load of this capacity takes; (items,)."""
        counts = np.zeros(n_items, dtype=np.int64)
        for i in range(len(self.lots) - 1, -1, -1):
            lot = self.lots[i]
            if self.took[i, capacity] and (self.alone is False or not counts[lot.item]):
                counts[lot.item] += lot.count
                capacity -= lot.weight
        return counts


def doublings(count: int) -> Iterator[int]:
    """1, 2, 4, ... and a rest: their subsets add up to every number from 0 to the count."""
    size = 1
    while count > 0:
        yield min(size, count)
        count -= size
        size *= 2


def split_lots(weights: Ints, counts: Ints, items: Ints, capacity: int) -> tuple[Lot, ...]:
    """Lots of the items, as `doublings`."""
    rows = zip(items.tolist(), weights[items].tolist(), counts[items].tolist(), strict=True)
    return tuple(
        Lot(item, size, size * weight) for item, weight, n in rows for size in doublings(min(n, capacity // weight))
    )


def subset_sums(steps: Iterable[tuple[int, int]], most: int) -> int:
    """Bit k is set where up to so many of some numbers add up to k; k up to `most`.

    Args:
        steps: pairs (number, how many of it).
        most: the largest sum of interest.
    """
    mask = (1 << (most + 1)) - 1
    sums = 1
    for number, count in steps:
        for size in doublings(min(count, most // number)):
            sums |= (sums << size * number) & mask
    return sums


def _improved(
    best: npt.NDArray[Value], lots: Sequence[Lot], values: npt.NDArray[Value]
) -> Iterator[tuple[int, npt.NDArray[Value], npt.NDArray[Value]]]:
    """Take lot after lot into `best`: each with what was best, from its weight on, and what is with it, just before."""
    buffer = np.empty_like(best)
    for i, lot in enumerate(lots):
        rest, candidate = best[lot.weight :], buffer[: len(best) - lot.weight]
        np.add(best[: len(best) - lot.weight], values[lot.item] * lot.count, out=candidate)
        yield i, rest, candidate
        np.maximum(rest, candidate, out=rest)


def best_loads(weights: Ints, values: Floats, counts: Ints, capacity: int) -> Loads:
    """Bounded knapsack for all capacities from 0 to the given one.

    Args:
        weights: (items,), positive.
        values: (items,); what is worth nothing is left out.
        counts: (items,), most of each.
        capacity: the largest board's.
    """
    worth = np.flatnonzero((values > 0.0) & (counts > 0) & (weights <= capacity))
    lots = split_lots(weights, counts, worth, capacity)
    best, took = np.zeros(capacity + 1), np.zeros((len(lots), capacity + 1), dtype=np.bool_)
    for i, before, candidate in _improved(best, lots, values):
        np.greater(candidate, before, out=took[i, lots[i].weight :])
    return Loads(best, took, lots)


def charged_loads(weights: Ints, values: Floats, counts: Ints, capacity: int, charge: float) -> Loads:
    """As `best_loads`, less a charge for every kind of item in a load."""
    worth = np.flatnonzero((values * counts > charge) & (weights <= capacity))
    lots: list[Lot] = []
    rows: list[npt.NDArray[np.bool_]] = []
    best = np.zeros(capacity + 1)
    for item in worth.tolist():
        weight, before = int(weights[item]), best.copy()
        for n in range(1, min(int(counts[item]), capacity // weight) + 1):
            candidate = before[: capacity + 1 - n * weight] + (values[item] * n - charge)
            took = np.zeros(capacity + 1, dtype=np.bool_)
            np.greater(candidate, best[n * weight :], out=took[n * weight :])
            np.maximum(best[n * weight :], candidate, out=best[n * weight :])
            lots.append(Lot(item, n, n * weight))
            rows.append(took)
    return Loads(best, np.array(rows).reshape(len(lots), capacity + 1), tuple(lots), alone=True)


def whole_values(weights: Ints, values: Ints, counts: Ints, capacity: int) -> Ints:
    """Best value for every capacity in whole numbers; (capacity + 1,)."""
    worth = np.flatnonzero((values > 0) & (counts > 0) & (weights <= capacity))
    best = np.zeros(capacity + 1, dtype=np.int64)
    for _ in _improved(best, split_lots(weights, counts, worth, capacity), values):
        pass
    return best
