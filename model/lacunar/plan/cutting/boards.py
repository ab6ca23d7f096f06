"""The cheapest boards to cut all pieces from, with a proof of how cheap they can be."""

from collections import Counter
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from lacunar.plan.cutting.budget import USUAL, Budget, Effort
from lacunar.plan.cutting.certificate import TRIED, Certificate
from lacunar.plan.cutting.counts import Node, by_best_proof, certify, grow, open_leaves, root_node
from lacunar.plan.cutting.dive import dive
from lacunar.plan.cutting.exhaustion import MOST_STEPS, STEPS_PER_WORK, is_exhausted
from lacunar.plan.cutting.greedy import Boards, fill
from lacunar.plan.cutting.instance import make_instance
from lacunar.plan.cutting.knapsack import Floats
from lacunar.plan.cutting.problem import BoardProblem, Pattern, ShortageError, check_problem
from lacunar.plan.cutting.program import program
from lacunar.plan.cutting.relax import relax
from lacunar.plan.cutting.search import Search
from lacunar.plan.cutting.tidy import save_setups, shorten

ROOT = 0.5
"""Share of the effort for the first relaxation. Measured: large problems need two fifths for their plans."""

SEEDS = 500
"""Rounds of dives into what the tree leaves open, at most."""

KEPT = 512
"""Answers that are kept, some kilobytes each: variants of a room differ in a stock or two and ask of the rest again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardSolution:
    """A valid plan and what is proved about it.

    Attributes:
        patterns: every demanded piece once.
        cost: of the boards.
        bound: no plan costs less, by the certificate.
        certificate: proof of `bound`.
        work: what was spent, in units of `Effort.work`.
        by_clock: the outer safety ended the search, so that another machine may find another plan.
    """

    patterns: tuple[Pattern, ...]
    cost: int
    bound: int
    certificate: Certificate
    work: float
    by_clock: bool

    @property
    def proven(self) -> bool:
        """No plan is cheaper."""
        return self.cost == self.bound

    @property
    def gap(self) -> float:
        """(cost - bound) / bound; infinite for a bound of 0 below the cost."""
        if self.proven:
            return 0.0
        return (self.cost - self.bound) / self.bound if self.bound else float("inf")


def solve_boards(problem: BoardProblem, effort: Effort = USUAL) -> BoardSolution:
    """The cheapest plan that the effort allows, and a certificate of the best bound.

    Raises:
        PlanError: the problem has no meaning.
        ShortageError: the boards there are cannot give every piece.
    """
    check_problem(problem)
    return _cheapest(problem, effort)


@lru_cache(maxsize=KEPT)
def _cheapest(problem: BoardProblem, effort: Effort) -> BoardSolution:
    search = Search(make_instance(problem), Budget(effort))
    certificate = _run(problem, search)
    if search.boards is None:
        raise ShortageError(problem, _missing(search), "are more than the boards there are give")
    if effort.tidy:
        shorten(search)
        save_setups(search)
    return _solution(problem, search, certificate)


def afford_boards(problem: BoardProblem, most: int, effort: Effort = USUAL) -> BoardSolution | Certificate | None:
    """A plan that costs no more than `most`, the first that is found.

    Returns:
        The plan; proof that there is none; None where the effort did not suffice to tell.

    Raises:
        PlanError: the problem has no meaning.
    """
    check_problem(problem)
    return _affordable(problem, most, effort)


@lru_cache(maxsize=KEPT)
def _affordable(problem: BoardProblem, most: int, effort: Effort) -> BoardSolution | Certificate | None:
    search = Search(make_instance(problem), Budget(effort), wanted=most)
    certificate = _run(problem, search)
    if search.boards is not None:
        return _solution(problem, search, certificate)
    return certificate if certificate.bound > most else None


def forget() -> None:
    """Answers that are kept: each question is worked out anew."""
    _cheapest.cache_clear()
    _affordable.cache_clear()


def _run(problem: BoardProblem, search: Search) -> Certificate:
    """Search until the best plan is proved, or the budget is spent."""
    instance, budget = search.instance, search.budget
    _first_plans(search)
    root = root_node(search)

    def enough(bound: float, value: float) -> bool:
        return search.is_settled(bound, value, root.lo, root.hi)

    relaxed = relax(search.master, instance.counts, root.lo, root.hi, budget, is_enough=enough, share=ROOT)
    search.prove(_material_values(search))
    search.prove(relaxed.piece_values)
    by_best_proof(search, root, root.lo, root.hi)
    if not search.is_closed(root.least, root.lo, root.hi):
        dive(search, root.lo, root.hi)
    grow(search, root)
    return _close(problem, search, root)


def _material_values(search: Search) -> Floats:
    """Every piece is worth its weight at the cheapest board's rate: a bound that needs no program."""
    instance = search.instance
    sold = (instance.prices > 0) & (instance.capacities > 0)
    rate = float((instance.costs[sold] / instance.capacities[sold]).min()) if sold.any() else 0.0
    return np.asarray(instance.weights * rate, dtype=np.float64)


def _close(problem: BoardProblem, search: Search, root: Node) -> Certificate:
    """Look on where the tree leaves something open: by trying through, then by dives into what is open."""
    certificate = certify(problem, search, root)
    if certificate.bound == search.cost:
        return certificate
    tried = _tried(problem, search, root)
    seed = 0
    while tried is None and certificate.bound < search.cost and search.budget.is_left() and seed < SEEDS:
        seed += 1
        for leaf in open_leaves(search, root):
            if seed % 3 == 1 and search.budget.is_left():
                program(search, leaf.lo, leaf.hi, 20 * seed)
            dive(search, leaf.lo, leaf.hi, seed=seed, retreats=3)
        grow(search, root)
        certificate = certify(problem, search, root)
    return certificate if tried is None else tried


def _tried(problem: BoardProblem, search: Search, root: Node) -> Certificate | None:
    relaxed = relax(search.master, search.instance.counts, root.lo, root.hi, search.budget)
    values = tuple(search.proofs.values[search.prove(relaxed.piece_values)].tolist())
    scale = search.proofs.scale
    if search.boards is None or not relaxed.complete:
        return None
    steps = min(int(STEPS_PER_WORK * search.budget.effort.work), MOST_STEPS)
    if is_exhausted(problem, values, scale, search.cost, steps) is not True:
        return None
    return Certificate(bound=search.cost, scale=scale, values=(values,), nodes=((TRIED, 0),))


def _first_plans(search: Search) -> None:
    instance = search.instance
    for base in range(len(instance.prices)):
        if instance.prices[base] or not instance.prices.any():
            boards, missing = fill(instance, instance.counts, instance.supply, base, best_fit=True)
            if not missing.any():
                search.offer(boards)


def _missing(search: Search) -> list[tuple[int, int]]:
    instance = search.instance
    bases = range(len(instance.prices))
    tried = [fill(instance, instance.counts, instance.supply, base, best_fit=True)[1] for base in bases]
    fewest = min(tried, key=lambda missing: int(missing.sum()))
    return [(int(i), int(fewest[i])) for i in np.flatnonzero(fewest)]


def _solution(problem: BoardProblem, search: Search, certificate: Certificate) -> BoardSolution:
    return BoardSolution(
        patterns=_patterns(search.boards or [], search),
        cost=search.cost,
        bound=certificate.bound,
        certificate=certificate,
        work=search.budget.spent,
        by_clock=search.budget.by_clock,
    )


def _patterns(boards: list[Boards], search: Search) -> tuple[Pattern, ...]:
    weights = search.instance.weights
    times: Counter[tuple[int, tuple[tuple[int, int], ...]]] = Counter()
    for board in boards:
        items = sorted(np.flatnonzero(board.pattern).tolist(), key=lambda i: (-weights[i], i))
        times[board.stock, tuple((int(i), int(board.pattern[i])) for i in items)] += board.times
    order = sorted(
        times, key=lambda key: (-search.instance.lengths[key[0]], key[0], [-weights[i] for i, _ in key[1]], key[1])
    )
    return tuple(Pattern(stock=stock, pieces=pieces, times=times[stock, pieces]) for stock, pieces in order)
