"""Rips of one stock and species that share sections."""

from collections.abc import Sequence
from itertools import combinations

from lacunar.config import Config
from lacunar.parts import Part
from lacunar.plan.choice import StockChoice
from lacunar.plan.cutting import Rip, pair_rips
from lacunar.plan.cutting.rips import may_pair
from lacunar.plan.grid import Grid
from lacunar.plan.pair_search import Pairing, Rips, Solve, choose_pairs
from lacunar.plan.pieces import Piece, rip_of, rip_saw, span_of


def longest_saved(parts: Sequence[Part], config: Config, grid: Grid) -> tuple[tuple[str, str], ...]:
    """The pairs that save the most length where every rip is at its shortest."""
    rips = [part for part in parts if part.ripped]
    shortest = [_at_ends(part, config, grid)[0] for part in rips]
    blanks = pair_rips(shortest, rip_saw(config, grid)).blanks
    return tuple((rips[b.rips[0]].id, rips[b.rips[1]].id) for b in blanks if len(b.rips) == 2)


def best_pairs(pieces: Sequence[Piece], choice: StockChoice, solve: Solve, config: Config, grid: Grid) -> Pairing:
    """The pairs whose boards cost least.

    Args:
        pieces: full ones, and rips paired in some way.
        choice: boards for them.
        solve: how boards are chosen for pieces of these lengths.
        config: the saw.
        grid: ticks, with no margin: what is proved holds for whole intervals.
    """
    full = [piece.span.lo for piece in pieces if not piece.is_ripped]
    parts = [part for piece in pieces if piece.is_ripped for part in piece.parts]
    rips = _rips(parts, config, grid)
    place = {name: n for n, name in enumerate(rips.names)}
    pairs = [sorted(place[part.id] for part in piece.parts) for piece in pieces if len(piece.parts) == 2]
    return choose_pairs(rips, [(head, carried) for head, carried in pairs], choice, lambda lows: solve([*full, *lows]))


def _rips(parts: Sequence[Part], config: Config, grid: Grid) -> Rips:
    saw = rip_saw(config, grid)
    lows = {part.id: max(span_of(part, config, grid).lo, saw.least_blank) for part in parts}
    order = sorted(parts, key=lambda part: -lows[part.id])
    ends = [_at_ends(part, config, grid) for part in order]
    partners = [0] * len(order)
    for one, other in combinations(range(len(order)), 2):
        (short, long), (short_other, long_other) = ends[one], ends[other]
        if may_pair((short, short_other), (long, long_other), saw):
            partners[one] |= 1 << other
            partners[other] |= 1 << one
    return Rips(
        names=tuple(part.id for part in order),
        lows=tuple(lows[part.id] for part in order),
        partners=tuple(partners),
    )


def _at_ends(part: Part, config: Config, grid: Grid) -> tuple[Rip, Rip]:
    """At its shortest and at its longest."""
    span = span_of(part, config, grid)
    return rip_of(part, span.lo, config, grid), rip_of(part, span.hi, config, grid)
