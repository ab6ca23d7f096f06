"""Boards that are too few: what is shown at a glance is true, and its proof holds."""

import random
from dataclasses import replace

import pytest

from lacunar.errors import PlanError
from lacunar.plan.cutting import (
    BoardProblem,
    Certificate,
    Demand,
    Effort,
    ShortageError,
    Stock,
    afford_boards,
    check_certificate,
    show_shortage,
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
def test_what_is_shown_is_true(block: int) -> None:
    """100 cases a block, with the values of a proof for unlimited boards: the boards that are there do not do."""
    shown = 0
    for seed in range(100 * block, 100 * block + 100):
        r = random.Random(seed)
        problem = random_problem(r)
        whole = solve_boards(problem, QUICK)
        worth = worth_of(problem, whole.certificate.values[-1], whole.certificate.scale)
        few = limited(problem, [r.randint(0, 4) for _ in problem.stocks])
        proof = show_shortage(few, worth)
        if proof is None:
            continue
        shown += 1
        together = sum(few.price(s) * (stock.supply or 0) for s, stock in enumerate(few.stocks))
        assert check_certificate(few, proof) == proof.bound == together + 1
        with pytest.raises(ShortageError):
            solve_boards(few, QUICK)
    assert shown > 20


def test_values_of_one_shortage_show_another() -> None:
    """Three boards of two pieces each for eight pieces; then two and a shorter one of one piece."""
    problem = BoardProblem(
        stocks=(Stock(length=100, price=10), Stock(length=60, price=7)), demands=(Demand(length=50, count=8),)
    )
    first = limited(problem, [3, 0])
    answer = afford_boards(first, 30, QUICK)
    assert isinstance(answer, Certificate)
    worth = worth_of(problem, answer.values[0], answer.scale)
    assert show_shortage(limited(problem, [2, 3]), worth) is not None
    assert show_shortage(limited(problem, [3, 1]), worth) is not None
    # Four boards do, so there is nothing to show, nor where two of the other make up for one.
    assert show_shortage(limited(problem, [4, 0]), worth) is None
    assert show_shortage(limited(problem, [3, 2]), worth) is None


def test_a_proof_for_fewer_boards_is_none_for_more() -> None:
    problem = BoardProblem(stocks=(Stock(length=100, price=10),), demands=(Demand(length=50, count=8),))
    answer = afford_boards(limited(problem, [3]), 30, QUICK)
    assert isinstance(answer, Certificate)
    proof = show_shortage(limited(problem, [3]), worth_of(problem, answer.values[0], answer.scale))
    assert proof is not None
    with pytest.raises(PlanError):
        check_certificate(limited(problem, [4]), replace(proof, bound=41))
