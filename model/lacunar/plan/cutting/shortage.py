"""Boards that are too few, shown at a glance by what the pieces are worth in a proof.

Let v be a value for a piece of each length, and z_s the most value that fits on a board of stock s. Boards that give
all pieces hold sum z_s n_s >= sum v_i d_i, whatever they cost: the vectors of one proof say something of any counts.
Source: Gilmore and Gomory 1961 for the weak duality, used here as a cut on the counts (Benders 1962).
"""

from collections.abc import Sequence
from dataclasses import dataclass

from lacunar.plan.cutting.certificate import board_values
from lacunar.plan.cutting.problem import BoardProblem


@dataclass(frozen=True, slots=True)
class Worth:
    """What follows from values of pieces.

    Attributes:
        values: one for each demand.
        pieces: all of them together.
        boards: the most that fits onto one board of each stock.
    """

    values: tuple[int, ...]
    pieces: int
    boards: tuple[int, ...]

    def may_do(self, counts: Sequence[int]) -> bool:
        """So many boards of each stock hold what all pieces are worth; if not, they cannot give them."""
        return sum(n * z for n, z in zip(counts, self.boards, strict=True)) >= self.pieces


def worth_of(problem: BoardProblem, values: tuple[int, ...]) -> Worth:
    """What values say of a problem's pieces and boards; not negative, together less than 1 << 62."""
    return Worth(values=values, pieces=problem.total(values), boards=board_values(problem, values))
