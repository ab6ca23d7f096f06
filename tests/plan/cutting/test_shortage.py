"""Boards that are too few: what is shown at a glance is true."""

import random
from dataclasses import replace

import pytest

from lacunar.plan.cutting import (
    BoardProblem,
    Certificate,
    Demand,
    Effort,
    ShortageError,
    Stock,
    afford_boards,
    solve_boards,
    worth_of,
)

QUICK = Effort(tidy=False)


def random_problem(r: random.Random) -> BoardProblem:
    lengths = r.sample(range(40, 100), r.randint(1, 3))
    return BoardProblem(
        stocks=tuple(Stock(length=n, price=n + r.randint(-6, 9)) for n in lengths),
        demands=tuple(
            Demand(length=n, count=r.randint(1, 4)) for n in r.sample(range(9, min(lengths) - 4), r.randint(2, 4))
        ),
        kerf=1,
        end_waste=r.randint(0, 2),
    )


def limited(problem: BoardProblem, counts: list[int]) -> BoardProblem:
    stocks = tuple(replace(stock, supply=n) for stock, n in zip(problem.stocks, counts, strict=True))
    return replace(problem, stocks=stocks)


@pytest.mark.parametrize("block", range(3))
def test_boards_that_may_not_do_do_not(block: int) -> None:
    """100 cases a block, with the values of a proof for unlimited boards."""
    few = 0
    for seed in range(100 * block, 100 * block + 100):
        r = random.Random(seed)
        problem = random_problem(r)
        worths = [worth_of(problem, values) for values in solve_boards(problem, QUICK).certificate.values]
        counts = [r.randint(0, 4) for _ in problem.stocks]
        if all(worth.may_do(counts) for worth in worths):
            continue
        few += 1
        with pytest.raises(ShortageError):
            solve_boards(limited(problem, counts), QUICK)
    assert few > 20


def test_boards_of_a_plan_may_do() -> None:
    for seed in range(100):
        problem = random_problem(random.Random(seed))
        solution = solve_boards(problem, QUICK)
        counts = [0] * len(problem.stocks)
        for pattern in solution.patterns:
            counts[pattern.stock] += pattern.times
        assert all(worth_of(problem, values).may_do(counts) for values in solution.certificate.values), seed


def test_values_of_one_shortage_show_another() -> None:
    """Three boards of two pieces each for eight pieces; then two and a shorter one of one piece."""
    problem = BoardProblem(
        stocks=(Stock(length=100, price=10), Stock(length=60, price=7)), demands=(Demand(length=50, count=8),)
    )
    answer = afford_boards(limited(problem, [3, 0]), 30, QUICK)
    assert isinstance(answer, Certificate)
    worth = worth_of(problem, answer.values[0])
    assert [worth.may_do(counts) for counts in ([2, 3], [3, 1], [0, 7])] == [False, False, False]
    # Four boards do, or two of the shorter for one.
    assert [worth.may_do(counts) for counts in ([4, 0], [3, 2], [0, 8])] == [True, True, True]
