"""Of plans that cost the same, one with less board length, and then one with fewer settings at the saw."""

from collections import Counter
from collections.abc import Sequence

import numpy as np

from lacunar.plan.cutting.dive import dive
from lacunar.plan.cutting.greedy import Boards, left_over
from lacunar.plan.cutting.knapsack import Floats, Ints, charged_loads
from lacunar.plan.cutting.linear import Master
from lacunar.plan.cutting.relax import IMPROVES, relax
from lacunar.plan.cutting.search import Search

MOST_COUNTS = 2_000
"""Ways to spend the same money on less length that are looked at, at most."""

SHARE = 0.3
"""Of the effort that each of the two may spend on top of what the cost took."""

SETUP_UNIT = 64.0
"""Settings that cost as much as the dearest board in that program."""

ROUNDS = 60
"""Of pricing for fewer settings, at most."""

MOST_COLUMNS = 700
"""Patterns at hand that the program for fewer settings starts from, at most."""

MOST_NODES = 10
"""Of the solver's tree in that program. Measured: nearly all that can be saved is saved at the first."""

MOST_SECONDS = 10.0
"""For that program: an outer safety, ten times what was seen."""


def shorten(search: Search) -> None:
    """Look for a plan of the same cost with less board length."""
    budget = search.budget.part(SHARE)
    for counts in _shorter_counts(search):
        if not search.budget.is_left(budget):
            return
        if int(search.instance.lengths @ counts) >= search.length or search.proofs.refute(counts):
            continue
        relaxed = relax(
            search.master,
            search.instance.counts,
            counts,
            counts,
            search.budget,
            is_enough=lambda bound, _value: bound * search.instance.unit > search.cost + 1e-3,
            share=budget,
        )
        search.prove(relaxed.piece_values)
        if not search.proofs.refute(counts):
            dive(search, counts, counts, as_cheap=True, share=budget)


def _shorter_counts(search: Search) -> list[Ints]:
    """Counts that cost the same and make less length, the shortest first; those that no proof refutes."""
    instance = search.instance
    prices, lengths = instance.prices.tolist(), instance.lengths.tolist()
    order = sorted(range(len(prices)), key=lambda s: -prices[s])
    found: list[Ints] = []
    counts = np.zeros(len(prices), dtype=np.int64)
    steps = 0

    def extend(at: int, money: int, ticks: int) -> bool:
        nonlocal steps
        steps += 1
        if steps > 40 * MOST_COUNTS or len(found) > MOST_COUNTS:
            return False
        if at == len(order):
            if money == 0 and not search.proofs.refute(counts):
                found.append(counts.copy())
            return True
        stock = order[at]
        price = prices[stock]
        most = min(int(instance.supply[stock]), ticks // lengths[stock], money // price if price else 1 << 60)
        least = 0
        if price and (at + 1 == len(order) or not prices[order[at + 1]]):
            least = -(-money // price)
        for n in range(least, most + 1):
            counts[stock] = n
            if not extend(at + 1, money - n * price, ticks - n * lengths[stock]):
                return False
        counts[stock] = 0
        return True

    extend(0, search.cost, search.length - 1)
    return sorted(found, key=lambda n: (int(instance.lengths @ n), n.tolist()))


class _Setups(Master):
    """The same program with the number of different lengths on a board as its cost."""

    def column_cost(self, stock: int, pattern: Ints) -> float:
        """Different lengths on the board, small against the price of a missing piece."""
        return float(np.count_nonzero(pattern)) / SETUP_UNIT

    def price(self, demand: Ints, values: Floats, boards: Floats, search: Search) -> bool:
        """Add the best pattern of each stock that saves something; False where none does."""
        instance = self.instance
        loads = charged_loads(instance.weights, values, demand, instance.largest, 1.0 / SETUP_UNIT)
        search.budget.charge(2 * loads.took.size, 0, 0)
        gains = loads.best[instance.capacities] + boards
        added = False
        for stock in np.flatnonzero(gains > IMPROVES).tolist():
            added |= self.is_new(stock, loads.load(int(instance.capacities[stock]), len(values)))
        return added


def save_setups(search: Search) -> None:
    """Look for a plan with the same boards and fewer different lengths on them, added up over all boards.

    A whole-number program over the patterns at hand and those that would lower its relaxation.
    """
    assert search.boards is not None
    counts = search.instance.supply - left_over(search.instance.supply, search.boards)
    master = _Setups(search.instance)
    start = _columns(master, search.boards)
    for stock, pattern in zip(search.master.stocks, search.master.patterns, strict=True):
        if counts[stock] and len(master.patterns) < MOST_COLUMNS:
            master.add(stock, pattern)
    master.bound(search.instance.counts, np.zeros_like(counts), counts)
    _price(search, master)
    if len(master.patterns) > 2 * MOST_COLUMNS:
        return
    use = master.solve_whole(start, MOST_NODES, MOST_SECONDS, 0.999 / SETUP_UNIT)
    if master.by_clock:
        search.budget.late(MOST_SECONDS)
    if use is not None:
        _offer(search, master.boards(use))


def _columns(master: Master, boards: Sequence[Boards]) -> dict[int, int]:
    """Columns of a plan, and how many boards of each."""
    start: Counter[int] = Counter()
    for board in boards:
        start[master.add(board.stock, board.pattern)] += board.times
    return start


def _price(search: Search, master: _Setups) -> None:
    """Add patterns until none saves anything."""
    budget = search.budget.part(SHARE)
    for _ in range(ROUNDS):
        before = master.iterations
        _, _, values, boards = master.solve()
        search.budget.charge(0, master.iterations - before, master.n_pieces)
        search.budget.flat(1)
        added = master.price(search.instance.counts, values, boards, search)
        if not added or not search.budget.is_left(budget) or len(master.patterns) > 2 * MOST_COLUMNS:
            return


def _offer(search: Search, boards: Sequence[Boards]) -> None:
    plan = search.checked(boards)
    if plan is None or search.rank(plan) > (search.cost, search.length):
        return
    if search.boards is None or setups(plan) < setups(search.boards):
        search.keep(plan)


def setups(boards: Sequence[Boards]) -> int:
    """Different lengths on a board, over all boards."""
    return sum(int(np.count_nonzero(board.pattern)) * board.times for board in boards)
