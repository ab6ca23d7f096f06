"""Which boards to buy: the cheapest with their spares, and what proves it."""

from dataclasses import dataclass, replace

from lacunar.plan.cutting import BoardProblem, BoardSolution, Certificate, Effort, Worth, solve_boards
from lacunar.plan.purchase_search import Refuted, cheapest_counts
from lacunar.plan.spares import least_total, total_cost

SHARE = 4.0
"""Counts that may be cheaper are tried with so much less effort each than the whole."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """What no boards to buy cost less than, spares included.

    Attributes:
        problem: boards and pieces.
        certificate: of what the boards to be cut cost at least.
        worths: counts that cost less with their spares cost less to cut, or fall short of one of these,
        refuted: or lie below one of these. None of both where the certificate suffices.
    """

    problem: BoardProblem
    certificate: Certificate
    worths: tuple[Worth, ...] = ()
    refuted: tuple[Refuted, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Purchase:
    """How many boards of each stock to buy, spares counted.

    Attributes:
        counts: boards of each stock, to be cut.
        cost: of them and their spares.
        bound: no plan costs less, spares included.
    """

    counts: tuple[int, ...]
    cost: int
    bound: int
    proof: Proof


def cheapest_purchase(problem: BoardProblem, cull: float, effort: Effort) -> Purchase:
    """The counts that cost least with their spares.

    A plan of few lengths needs few spares, so that the cheapest boards to be cut may not be the cheapest to buy.

    Raises:
        PlanError, ShortageError: as `solve_boards`.
    """
    whole = solve_boards(problem, effort)
    proof = Proof(problem=problem, certificate=whole.certificate)
    counts = counts_of(whole, len(problem.stocks))
    best = total_cost(problem, counts, cull)
    # Without spares the boards to be cut are all there is to pay for.
    bound = least_total(problem, whole.bound, cull, range(len(problem.stocks))) if cull else whole.bound
    if not cull or bound == best:
        return Purchase(counts=tuple(counts), cost=best, bound=bound, proof=proof)
    small = replace(effort, work=effort.work / SHARE, tidy=False)
    found = cheapest_counts(problem, whole.certificate, counts, bound, cull, small)
    proof = replace(proof, worths=found.worths, refuted=found.refuted)
    cost = total_cost(problem, found.counts, cull)
    return Purchase(counts=found.counts, cost=cost, bound=found.bound, proof=proof)


def counts_of(solution: BoardSolution, stocks: int) -> list[int]:
    """Boards of each stock."""
    counts = [0] * stocks
    for pattern in solution.patterns:
        counts[pattern.stock] += pattern.times
    return counts
