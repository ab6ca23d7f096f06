"""Whole numbers of boards of the patterns at hand, by the solver's own search: a last way to a plan."""

import numpy as np

from lacunar.plan.cutting.knapsack import Ints
from lacunar.plan.cutting.linear import Master
from lacunar.plan.cutting.search import Search

MOST_COLUMNS = 1200
"""Patterns, at most: the ones of least reduced cost are taken."""

MOST_ROWS = 120
"""Demands, at most: with more the solver finds nothing in time. Measured."""

MOST_SECONDS = 20.0
"""An outer safety, many times what was seen."""


def program(search: Search, lo: Ints, hi: Ints, nodes: int) -> None:
    """Look within the box for a cheaper plan."""
    instance = search.instance
    if len(instance.weights) > MOST_ROWS:
        return
    search.master.bound(instance.counts, lo, hi)
    _, _, values, boards = search.master.solve()
    patterns = np.array(search.master.patterns)
    stocks = np.array(search.master.stocks)
    reduced = instance.costs[stocks] - patterns @ values - boards[stocks]
    master = Master(instance)
    columns: list[int] = np.sort(np.argsort(reduced, kind="stable")[:MOST_COLUMNS]).tolist()
    for column in columns:
        master.add(search.master.stocks[column], search.master.patterns[column])
    master.bound(instance.counts, lo, hi)
    use = master.solve_whole({}, nodes, MOST_SECONDS, 0.999 / instance.unit)
    search.budget.charge(0, master.iterations, master.n_pieces)
    if master.by_clock:
        search.budget.late(MOST_SECONDS)
    if use is not None:
        search.offer(master.boards(use))
