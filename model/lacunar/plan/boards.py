"""Parts onto boards: best-fit decreasing from each length in turn, then every board as cheap as will do."""

import bisect
import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from lacunar.plan.stock import Offer, Saw, capacity, holds, weight
from lacunar.tolerances import ARITHMETIC


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One length to be cut."""

    part: str
    length: float


@dataclass(slots=True)
class Load:
    """One board and what is cut from it so far."""

    offer: Offer
    owned: bool
    pieces: list[Piece] = field(default_factory=list[Piece])

    def weight(self, saw: Saw) -> float:
        """Of its pieces together."""
        return math.fsum(weight(piece.length, saw) for piece in self.pieces)


def is_priced(offers: Sequence[Offer]) -> bool:
    """Every length that can be bought has a price."""
    return all(offer.price is not None for offer in offers if offer.for_sale)


def load_boards(
    pieces: Sequence[Piece], offers: Sequence[Offer], saw: Saw, cull: float
) -> tuple[tuple[Load, ...], tuple[Piece, ...]]:
    """The cheapest of the plans that start from each length; the shortest where a price is missing.

    Args:
        pieces: in any order; equal lengths stay in this order.
        offers: of their stock.
        saw: kerf and waste.
        cull: share of bought boards that is bought on top.

    Returns:
        Boards with their pieces, longest first, boards on hand before bought ones; and the pieces that no board gives.
    """
    ordered = sorted(pieces, key=lambda piece: -piece.length)
    bases = [offer for offer in offers if offer.for_sale] or [None]
    plans = [_filled(ordered, offers, base, saw) for base in bases]
    return min(plans, key=lambda plan: (len(plan[1]), *_cost(plan[0], is_priced(offers), cull)))


def spares(count: int, cull: float) -> int:
    """Boards to buy on top of those to be cut: the cull's share of them, rounded up."""
    return math.ceil(count * cull - ARITHMETIC)


def _cost(loads: Sequence[Load], priced: bool, cull: float) -> tuple[float, float, int]:
    bought = [load.offer for load in loads if not load.owned]
    length = math.fsum(offer.length for offer in bought)
    if not priced:
        return length, 0.0, len(bought)
    counts = {offer: bought.count(offer) for offer in dict.fromkeys(bought)}
    money = math.fsum((n + spares(n, cull)) * (offer.price or 0.0) for offer, n in counts.items())
    return money, length, len(bought)


def _filled(
    pieces: Sequence[Piece], offers: Sequence[Offer], base: Offer | None, saw: Saw
) -> tuple[tuple[Load, ...], tuple[Piece, ...]]:
    """Each piece onto the board that it fills best; a new board only where none holds it."""
    loads = [Load(offer, owned=True) for offer in offers for _ in range(offer.on_hand)]
    room = sorted((capacity(load.offer.length, saw), i) for i, load in enumerate(loads))
    unserved: list[Piece] = []
    for piece in pieces:
        need = weight(piece.length, saw)
        at = bisect.bisect_left(room, (need - ARITHMETIC, -1))
        if at < len(room):
            left, i = room.pop(at)
        else:
            new = _new_board(need, offers, base, saw)
            if new is None:
                unserved.append(piece)
                continue
            loads.append(Load(new, owned=False))
            left, i = capacity(new.length, saw), len(loads) - 1
        loads[i].pieces.append(piece)
        bisect.insort(room, (left - need, i))
    used = [_downsized(load, offers, saw) for load in loads if load.pieces]
    return tuple(used), tuple(unserved)


def _new_board(need: float, offers: Sequence[Offer], base: Offer | None, saw: Saw) -> Offer | None:
    """The base, or where it is too short the cheapest board that holds the piece."""
    if base is not None and holds(base, need, saw):
        return base
    return _cheapest(need, offers, saw)


def _cheapest(load: float, offers: Sequence[Offer], saw: Saw) -> Offer | None:
    fitting = [offer for offer in offers if offer.for_sale and holds(offer, load, saw)]
    if is_priced(offers):
        return min(fitting, key=lambda offer: (offer.price or 0.0, offer.length), default=None)
    return min(fitting, key=lambda offer: offer.length, default=None)


def _downsized(load: Load, offers: Sequence[Offer], saw: Saw) -> Load:
    if load.owned:
        return load
    return Load(_cheapest(load.weight(saw), offers, saw) or load.offer, owned=False, pieces=load.pieces)
