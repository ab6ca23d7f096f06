"""Boards that are too few, shown at a glance by what the pieces were worth in another proof."""

from dataclasses import dataclass

from lacunar.plan.cutting.certificate import LEAF, Certificate, board_values
from lacunar.plan.cutting.problem import BoardProblem

LARGEST = 1 << 60
"""Values add up to less than this, so that they fit 64 bits whatever is done with them."""


@dataclass(frozen=True, slots=True)
class Worth:
    """Values of pieces, and what follows from them.

    Attributes:
        values: one for each demand, in units of which `scale` are one of price.
        pieces: all of them together.
        boards: the most that fits onto one board of each stock.
    """

    values: tuple[int, ...]
    scale: int
    pieces: int
    boards: tuple[int, ...]


def worth_of(problem: BoardProblem, values: tuple[int, ...], scale: int) -> Worth:
    """What a certificate's vector says of this problem's pieces and boards."""
    pieces = sum(v * demand.count for v, demand in zip(values, problem.demands, strict=True))
    return Worth(values=values, scale=scale, pieces=pieces, boards=board_values(problem, values))


def show_shortage(problem: BoardProblem, worth: Worth) -> Certificate | None:
    """Proof that a plan costs more than all boards of a problem together; None where these values do not show it.

    The boards there are hold less than the pieces are worth. So with values large enough every plan costs more than
    any price: the values are multiplied until that is more than the boards cost.

    Args:
        problem: every stock with a supply.
        worth: of its pieces; its boards' lengths are the same, whatever their number.
    """
    there = [stock.supply or 0 for stock in problem.stocks]
    lacking = worth.pieces - sum(n * z for n, z in zip(there, worth.boards, strict=True))
    if lacking <= 0:
        return None
    times = -(-worth.scale // lacking)
    for s, (n, z) in enumerate(zip(there, worth.boards, strict=True)):
        if n and z:
            times = max(times, -(-problem.price(s) * worth.scale // z))
        elif n and problem.price(s):
            # A board that is worth nothing is not bought: what it costs stays out of the sum, and the proof fails.
            return None
    if worth.pieces * times >= LARGEST:
        return None
    cost = sum(problem.price(s) * n for s, n in enumerate(there))
    values = tuple(v * times for v in worth.values)
    return Certificate(bound=cost + 1, scale=worth.scale, values=(values,), nodes=((LEAF, 0),))
