"""Lengths within the intervals, and the boards for them."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from lacunar.plan.choice import StockChoice
from lacunar.plan.cutting import (
    BoardProblem,
    BoardSolution,
    Effort,
    ShortageError,
    Timber,
    best_stops,
    choose_lengths,
    solve_boards,
)
from lacunar.plan.grid import Grid
from lacunar.plan.lumber import Lumber
from lacunar.plan.pieces import Piece
from lacunar.plan.wood import Wood

EFFORT = Effort(work=3.0)
"""For each search. Measured: rooms of ours need a hundredth of it, and odd ones end within some seconds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """What each piece takes of a board, those that no mark serves, and the boards."""

    ticks: tuple[int, ...]
    apart: tuple[int, ...]
    solution: BoardSolution


def choose_boards(
    wood: Wood, lumber: Lumber, choice: StockChoice, most: int | None, grid: Grid
) -> tuple[list[int], Chosen, BoardProblem] | None:
    """Within the counts that cost least with their spares; else from as many boards as are wanted.

    Returns:
        The stocks that are used, the lengths with their boards, and the problem without the limit of counts.
    """
    every = range(len(lumber.stocks))
    owned = [stock.price == 0 for stock in lumber.stocks]
    for counts in (choice.counts, None):
        used = [s for s in every if counts is None or counts[s] or owned[s]]
        stocks = tuple(
            lumber.stocks[s] if counts is None or owned[s] else replace(lumber.stocks[s], supply=counts[s])
            for s in used
        )
        try:
            lengths = _chosen(wood.pieces, replace(wood.timber, stocks=stocks), most, grid)
        except ShortageError:
            continue
        problem = replace(wood.timber, stocks=tuple(lumber.stocks[s] for s in used)).problem(lengths.ticks)
        return used, lengths, problem
    return None


def _chosen(pieces: Sequence[Piece], timber: Timber, most: int | None, grid: Grid) -> Chosen:
    """Lengths by the boards; where that takes more marks than `most`, by the best so many marks."""
    spans = [piece.span for piece in pieces]
    free = [i for i, piece in enumerate(pieces) if piece.is_free]
    ticks, apart = [span.lo for span in spans], list[int]()
    if free:
        found = choose_lengths(spans, timber, grid.read, EFFORT)
        if most is None or len({found.lengths[i] for i in free}) <= most:
            return Chosen(ticks=found.lengths, apart=(), solution=found.boards)
        for i, stop in zip(free, best_stops([spans[i] for i in free], most, grid.read).stops, strict=True):
            ticks[i] = spans[i].wish if stop is None else stop
            apart += [i] if stop is None else []
    return Chosen(ticks=tuple(ticks), apart=tuple(apart), solution=solve_boards(timber.problem(ticks), EFFORT))
