"""Boards: proved optima, a saw that cuts them, and every way tried on small cases."""

import random
import time
from dataclasses import replace
from typing import Any

import pytest

from lacunar.errors import PlanError
from lacunar.plan.cutting import (
    BoardProblem,
    BoardSolution,
    Certificate,
    Demand,
    Effort,
    ShortageError,
    Stock,
    afford_boards,
    check_certificate,
    forget,
    solve_boards,
)
from lacunar.plan.cutting.budget import Budget
from lacunar.plan.cutting.instance import Instance
from lacunar.plan.cutting.search import Search
from plan.cutting.sawbench import OPEN, cases, cheapest, open_instances, priced, published, saw_up

P1 = cases("P1")
QUICK = [case for case in P1 if sum(case["demands"]) == 100]
REST = [case for case in P1 if sum(case["demands"]) > 100]
FEET = 12 * 64


def check(problem: BoardProblem, solution: BoardSolution) -> None:
    """What holds for every solution: the saw agrees, and so does the checker of proofs."""
    cost, offcuts = saw_up(problem, solution.patterns)
    assert cost == solution.cost
    assert min(offcuts) >= 0
    assert check_certificate(problem, solution.certificate) == solution.bound <= solution.cost


@pytest.mark.parametrize("case", QUICK, ids=lambda case: case["name"])
def test_small_ceilings_are_solved_to_the_proved_optimum(case: dict[str, Any]) -> None:
    problem = priced(case)
    solution = solve_boards(problem, Effort(tidy=False))
    check(problem, solution)
    assert (solution.cost, solution.bound) == (case["optimum"], case["optimum"])


@pytest.mark.long
@pytest.mark.parametrize("case", REST, ids=lambda case: case["name"])
def test_large_ceilings_are_solved_to_the_proved_optimum(case: dict[str, Any]) -> None:
    problem = priced(case)
    solution = solve_boards(problem)
    check(problem, solution)
    assert (solution.cost, solution.bound) == (case["optimum"], case["optimum"])


@pytest.mark.long
@pytest.mark.skipif(not OPEN.exists(), reason="the open benchmark sets may not be copied and are not at hand")
@pytest.mark.parametrize("case", open_instances(), ids=lambda case: case["name"])
def test_open_instances_are_solved_to_the_known_optimum(case: dict[str, Any]) -> None:
    problem = published(case)
    start = time.process_time()
    solution = solve_boards(problem, Effort(work=40.0, tidy=False))
    assert time.process_time() - start < 20.0
    check(problem, solution)
    assert (solution.cost, solution.bound) == (case["optimum"], case["optimum"])


SAMPLE = ("Falkenauer_t60_07", "Waescher_TEST0065", "H&Sconv100-2-6", "Belov2_39", "Crainic1_3_A_0_2", "N1W3B1R8")


@pytest.mark.skipif(not OPEN.exists(), reason="the open benchmark sets may not be copied and are not at hand")
@pytest.mark.parametrize("name", SAMPLE)
def test_one_open_instance_of_each_sort(name: str) -> None:
    case = next(case for case in open_instances() if case["name"] == name)
    problem = published(case)
    solution = solve_boards(problem, Effort(tidy=False))
    check(problem, solution)
    assert (solution.cost, solution.bound) == (case["optimum"], case["optimum"])


def small_problem(seed: int) -> BoardProblem:
    """A few lengths and boards, some free, some scarce."""
    r = random.Random(seed)
    stocks = [Stock(length=n, price=r.randint(n // 2, n)) for n in r.sample(range(20, 40), r.randint(1, 3))]
    if r.random() < 0.5:
        stocks.append(Stock(length=r.randint(8, 30), price=0, supply=r.randint(1, 2)))
    if r.random() < 0.4:
        stocks[0] = replace(stocks[0], supply=r.randint(1, 2))
    lengths = r.sample(range(4, 22), r.randint(2, 4))
    demands = tuple(Demand(length=n, count=r.randint(1, 3)) for n in lengths)
    return BoardProblem(stocks=tuple(stocks), demands=demands, kerf=r.randint(0, 2), end_waste=r.randint(0, 2))


@pytest.mark.parametrize("block", range(10))
def test_brute_force_finds_no_cheaper_boards(block: int) -> None:
    """30 small cases a block, with offcuts and scarce boards."""
    for seed in range(30 * block, 30 * block + 30):
        problem = small_problem(seed)
        expected = cheapest(problem)
        if expected is None:
            with pytest.raises(ShortageError):
                solve_boards(problem)
            continue
        solution = solve_boards(problem)
        check(problem, solution)
        assert (solution.cost, solution.bound) == (expected, expected), seed


def test_of_equal_cost_the_shorter_boards_are_taken() -> None:
    """One 10 ft board and two 6 ft boards cost the same; the first wastes less. Every other way costs more."""
    stocks = (Stock(length=72, price=500), Stock(length=120, price=1000), Stock(length=150, price=1000))
    problem = BoardProblem(stocks=stocks, demands=(Demand(length=60, count=2),))
    solution = solve_boards(problem)
    assert (solution.cost, sum(stocks[p.stock].length * p.times for p in solution.patterns)) == (1000, 120)


def test_of_equal_boards_fewer_settings_are_taken() -> None:
    """Two boards of 100: 50 + 50 and 40 + 40 need one setting each, 50 + 40 twice would need two each."""
    demands = (Demand(length=50, count=2), Demand(length=40, count=2))
    solution = solve_boards(BoardProblem(stocks=(Stock(length=100, price=1),), demands=demands))
    assert (solution.cost, sum(len(p.pieces) * p.times for p in solution.patterns)) == (2, 2)


def test_the_same_problem_gives_the_same_plan() -> None:
    problem = priced(QUICK[1])
    first, second = solve_boards(problem), solve_boards(problem)
    assert (first.patterns, first.certificate, first.work) == (second.patterns, second.certificate, second.work)


def test_little_effort_still_gives_a_valid_plan_and_bound() -> None:
    problem = priced(REST[0])
    solution = solve_boards(problem, Effort(work=0.0))
    check(problem, solution)
    assert solution.bound <= REST[0]["optimum"] <= solution.cost


def test_without_prices_the_length_counts() -> None:
    stocks = (Stock(length=96), Stock(length=120))
    problem = BoardProblem(stocks=stocks, demands=(Demand(length=48, count=5),))
    assert cheapest(problem) == solve_boards(problem).cost == 96 + 96 + 96


def test_a_plan_at_a_price_is_found_or_refuted() -> None:
    problem = priced(QUICK[0])
    found = afford_boards(problem, QUICK[0]["optimum"])
    assert isinstance(found, BoardSolution)
    assert saw_up(problem, found.patterns)[0] == QUICK[0]["optimum"]
    assert isinstance(afford_boards(problem, QUICK[0]["optimum"] - 1), Certificate)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"stocks": (Stock(length=96, price=0),)}, "price of a board without limit"),
        ({"stocks": (Stock(length=96, price=-1),)}, "price: got -1"),
        ({"stocks": (Stock(length=96, price=5, supply=-2),)}, "supply: got -2"),
        ({"stocks": (Stock(length=96, price=5), Stock(length=97))}, "some boards with, some without"),
        ({"demands": (Demand(length=0, count=1),)}, "piece length: got 0"),
        ({"demands": (Demand(length=9, count=0),)}, "piece count: got 0"),
        ({"demands": (Demand(length=9, count=1), Demand(length=9, count=2))}, "piece length: got 9"),
        ({"demands": (Demand(length=97, count=1),)}, "length 97: 1 pieces longer than any board gives"),
        ({"stocks": ()}, "length 40: 2 pieces longer than any board gives"),
        ({"kerf": -1}, "kerf: got -1"),
    ],
)
def test_nonsense_is_refused(change: dict[str, Any], message: str) -> None:
    good = BoardProblem(stocks=(Stock(length=96, price=5),), demands=(Demand(length=40, count=2),))
    with pytest.raises(PlanError, match=message):
        solve_boards(replace(good, **change))


def test_a_shortage_names_the_pieces() -> None:
    problem = BoardProblem(stocks=(Stock(length=96, price=5, supply=1),), demands=(Demand(length=40, count=3),))
    with pytest.raises(ShortageError) as caught:
        solve_boards(problem)
    assert caught.value.missing == ((0, 1),)


@pytest.mark.parametrize("seed", range(6))
def test_the_rest_of_many_lengths_is_solved_by_itself(monkeypatch: pytest.MonkeyPatch, seed: int) -> None:
    """With so low a bar that it happens here: the plans stay valid, and as cheap where both are proved."""
    r = random.Random(seed)
    lengths = r.sample(range(300, 2400), 30)
    problem = BoardProblem(
        stocks=(Stock(length=2304, price=450), Stock(length=3072, price=598), Stock(length=4608, price=910)),
        demands=tuple(Demand(length=n, count=r.randint(1, 5)) for n in lengths if n < 2280),
        kerf=4,
        end_waste=8,
    )
    plain = solve_boards(problem, Effort(work=1.0, tidy=False))
    rests: list[int] = []

    class Counted(Search):
        def __init__(self, instance: Instance, budget: Budget) -> None:
            super().__init__(instance, budget)
            rests.append(len(instance.weights))

    monkeypatch.setattr("lacunar.plan.cutting.dive.MANY_KINDS", 6)
    monkeypatch.setattr("lacunar.plan.cutting.dive.Search", Counted)
    forget()
    halved = solve_boards(problem, Effort(work=1.0, tidy=False))
    assert rests
    assert max(rests) < 15
    assert saw_up(problem, halved.patterns)[0] == halved.cost
    assert halved.bound <= plain.cost
    assert plain.bound <= halved.cost
    assert halved.gap < 0.01
