"""Boards that are fixed on the way from the relaxation to a plan, and which ones to fix next."""

from dataclasses import dataclass

import numpy as np

from lacunar.plan.cutting.greedy import Boards, cost, trimmed
from lacunar.plan.cutting.knapsack import Floats, Ints
from lacunar.plan.cutting.linear import Master

WHOLE = 1e-6
"""A number of boards this close to a whole number is one."""

MANY_BOARDS = 60
AT_ONCE = 20
"""From so many boards left on, one in so many of them is fixed before pricing again."""


@dataclass(frozen=True, slots=True)
class DiveState:
    """What a dive has fixed so far, and what is left."""

    fixed: tuple[Boards, ...]
    demand: Ints
    lo: Ints
    hi: Ints
    spent: int
    banned: frozenset[int]


def fix(master: Master, state: DiveState, column: int, times: int) -> DiveState:
    """So many boards of a pattern, less what nobody wants any more."""
    stock = master.stocks[column]
    boards = trimmed([Boards(stock, master.patterns[column], min(times, int(state.hi[stock])))], state.demand)
    demand, lo, hi = state.demand.copy(), state.lo.copy(), state.hi.copy()
    for board in boards:
        demand -= board.pattern * board.times
        lo[stock], hi[stock] = max(int(lo[stock]) - board.times, 0), hi[stock] - board.times
    spent = state.spent + cost(master.instance, boards)
    return DiveState((*state.fixed, *boards), demand, lo, hi, spent, state.banned)


def whole_boards(use: Floats) -> list[tuple[int, int]]:
    """Columns that stand for at least one whole board, and how many."""
    floor = np.floor(use + WHOLE).astype(np.int64)
    return [(int(j), int(floor[j])) for j in np.flatnonzero(floor)]


def largest(use: Floats, banned: frozenset[int], random: np.random.Generator | None) -> list[int]:
    """The column nearest to a whole board that is not banned; of very many boards, one in twenty such columns."""
    score = use if random is None else use * random.uniform(0.2, 1.0, len(use))
    score = score.copy()
    score[[j for j in banned if j < len(score)]] = 0.0
    count = max(int(use.sum()) // AT_ONCE, 1) if use.sum() > MANY_BOARDS else 1
    best: list[int] = np.argsort(-score, kind="stable")[:count].tolist()
    return [j for j in best if score[j] > WHOLE]
