"""A proof that was tampered with is refused."""

from dataclasses import replace

import pytest

from lacunar.errors import PlanError
from lacunar.plan.cutting import (
    BoardProblem,
    Certificate,
    Demand,
    Effort,
    Stock,
    check_certificate,
    solve_boards,
)
from lacunar.plan.cutting.certificate import TRIED
from lacunar.plan.cutting.exhaustion import is_exhausted
from plan.cutting.sawbench import cases, priced

CASE = next(case for case in cases("P1") if case["name"] == "ceil_s103_m20_n100_odd")


@pytest.fixture(scope="module")
def proof() -> tuple[BoardProblem, Certificate]:
    problem = priced(CASE)
    return problem, solve_boards(problem, Effort(tidy=False)).certificate


def test_the_tree_has_splits_and_leaves(proof: tuple[BoardProblem, Certificate]) -> None:
    problem, certificate = proof
    assert check_certificate(problem, certificate) == CASE["optimum"]
    assert len(certificate.nodes) > 3


def test_no_higher_bound_passes(proof: tuple[BoardProblem, Certificate]) -> None:
    problem, certificate = proof
    with pytest.raises(PlanError, match="leaves costs from"):
        check_certificate(problem, replace(certificate, bound=certificate.bound + 1))


def test_no_leaf_can_go(proof: tuple[BoardProblem, Certificate]) -> None:
    problem, certificate = proof
    for k in range(len(certificate.nodes)):
        nodes = (*certificate.nodes[:k], *certificate.nodes[k + 1 :])
        with pytest.raises(PlanError, match="certificate"):
            check_certificate(problem, replace(certificate, nodes=nodes))


def test_no_split_can_move_far(proof: tuple[BoardProblem, Certificate]) -> None:
    """A split at another count leaves some leaf with counts that its vector does not close."""
    problem, certificate = proof
    stock, count = certificate.nodes[0]
    assert stock >= 0
    with pytest.raises(PlanError, match="leaves costs from"):
        check_certificate(problem, replace(certificate, nodes=((stock, count + 40), *certificate.nodes[1:])))


def test_values_cannot_be_raised(proof: tuple[BoardProblem, Certificate]) -> None:
    problem, certificate = proof
    for factor, message in ((0.98, "leaves costs"), (1.02, "leaves costs")):
        values = tuple(tuple(int(v * factor) for v in vector) for vector in certificate.values)
        with pytest.raises(PlanError, match=message):
            check_certificate(problem, replace(certificate, values=values))


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"scale": 0}, "is not positive"),
        ({"values": ((1, 2),)}, "has the wrong length"),
        ({"values": ((-1,) * 20,)}, "has a negative value"),
        ({"values": ((1 << 60,) * 20,)}, "too large"),
        ({"nodes": ()}, "ends too early"),
        ({"nodes": ((-1, 99),)}, "names vector 99"),
        ({"nodes": ((7, 3),)}, "splits stock 7"),
    ],
)
def test_nonsense_is_refused(proof: tuple[BoardProblem, Certificate], change: dict[str, object], message: str) -> None:
    problem, certificate = proof
    with pytest.raises(PlanError, match=message):
        check_certificate(problem, replace(certificate, **change))  # pyright: ignore[reportArgumentType]


def test_values_for_another_problem_do_not_pass(proof: tuple[BoardProblem, Certificate]) -> None:
    """With one piece fewer the old bound is no longer proved."""
    problem, certificate = proof
    first, *rest = problem.demands
    fewer = replace(problem, demands=(replace(first, count=first.count - 1), *rest))
    with pytest.raises(PlanError, match="leaves costs"):
        check_certificate(fewer, certificate)


def test_trying_through_proves_what_counts_cannot() -> None:
    """Boards of 10 and pieces of 6, 6, 4, 3, 3, 3, 5: they weigh 30 in all, but three boards cannot hold them.

    5 goes only with 3 (8 of 10) or 4 (9): a board is left unfilled, and 30 in three boards leaves no waste. A value of
    7 for a 6 would add up to more than three boards cost, but then a board with 6 and 4 holds more than it costs.
    """
    demands = tuple(Demand(length=a, count=n) for a, n in ((6, 2), (5, 1), (4, 1), (3, 3)))
    problem = BoardProblem(stocks=(Stock(length=10, price=1),), demands=demands)
    good = Certificate(bound=4, scale=10, values=((6, 5, 4, 3),), nodes=((TRIED, 0),))
    assert check_certificate(problem, good) == 4
    for bad in (replace(good, bound=5), replace(good, values=((7, 5, 4, 3),))):
        with pytest.raises(PlanError, match="does not rule out"):
            check_certificate(problem, bad)


def test_trying_through_gives_up_where_the_stack_would_end() -> None:
    demands = tuple(Demand(length=1000 + n, count=1) for n in range(1200))
    problem = BoardProblem(stocks=(Stock(length=5000, price=1),), demands=demands)
    assert is_exhausted(problem, (1,) * 1200, 10, 2000) is None
