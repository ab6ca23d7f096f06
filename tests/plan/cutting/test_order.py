"""The order at the saw: nothing lost, placements counted anew, every order tried on small cases."""

import itertools
import random
from collections.abc import Sequence

import pytest

from lacunar.plan.cutting import Effort, Pattern, SawTurn, order_boards, solve_boards
from lacunar.plan.cutting.order import fewest_placements
from plan.cutting.sawbench import cases, priced


def placements(turns: Sequence[SawTurn], stops: int) -> int:
    """The fewest placements for these cuts in this order: the stop that moves is needed last, or never (Belady)."""
    cuts = [length for turn in turns for length in turn.lengths]
    standing: set[int] = set()
    count = 0
    for at, length in enumerate(cuts):
        if length in standing:
            continue
        count += 1
        if len(standing) == stops:
            rest = cuts[at:]
            standing.remove(max(standing, key=lambda k: rest.index(k) if k in rest else len(cuts)))
        standing.add(length)
    return count


def fewest_by_trying(lengths: list[frozenset[int]], stops: int) -> int:
    """Over all orders of boards, of lengths on each board, and of stops that move."""
    best = 10**9
    for order in itertools.permutations(range(len(lengths))):
        states: dict[frozenset[int], int] = {frozenset(): 0}
        for board in order:
            after: dict[frozenset[int], int] = {}
            for cuts in itertools.permutations(lengths[board]):
                for standing, count in _cut(states, cuts, stops).items():
                    after[standing] = min(after.get(standing, count), count)
            states = after
        best = min(best, *states.values())
    return best


def _cut(states: dict[frozenset[int], int], cuts: tuple[int, ...], stops: int) -> dict[frozenset[int], int]:
    for length in cuts:
        after: dict[frozenset[int], int] = {}
        for standing, count in states.items():
            if length in standing:
                choices = [(standing, count)]
            elif len(standing) < stops:
                choices = [(standing | {length}, count + 1)]
            else:
                choices = [(standing - {out} | {length}, count + 1) for out in standing]
            for choice, n in choices:
                after[choice] = min(after.get(choice, n), n)
        states = after
    return states


@pytest.mark.parametrize("stops", [1, 2, 3])
def test_every_order_tried_on_small_cases(stops: int) -> None:
    """20 cases of four boards: the order found is the best or one placement over it, and nearly always the best."""
    over = 0
    for seed in range(20):
        r = random.Random(seed)
        sets = [frozenset(r.sample(range(6), r.randint(1, 3))) for _ in range(4)]
        patterns = [Pattern(stock=0, pieces=tuple((i, 1) for i in sorted(one)), times=1) for one in sets]
        found = placements(order_boards(patterns, stops), stops)
        best = fewest_by_trying(sets, stops)
        assert fewest_placements(sets, stops) <= best <= found, seed
        over += found - best
    assert over <= 1


def test_a_ceiling_is_cut_once_with_few_placements() -> None:
    case = next(case for case in cases("P1") if case["name"] == "ceil_s103_m20_n100_odd")
    patterns = solve_boards(priced(case), Effort(tidy=False)).patterns
    counts: list[int] = []
    for stops in (1, 2, 4, 6):
        order = order_boards(patterns, stops)
        sets = [frozenset(turn.lengths) for turn in order]
        for p, pattern in enumerate(patterns):
            turns = [turn for turn in order if turn.pattern == p]
            assert sum(turn.boards for turn in turns) == pattern.times
            assert all(sorted(turn.lengths) == sorted(i for i, _ in pattern.pieces) for turn in turns)
        counts.append(placements(order, stops))
        assert fewest_placements(sets, stops) <= counts[-1]
    as_printed = sum(len(pattern.pieces) * pattern.times for pattern in patterns)
    assert counts == sorted(counts, reverse=True)
    assert counts[0] < as_printed
    assert counts[-1] <= 1.5 * len(case["lengths"])


def test_a_stack_is_cut_as_one_board() -> None:
    patterns = [Pattern(stock=0, pieces=((0, 1), (1, 1)), times=5)]
    order = order_boards(patterns, stops=1, stack=3)
    assert [turn.boards for turn in order] in ([3, 2], [2, 3])
    assert placements(order, stops=1) == 3
