"""What no plan can be cheaper than."""

import math
from collections.abc import Sequence

from lacunar.plan.boards import Piece, is_priced
from lacunar.plan.stock import Offer, Saw, capacity, holds, weight
from lacunar.tolerances import ARITHMETIC


def lower_bound(pieces: Sequence[Piece], offers: Sequence[Offer], saw: Saw, cull: float) -> float | None:
    """A bound on what the boards of one stock cost, spares for the cull included; None where a price is missing.

    The best of three: by material (each part pays at least the cheapest price per capacity of the boards that hold
    it), by number (no board holds more than the longest), and by size (parts of more than half the longest board
    share none). Boards on hand take the dearest parts off each. Spares are rounded up, so they cost at least `cull`
    of the rest.
    """
    if not is_priced(offers):
        return None
    weights = [weight(piece.length, saw) for piece in pieces]
    if not any(offer.for_sale for offer in offers):
        return 0.0
    best = max(_by_material(weights, offers, saw), _by_number(weights, offers, saw), _by_size(weights, offers, saw))
    return best * (1.0 + cull)


def _by_material(weights: Sequence[float], offers: Sequence[Offer], saw: Saw) -> float:
    free = _owned_capacity(offers, saw)
    total: list[float] = []
    rated = ((_least(w, offers, saw, per_capacity=True), w) for w in weights)
    for rate, w in sorted(rated, reverse=True):
        taken = min(free, w)
        free -= taken
        total.append(rate * (w - taken))
    return math.fsum(total)


def _by_number(weights: Sequence[float], offers: Sequence[Offer], saw: Saw) -> float:
    sold = [offer for offer in offers if offer.for_sale]
    left = math.fsum(weights) - _owned_capacity(offers, saw)
    most = max(capacity(offer.length, saw) for offer in sold)
    boards = math.ceil(left / most - ARITHMETIC) if left > 0.0 else 0
    return boards * min(offer.price or 0.0 for offer in sold)


def _by_size(weights: Sequence[float], offers: Sequence[Offer], saw: Saw) -> float:
    most = max(capacity(offer.length, saw) for offer in offers)
    large = [w for w in weights if w > most / 2.0 + ARITHMETIC]
    prices = sorted((_least(w, offers, saw, per_capacity=False) for w in large), reverse=True)
    return math.fsum(prices[sum(offer.on_hand for offer in offers) :])


def _owned_capacity(offers: Sequence[Offer], saw: Saw) -> float:
    return math.fsum(offer.on_hand * capacity(offer.length, saw) for offer in offers)


def _least(load: float, offers: Sequence[Offer], saw: Saw, *, per_capacity: bool) -> float:
    """Least price, or price per mm of capacity, of a bought board that holds so much; 0 where only one on hand does."""
    fitting = [offer for offer in offers if offer.for_sale and holds(offer, load, saw)]
    return min(
        ((offer.price or 0.0) / (capacity(offer.length, saw) if per_capacity else 1.0) for offer in fitting),
        default=0.0,
    )
