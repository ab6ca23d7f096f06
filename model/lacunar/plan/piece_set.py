"""All that is cut from the boards of one stock, and how the saw takes it."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from lacunar.plan.cutting import Span, Timber
from lacunar.plan.lumber import BoardStocks
from lacunar.plan.nesting import Nest, make_nest
from lacunar.plan.pieces import BoardPiece, make_pieces, part_lengths
from lacunar.plan.saw import Saw
from lacunar.plan.sticks import Stick


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceSet:
    """What is cut, and what from; `nest` where strips share cuts."""

    pieces: tuple[BoardPiece, ...]
    timber: Timber
    nest: Nest | None

    def part_lengths(self, ticks: Sequence[int], saw: Saw) -> Mapping[str, int]:
        """Part id to what it is cut to, ticks, where the pieces take so much of a board each."""
        if self.nest is None:
            return part_lengths(self.pieces, ticks, saw)
        return {stick.id: stick.span.lo for piece in self.pieces for stick in piece.sticks}


def make_piece_set(
    sticks: Sequence[Stick], pairs: Collection[tuple[str, str]], stocks: BoardStocks, saw: Saw
) -> PieceSet:
    """Of one stock and species, with the ids of rips that share a section."""
    nest = make_nest(sticks, saw)
    return PieceSet(
        pieces=make_pieces(sticks, pairs, saw) if nest is None else _nested(sticks, nest, saw),
        timber=Timber(
            stocks=stocks.stocks,
            kerf=saw.up(saw.kerf * (nest.kerf_factor if nest else 1.0)),
            end_waste=saw.up(saw.end_waste + (nest.end if nest else 0.0)),
        ),
        nest=nest,
    )


def _nested(sticks: Sequence[Stick], nest: Nest, saw: Saw) -> tuple[BoardPiece, ...]:
    """Strips by what they take of a board when they share cuts."""
    taken = [nest.ticks(stick, saw) for stick in sticks]
    return tuple(
        BoardPiece(sticks=(stick,), span=Span(lo=n, hi=n, wish=n), is_free=False)
        for stick, n in zip(sticks, taken, strict=True)
    )
