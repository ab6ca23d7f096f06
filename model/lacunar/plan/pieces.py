"""What is crosscut from the boards of one stock: parts, and blanks that rips come out of."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from lacunar.plan.cutting import BoardProblem, Span
from lacunar.plan.cutting.rips import pair_fits
from lacunar.plan.lumber import BoardStocks
from lacunar.plan.nesting import Nest, make_nest
from lacunar.plan.saw import Saw
from lacunar.plan.sticks import Stick


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardPiece:
    """A full-width length of board.

    Attributes:
        sticks: one; or two rips that come out of it side by side.
        span: lengths that will do, ticks.
        is_free: its stop may be any mark of the span.
    """

    sticks: tuple[Stick, ...]
    span: Span
    is_free: bool

    @property
    def is_ripped(self) -> bool:
        """Rips come out of it."""
        return self.sticks[0].part.ripped


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceSet:
    """What is cut, and what from; `nest` where strips share cuts."""

    pieces: tuple[BoardPiece, ...]
    timber: BoardProblem
    nest: Nest | None

    def part_lengths(self, ticks: Sequence[int], saw: Saw) -> Mapping[str, int]:
        """Part id to what it is cut to, ticks, where the pieces take so much of a board each."""
        if self.nest is None:
            return _part_lengths(self.pieces, ticks, saw)
        return {stick.id: stick.span.lo for piece in self.pieces for stick in piece.sticks}


def make_piece_set(
    sticks: Sequence[Stick], pairs: Collection[tuple[str, str]], stocks: BoardStocks, saw: Saw
) -> PieceSet:
    """Of one stock and species, with the ids of rips that share a section."""
    nest = make_nest(sticks, saw)
    return PieceSet(
        pieces=_pieces(sticks, pairs, saw) if nest is None else _nested(sticks, nest, saw),
        timber=BoardProblem(
            stocks=stocks.stocks,
            kerf=saw.up(saw.shop.kerf * (nest.kerf_factor if nest else 1.0)),
            end_waste=saw.up(saw.shop.end_waste + (nest.end if nest else 0.0)),
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


def _pieces(sticks: Sequence[Stick], pairs: Collection[tuple[str, str]], saw: Saw) -> tuple[BoardPiece, ...]:
    """Every part of one stock once: full ones in their order, then the sections of rips; `pairs` share a section."""
    full = [BoardPiece(sticks=(s,), span=s.span, is_free=s.is_free) for s in sticks if not s.part.ripped]
    rips = {stick.id: stick for stick in sticks if stick.part.ripped}
    paired = {name for pair in pairs for name in pair}
    sections = [*pairs, *((name,) for name in rips if name not in paired)]
    return (*full, *(_section([rips[name] for name in names], saw) for names in sections))


def _section(sticks: Sequence[Stick], saw: Saw) -> BoardPiece:
    """Both rips at one length where they have one in common; else the section is as long as the longer one."""
    least, spans = saw.rip.least_blank, [stick.span for stick in sticks]
    lo, hi = max(span.lo for span in spans), min(span.hi for span in spans)
    longest = max(spans, key=lambda span: span.lo)
    if lo > hi:
        lo, hi = longest.lo, longest.hi
    if lo < least:
        # So short a section is not ripped: it is cut longer, and the rip is cut from it afterwards.
        lo = -(-least // saw.read) * saw.read
        lo, hi = (lo, hi) if lo <= hi else (least, least)
    wish = min(max(longest.wish, lo), hi)
    return BoardPiece(sticks=tuple(sticks), span=Span(lo=lo, hi=hi, wish=wish), is_free=lo < hi)


def _part_lengths(pieces: Sequence[BoardPiece], lengths: Sequence[int], saw: Saw) -> Mapping[str, int]:
    """What each part is cut to, ticks: as long as its piece, unless it must be shorter: then the best mark in use."""
    marks = sorted({n for piece, n in zip(pieces, lengths, strict=True) if piece.is_free})
    out: dict[str, int] = {}
    for piece, length in zip(pieces, lengths, strict=True):
        for stick in piece.sticks:
            span = stick.span
            # From `span.lo` in whole marks: the other rip of a section may have to be cut between two of them.
            suits = span.lo <= length <= span.hi and (length - span.lo) % saw.read == 0
            out[stick.id] = length if suits else _own_length(stick, length, marks, saw)
    return out


def _own_length(stick: Stick, room: int, marks: Sequence[int], saw: Saw) -> int:
    """No longer than the section."""
    span = stick.span
    if not stick.is_free:
        return span.wish
    most = min(span.hi, room)
    usable = [mark for mark in marks if span.lo <= mark <= most and (mark - span.lo) % saw.read == 0]
    return min(usable or range(span.lo, most + 1, saw.read), key=lambda n: (abs(n - span.wish), -n))


def clashing(pieces: Sequence[BoardPiece], lengths: Mapping[str, int], saw: Saw) -> list[tuple[str, ...]]:
    """Pairs of rips that no longer lie in one section at the lengths that were chosen."""
    pairs = [piece.sticks for piece in pieces if len(piece.sticks) == 2]
    return [
        (one.id, other.id)
        for one, other in pairs
        if pair_fits(one.rip_at(lengths[one.id]), other.rip_at(lengths[other.id]), saw.rip) is None
    ]
