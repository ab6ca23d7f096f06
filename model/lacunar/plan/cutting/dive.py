"""From the relaxation down to a plan: fix what is whole, then the largest fraction, and price again on what is left.

Where a fixing leaves no hope of a cheaper plan it is taken back and the next fraction tried, a limited number of times.
"""

from dataclasses import dataclass, replace

import numpy as np

from lacunar.plan.cutting.greedy import Boards, cost, downsized, fill, fill_boards
from lacunar.plan.cutting.knapsack import Floats, Ints
from lacunar.plan.cutting.linear import Master
from lacunar.plan.cutting.relax import Relaxed, relax
from lacunar.plan.cutting.search import Search

WHOLE = 1e-6
"""A number of boards this close to a whole number is one."""

MANY_BOARDS = 60
AT_ONCE = 20
"""From so many boards left on, one in so many of them is fixed before pricing again."""

MANY_KINDS = 200
FEWER_ROUNDS = 4
"""From so many lengths left on, so many rounds of pricing after each fixing at most."""

POWERS = (1.02, 1.1)
"""Of a piece's weight, for filling boards one after the other. Measured: which is better differs by case."""

MOST_FILLED = 2_000
"""Pieces left, at most, that boards are filled with one after the other: some seconds."""

FEW = 60
"""Pieces left, at most, that are put onto boards greedily after every fixing; else only when the effort is spent."""


@dataclass(frozen=True, slots=True)
class State:
    """What a dive has fixed so far, and what is left."""

    fixed: tuple[Boards, ...]
    demand: Ints
    lo: Ints
    hi: Ints
    spent: int
    banned: frozenset[int]


def dive(
    search: Search,
    lo: Ints,
    hi: Ints,
    *,
    seed: int = 0,
    rounds: int = 12,
    retreats: int = 12,
    as_cheap: bool = False,
    share: float = 1.0,
) -> bool:
    """Look for a plan with counts within the box that is cheaper than the best; True where the best plan improved.

    Args:
        search: its best plan is the cut-off.
        lo: boards of each stock, at least.
        hi: and at most.
        seed: 0 takes the largest fraction, others disturb the choice, each in its own way.
        rounds: of pricing after each fixing.
        retreats: fixings taken back, at most.
        as_cheap: a shorter plan of the same cost is wanted, too.
        share: of the effort up to which work may be spent.
    """
    random = np.random.default_rng(seed) if seed else None
    before = (search.cost, search.length)
    state = State((), search.instance.counts.copy(), lo.copy(), hi.copy(), 0, frozenset())
    back: list[State] = []
    is_filled = False
    while state.demand.any() and search.budget.is_left(share):
        some = rounds if np.count_nonzero(state.demand) <= MANY_KINDS else min(rounds, FEWER_ROUNDS)
        relaxed = _relaxed(search, state, some, search.cost - (0 if as_cheap else 1), share)
        if relaxed is None:
            if not back or retreats <= 0:
                break
            retreats -= 1
            state = back.pop()
            continue
        boards = whole_boards(relaxed.use)
        if boards:
            for column, times in boards:
                state = fix(search.master, state, column, times)
            if not seed and not is_filled and np.count_nonzero(state.demand) > MANY_KINDS:
                is_filled = True
                _fill_boards(search, state, POWERS)
        else:
            columns = largest(relaxed.use, state.banned, random)
            if not columns:
                break
            back.append(replace(state, banned=state.banned | {columns[0]}))
            for column in columns:
                if column == columns[0] or (search.master.patterns[column] <= state.demand).all():
                    state = fix(search.master, state, column, 1)
            state = replace(state, banned=frozenset())
        if state.demand.sum() <= FEW:
            _complete(search, state)
    if state.demand.any() and not search.budget.is_left(share):
        _complete(search, state)
        _fill_boards(search, state, POWERS[:1])
    return (search.cost, search.length) < before


def _relaxed(search: Search, state: State, rounds: int, cut: int, share: float) -> Relaxed | None:
    """The relaxation of what is left; None where it leads to no plan of this cost or less."""
    unit = search.instance.unit
    most = cut + 1e-4 - state.spent

    def hopeless(bound: float, _value: float) -> bool:
        return bound * unit > most

    master, budget = search.master, search.budget
    box = (state.demand, state.lo, state.hi)
    relaxed = relax(master, *box, budget, is_enough=hopeless, rounds=rounds, share=share)
    if relaxed.value * unit > most and not relaxed.complete and not hopeless(relaxed.bound, 0.0):
        relaxed = relax(master, *box, budget, is_enough=hopeless, share=share)
    return None if relaxed.value * unit > most else relaxed


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


def _complete(search: Search, state: State) -> None:
    """What is left onto boards greedily."""
    instance, demand = search.instance, state.demand
    if not demand.any():
        search.offer(state.fixed)
        return
    supply = _left(search, state)
    rate = instance.prices / np.maximum(instance.capacities, 1)
    bases = np.flatnonzero((supply > 0) & (instance.prices > 0))
    for base in bases[np.argsort(rate[bases], kind="stable")][:2].tolist():
        boards, missing = fill(instance, demand, supply, base, best_fit=True)
        if not missing.any() and state.spent + cost(instance, downsized(instance, boards)) <= search.cost:
            search.offer([*state.fixed, *boards])


def _fill_boards(search: Search, state: State, powers: tuple[float, ...]) -> None:
    """What is left onto boards that are filled one after the other: slower and tighter."""
    for power in powers if state.demand.sum() <= MOST_FILLED else ():
        boards, missing = fill_boards(search.instance, state.demand, _left(search, state), power)
        kinds = int(np.count_nonzero(state.demand))
        search.budget.charge(len(boards) * kinds * search.instance.largest, 0, 0)
        if not missing.any():
            search.offer([*state.fixed, *boards])


def _left(search: Search, state: State) -> Ints:
    """Boards of each stock that are not fixed yet."""
    supply = search.instance.supply.copy()
    for board in state.fixed:
        supply[board.stock] -= board.times
    return supply
