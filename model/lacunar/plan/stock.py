"""What can be bought of a stock, what lies at hand, and how much a board of it holds."""

from dataclasses import dataclass, replace

from lacunar.config import CrossBeams, Shop, ShopBoard, Slats
from lacunar.parts import Part
from lacunar.tape import Tape
from lacunar.tolerances import ARITHMETIC
from lacunar.units import FOOT, Units

DEFAULT_BOARDS = {
    "in": tuple(feet * FOOT for feet in (8.0, 10.0, 12.0, 16.0)),
    "mm": (2400.0, 3000.0, 3600.0, 4200.0, 4800.0),
}
"""mm. Lengths that most yards have. Source: common practice, no source."""


CENT = 0.01
"""Boards are paid in whole cents, so that cost and bound are of the same prices."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """One length of one stock.

    Attributes:
        length: as sold, mm.
        actual: as it measures, mm.
        price: of one; None where unknown.
        on_hand: boards that are there already, at no cost.
        for_sale: more can be bought.
        supply: no more than so many; None for as many as are wanted.
    """

    length: float
    actual: float
    price: float | None
    on_hand: int
    for_sale: bool
    supply: int | None = None

    def less(self, used: int, bought: int) -> "Offer":
        """The same with so many fewer on hand and for sale."""
        supply = None if self.supply is None else self.supply - bought
        return replace(self, on_hand=self.on_hand - used, supply=supply, for_sale=self.for_sale and supply != 0)


def bought_as(part: Part, tape: Tape) -> str:
    """The stock that a part is cut from; where it has no name, its section."""
    if part.stock:
        return part.stock
    return " x ".join(tape.text(side, mark=tape.fine) for side in (part.width, part.thickness))


def stock_width(part: Part, slats: Slats, cross: CrossBeams | None) -> float:
    """Across what a part may be ripped from, mm: a beam's stock lies as the beam hangs, a slat's flat."""
    return cross.width if part.kind == "half beam" and cross is not None else slats.width


def offers(stock: str, shop: Shop, units: Units) -> tuple[Offer, ...]:
    """What there is of a stock, the shortest first.

    Without a shop table every stock comes in the default lengths at an unknown price. In the table, boards on hand
    without a price are left over from other work: there are no more of them. Boards longer than the car takes are not
    bought; those on hand are there.
    """
    if not shop.board:
        rows = [
            Offer(length=length, actual=length, price=None, on_hand=0, for_sale=True)
            for length in DEFAULT_BOARDS[units]
        ]
    else:
        rows = sorted((_row(board) for board in shop.board if board.stock == stock), key=lambda row: row.length)
    return tuple(replace(row, for_sale=row.for_sale and fits_car(row, shop.longest)) for row in rows)


def _row(board: ShopBoard) -> Offer:
    """One line of the table; no two of it are alike."""
    return Offer(
        length=board.length,
        actual=board.length if board.actual is None else board.actual,
        price=None if board.price is None else max(round(board.price, 2), CENT),
        on_hand=board.on_hand,
        for_sale=(board.price is not None or board.on_hand == 0) and board.supply != 0,
        supply=board.supply,
    )


def fits_car(offer: Offer, longest: float | None) -> bool:
    """Nobody has said that it does not."""
    return longest is None or offer.length <= longest + ARITHMETIC
