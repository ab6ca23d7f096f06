"""What can be bought of a stock, what lies at hand, and how much a board of it holds."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from lacunar.config import Config
from lacunar.parts import Part
from lacunar.tolerances import ARITHMETIC
from lacunar.units import FOOT, INCH, format_length

DEFAULT_BOARDS = {
    "in": tuple(feet * FOOT for feet in (8.0, 10.0, 12.0, 16.0)),
    "mm": (2400.0, 3000.0, 3600.0, 4200.0, 4800.0),
}
"""mm. Lengths that most yards have. Source: common practice, no source."""


FINE_MARK = {"in": INCH / 32.0, "mm": 0.5}
"""mm. Beams, trim and rips are cut to this mark, unless a finer one is read. Source: common practice, no source."""


def fine_mark(config: Config) -> float:
    """The mark that beams, trim and rips are cut to, mm."""
    return min(config.read_to, FINE_MARK[config.units])


@dataclass(frozen=True, slots=True, kw_only=True)
class Saw:
    """What cutting costs in wood: the kerf, and the waste at each end of a board (squaring cut included)."""

    kerf: float
    end_waste: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """One length of one stock.

    Attributes:
        length: mm.
        price: of one; None where unknown.
        on_hand: boards that are there already, at no cost.
        for_sale: more can be bought.
    """

    length: float
    price: float | None
    on_hand: int
    for_sale: bool

    def less(self, used: int) -> "Offer":
        """The same with fewer on hand."""
        return replace(self, on_hand=self.on_hand - used)


def weight(length: float, saw: Saw) -> float:
    """What a part takes of a board's capacity: its length and one kerf."""
    return length + saw.kerf


def capacity(length: float, saw: Saw) -> float:
    """What a board holds: parts fit exactly where their weights add up to no more.

    Between n parts there are n - 1 kerfs, so length - 2 waste >= sum(l) + (n - 1) kerf, which is
    sum(l + kerf) <= length - 2 waste + kerf.
    """
    return length - 2.0 * saw.end_waste + saw.kerf


def holds(offer: Offer, load: float, saw: Saw) -> bool:
    """A board of this length holds parts of this weight together."""
    return load <= capacity(offer.length, saw) + ARITHMETIC


def bought_as(part: Part, config: Config) -> str:
    """The stock that a part is cut from; where it has no name, its section."""
    if part.stock:
        return part.stock
    sides = (format_length(side, config.units, fine_mark(config)) for side in (part.width, part.thickness))
    return " x ".join(sides)


def offers(config: Config, stock: str) -> tuple[Offer, ...]:
    """What there is of a stock, the shortest first.

    Without a shop table every stock comes in the default lengths at an unknown price. In the table, boards on hand
    without a price are left over from other work: there are no more of them. Boards longer than the car takes are not
    bought; those on hand are there.
    """
    longest = config.shop.longest
    if not config.shop.board:
        rows = [Offer(length=length, price=None, on_hand=0, for_sale=True) for length in DEFAULT_BOARDS[config.units]]
    else:
        lengths = sorted({board.length for board in config.shop.board if board.stock == stock})
        rows = [_row(config, stock, length) for length in lengths]
    return tuple(replace(row, for_sale=row.for_sale and _fits(row, longest)) for row in rows)


def _row(config: Config, stock: str, length: float) -> Offer:
    """All lines of the table for one length, as one."""
    boards = [board for board in config.shop.board if board.stock == stock and board.length == length]
    prices = [board.price for board in boards if board.price is not None]
    return Offer(
        length=length,
        price=min(prices) if prices else None,
        on_hand=sum(board.on_hand for board in boards),
        for_sale=bool(prices) or any(board.on_hand == 0 for board in boards),
    )


def _fits(offer: Offer, longest: float | None) -> bool:
    return longest is None or offer.length <= longest + ARITHMETIC


def why_unserved(length: float, stock: str, rows: Sequence[Offer], config: Config, saw: Saw) -> str:
    """Why no board gives a part of this length, for a carpenter."""
    if not rows:
        return f"{stock} is not in the shop table; add a [[shop.board]] for it"
    long_enough = [row for row in rows if holds(row, weight(length, saw), saw)]
    if any(row.on_hand for row in long_enough):
        return f"the boards of {stock} on hand are used up, and none this long can be bought"
    usable = [row for row in rows if row.for_sale or row.on_hand]
    if not usable:
        return (
            f"every {stock} is longer than {_words(config.shop.longest or 0.0, config)}, the longest that fits the car"
        )
    longest = max(row.length for row in usable)
    car = " that fits the car" if longest < max(row.length for row in rows) else ""
    left = longest - 2.0 * saw.end_waste
    return (
        f"{_words(length, config)} long; the longest {stock}{car}, {_words(longest, config)}, "
        f"gives {_words(left, config)} once both ends are squared"
    )


def _words(mm: float, config: Config) -> str:
    return format_length(mm, config.units, config.read_to, "words")
