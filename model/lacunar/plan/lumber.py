"""What one stock can be bought and cut as."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from lacunar.plan.cutting import Stock
from lacunar.plan.saw import Saw
from lacunar.plan.stock import Offer

CENTS = 100.0
"""Of one unit of money: whole numbers, as the cutting core wants them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardStocks:
    """What one stock can be bought and cut as.

    Attributes:
        offers: of each stock of `stocks`.
        stocks: for the cutting core; boards on hand at no price.
        cull: share that is bought on top; 0 where prices are unknown.
        priced: every length that can be bought has a price.
    """

    offers: tuple[Offer, ...]
    stocks: tuple[Stock, ...]
    cull: float
    priced: bool

    def only(self, used: Collection[int]) -> "BoardStocks":
        """Some of them, by index."""
        return replace(self, offers=tuple(self.offers[s] for s in used), stocks=tuple(self.stocks[s] for s in used))


def make_stocks(offers: Sequence[Offer], saw: Saw) -> BoardStocks:
    """Every length that can be bought, and every one on hand as boards without a price."""
    priced = all(offer.price is not None for offer in offers if offer.for_sale)
    rows: list[tuple[Offer, Stock]] = []
    for offer in offers:
        length = saw.down(offer.actual)
        if offer.on_hand:
            rows.append((offer, Stock(length=length, price=0, supply=offer.on_hand)))
        if offer.for_sale:
            price = round((offer.price or 0.0) * CENTS) if priced else None
            rows.append((offer, Stock(length=length, price=price, supply=offer.supply)))
    return BoardStocks(
        offers=tuple(offer for offer, _ in rows),
        stocks=tuple(stock for _, stock in rows),
        cull=saw.shop.cull if priced else 0.0,
        priced=priced,
    )
