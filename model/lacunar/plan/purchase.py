"""Which boards to buy, and what proves that none are cheaper."""

from dataclasses import dataclass

from lacunar.plan.cutting import BoardProblem, BoardSolution, Certificate, Worth


@dataclass(frozen=True, slots=True, kw_only=True)
class Refuted:
    """No plan makes do with the boards of a problem.

    Attributes:
        problem: with so many boards of each stock as were tried.
        certificate: that a plan costs more than all of these boards together; None where a piece is longer than every
            board among them.
    """

    problem: BoardProblem
    certificate: Certificate | None


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


def counts_of(solution: BoardSolution, stocks: int) -> list[int]:
    """Boards of each stock."""
    counts = [0] * stocks
    for pattern in solution.patterns:
        counts[pattern.stock] += pattern.times
    return counts
