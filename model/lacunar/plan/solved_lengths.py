"""Lengths within the intervals, and the boards for them."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from lacunar.plan.cutting import (
    BoardProblem,
    BoardSolution,
    Effort,
    ShortageError,
    best_stops,
    choose_lengths,
    solve_boards,
)
from lacunar.plan.lumber import BoardStocks
from lacunar.plan.pieces import BoardPiece, PieceSet
from lacunar.plan.purchase import Purchase
from lacunar.plan.saw import Saw

EFFORT = Effort(work=3.0)
"""For each search. Measured: rooms of ours need a hundredth of it, and odd ones end within some seconds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SolvedLengths:
    """What each piece takes of a board, those that no mark serves, and the boards."""

    ticks: tuple[int, ...]
    apart: tuple[int, ...]
    solution: BoardSolution


def solve_lengths(
    piece_set: PieceSet, stocks: BoardStocks, purchase: Purchase, saw: Saw
) -> tuple[BoardStocks, SolvedLengths, BoardProblem] | None:
    """Within the counts that cost least with their spares; else from as many boards as are wanted.

    Returns:
        The stocks that are used, the lengths with their boards, and the problem without the limit of counts.
    """
    for counts in (purchase.counts, None):
        used, timber = within(stocks, piece_set.timber, counts)
        try:
            lengths = _solved(piece_set.pieces, timber, saw)
        except ShortageError:
            continue
        return used, lengths, replace(piece_set.timber, stocks=used.stocks).cutting(lengths.ticks)
    return None


def within(stocks: BoardStocks, timber: BoardProblem, counts: Sequence[int] | None) -> tuple[BoardStocks, BoardProblem]:
    """The stocks that so many boards of each are of, and no more boards than these; those on hand are there anyway."""
    owned = [stock.price == 0 for stock in stocks.stocks]
    used = [s for s, own in enumerate(owned) if counts is None or counts[s] or own]
    limited = tuple(
        stocks.stocks[s] if counts is None or owned[s] else replace(stocks.stocks[s], supply=counts[s]) for s in used
    )
    return stocks.only(used), replace(timber, stocks=limited)


def _solved(pieces: Sequence[BoardPiece], timber: BoardProblem, saw: Saw) -> SolvedLengths:
    """Lengths by the boards; by the best so many marks where there may be no more, with which some piece has none."""
    spans, most = [piece.span for piece in pieces], saw.most_stops
    free = [i for i, piece in enumerate(pieces) if piece.is_free]
    ticks, apart = [span.lo for span in spans], list[int]()
    if free and most is None:
        found = choose_lengths(spans, timber, saw.read, EFFORT)
        return SolvedLengths(ticks=found.lengths, apart=(), solution=found.boards)
    if most is not None:
        for i, stop in zip(free, best_stops([spans[i] for i in free], most, saw.read), strict=True):
            ticks[i] = spans[i].wish if stop is None else stop
            apart += [i] if stop is None else []
    return SolvedLengths(ticks=tuple(ticks), apart=tuple(apart), solution=solve_boards(timber.cutting(ticks), EFFORT))
