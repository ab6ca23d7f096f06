"""From the relaxation down to a plan: fix what is whole, then the largest fraction, and price again on what is left.

Where a fixing leaves no hope of a cheaper plan it is taken back and the next fraction tried, a limited number of times.
"""

from dataclasses import replace

import numpy as np

from lacunar.plan.cutting.fixing import DiveState, fix, largest, whole_boards
from lacunar.plan.cutting.greedy import Boards, cost, downsized, fill, fill_boards, left_over
from lacunar.plan.cutting.knapsack import Ints
from lacunar.plan.cutting.relax import Relaxed, relax
from lacunar.plan.cutting.search import Search

ROUNDS = 12
"""Of pricing after each fixing, at most."""

MANY_KINDS = 200
FEWER_ROUNDS = 2
"""From so many lengths left on, so many rounds of pricing after each fixing at most. Measured: more gain nothing."""

REST_DIVES = 3
"""Into what is left when few lengths of very many are."""

POWERS = (1.02, 1.1)
"""Of a piece's weight, for filling boards one after the other. Measured: which is better differs by case."""

MOST_FILLED = 2_000
"""Pieces left, at most, that boards are filled with one after the other: some seconds."""

FEW = 60
"""Pieces left, at most, that are put onto boards greedily after every fixing; else only when the effort is spent."""


def dive(
    search: Search,
    lo: Ints,
    hi: Ints,
    *,
    seed: int = 0,
    retreats: int = 12,
    as_cheap: bool = False,
    share: float = 1.0,
) -> None:
    """Look for a plan with counts within the box that is cheaper than the best.

    Args:
        search: its best plan is the cut-off.
        lo: boards of each stock, at least.
        hi: and at most.
        seed: 0 takes the largest fraction, others disturb the choice, each in its own way.
        retreats: fixings taken back, at most.
        as_cheap: a shorter plan of the same cost is wanted, too.
        share: of the effort up to which work may be spent.
    """
    random = np.random.default_rng(seed) if seed else None
    state = DiveState((), search.instance.counts.copy(), lo.copy(), hi.copy(), 0, frozenset())
    back: list[DiveState] = []
    is_filled = False
    while state.demand.any() and search.budget.is_left(share):
        if _is_rest(search, state):
            _solve_rest(search, state, share)
            break
        some = ROUNDS if np.count_nonzero(state.demand) <= MANY_KINDS else FEWER_ROUNDS
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


def _is_rest(search: Search, state: DiveState) -> bool:
    """Of very many lengths less than half are left."""
    left = int(np.count_nonzero(state.demand))
    return len(state.demand) > MANY_KINDS and 0 < 2 * left < len(state.demand)


def _solve_rest(search: Search, state: DiveState, share: float) -> None:
    """What is left as a problem of its own: a program with few rows, and none of the patterns that no longer fit."""
    kinds = np.flatnonzero(state.demand)
    rest = Search(search.instance.part(kinds, state.demand[kinds], state.hi), search.budget)
    for stock, pattern in zip(search.master.stocks, search.master.patterns, strict=True):
        if (pattern <= state.demand).all():
            rest.master.add(stock, pattern[kinds])
    for seed in range(REST_DIVES if len(kinds) <= MANY_KINDS else 1):
        dive(rest, state.lo, state.hi, seed=seed, share=share)
    whole = [
        Boards(board.stock, _spread(board.pattern, kinds, len(state.demand)), board.times)
        for board in rest.boards or ()
    ]
    if whole:
        search.offer([*state.fixed, *whole])


def _spread(pattern: Ints, kinds: Ints, count: int) -> Ints:
    """A pattern of some kinds as one of all."""
    spread = np.zeros(count, dtype=np.int64)
    spread[kinds] = pattern
    return spread


def _relaxed(search: Search, state: DiveState, rounds: int, cut: int, share: float) -> Relaxed | None:
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


def _complete(search: Search, state: DiveState) -> None:
    """What is left onto boards greedily."""
    instance, demand = search.instance, state.demand
    if not demand.any():
        search.offer(state.fixed)
        return
    supply = left_over(instance.supply, state.fixed)
    rate = instance.prices / np.maximum(instance.capacities, 1)
    bases = np.flatnonzero((supply > 0) & (instance.prices > 0))
    for base in bases[np.argsort(rate[bases], kind="stable")][:2].tolist():
        boards, missing = fill(instance, demand, supply, base, best_fit=True)
        if not missing.any() and state.spent + cost(instance, downsized(instance, boards)) <= search.cost:
            search.offer([*state.fixed, *boards])


def _fill_boards(search: Search, state: DiveState, powers: tuple[float, ...]) -> None:
    """What is left onto boards that are filled one after the other: slower and tighter."""
    for power in powers if state.demand.sum() <= MOST_FILLED else ():
        boards, missing = fill_boards(
            search.instance, state.demand, left_over(search.instance.supply, state.fixed), power
        )
        kinds = int(np.count_nonzero(state.demand))
        search.budget.charge(len(boards) * kinds * search.instance.largest, 0, 0)
        if not missing.any():
            search.offer([*state.fixed, *boards])
