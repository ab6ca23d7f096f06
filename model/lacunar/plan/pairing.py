"""Rips of one stock and species that share sections."""

from collections.abc import Sequence
from itertools import combinations

from lacunar.plan.cutting import pair_rips
from lacunar.plan.cutting.rips import may_pair
from lacunar.plan.pair_search import PairableRips, Pairing, Solve, choose_pairs
from lacunar.plan.pieces import BoardPiece
from lacunar.plan.purchase import Purchase
from lacunar.plan.saw import Saw
from lacunar.plan.sticks import Stick


def longest_saved(sticks: Sequence[Stick], saw: Saw) -> tuple[tuple[str, str], ...]:
    """The pairs that save the most length where every rip is at its shortest."""
    rips = [stick for stick in sticks if stick.part.ripped]
    return tuple((rips[i].id, rips[j].id) for i, j in pair_rips([stick.rip for stick in rips], saw.rip).pairs)


def best_pairs(pieces: Sequence[BoardPiece], purchase: Purchase, solve: Solve, saw: Saw) -> Pairing:
    """The pairs whose boards cost least.

    `pieces`, full ones and rips paired in some way, have no margin: what is proved holds for whole intervals.
    `purchase` is for them.
    """
    full = [piece.span.lo for piece in pieces if not piece.is_ripped]
    rips = _pairable([stick for piece in pieces if piece.is_ripped for stick in piece.sticks], saw)
    place = {name: n for n, name in enumerate(rips.names)}
    pairs = [sorted(place[stick.id] for stick in piece.sticks) for piece in pieces if len(piece.sticks) == 2]
    first = [(head, carried) for head, carried in pairs]
    return choose_pairs(rips, first, purchase, lambda lows: solve([*full, *lows]))


def _pairable(sticks: Sequence[Stick], saw: Saw) -> PairableRips:
    lows = {stick.id: max(stick.span.lo, saw.rip.least_blank) for stick in sticks}
    order = sorted(sticks, key=lambda stick: -lows[stick.id])
    longest = [stick.rip_at(stick.span.hi) for stick in order]
    partners = [0] * len(order)
    for i, j in combinations(range(len(order)), 2):
        if may_pair((order[i].rip, order[j].rip), (longest[i], longest[j]), saw.rip):
            partners[i] |= 1 << j
            partners[j] |= 1 << i
    return PairableRips(
        names=tuple(stick.id for stick in order),
        lows=tuple(lows[stick.id] for stick in order),
        partners=tuple(partners),
    )
