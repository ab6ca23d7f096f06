"""Boards that are fixed on the way from the relaxation to a plan, and which ones to fix next."""

from dataclasses import dataclass

import numpy as np

from lacunar.plan.cutting.greedy import Boards
from lacunar.plan.cutting.knapsack import Floats, Ints
from lacunar.plan.cutting.linear import Master

WHOLE = 1e-6
"""A number of boards this close to a whole number is one."""

MANY_BOARDS = 60
AT_ONCE = 20
"""From so many boards left on, one in so many of them is fixed before pricing again."""


@dataclass(frozen=True, slots=True)
class State:
    """What a dive has fixed so far, and what is left."""

    fixed: tuple[Boards, ...]
    demand: Ints
    lo: Ints
    hi: Ints
    spent: int
    banned: frozenset[int]


def fix(master: Master, state: State, column: int, times: int) -> State:
    """So many boards of a pattern, less what nobody wants any more."""
    stock, pattern = master.stocks[column], master.patterns[column]
    demand, lo, hi, spent = state.demand.copy(), state.lo.copy(), state.hi.copy(), state.spent
    fixed = list(state.fixed)
    while times > 0 and hi[stock] > 0:
        pattern = np.minimum(pattern, demand)
        used = pattern > 0
        if not used.any():
            break
        run = min(times, int((demand[used] // pattern[used]).min()), int(hi[stock]))
        fixed.append(Boards(stock, pattern, run))
        demand -= pattern * run
        lo[stock], hi[stock] = max(int(lo[stock]) - run, 0), int(hi[stock]) - run
        spent += int(master.instance.prices[stock]) * run
        times -= run
    return State(tuple(fixed), demand, lo, hi, spent, state.banned)


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
