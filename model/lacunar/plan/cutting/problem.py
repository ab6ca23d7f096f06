"""Boards to buy and what to cut from them, in whole numbers: ticks of length and cents, or anything whole."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from lacunar.errors import PlanError, Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """Boards of one length.

    Attributes:
        length: ticks, rounded down.
        price: of one; 0 for an offcut on hand; None where prices are unknown and the length counts.
        supply: how many there are; None for as many as are wanted.
    """

    length: int
    price: int | None = None
    supply: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """How many pieces of one length are wanted; ticks, rounded up where the tape reads between two."""

    length: int
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardProblem:
    """Which boards to buy, and how to cut them.

    A board holds pieces that satisfy sum(length) + (pieces - 1) kerf <= board - 2 end_waste.

    Attributes:
        stocks: no two alike.
        demands: distinct lengths.
        kerf: ticks, rounded up.
        end_waste: lost at each end of a board, the squaring cut included; rounded up.
    """

    stocks: tuple[Stock, ...]
    demands: tuple[Demand, ...] = ()
    kerf: int = 0
    end_waste: int = 0

    def cutting(self, lengths: Sequence[int]) -> "BoardProblem":
        """These lengths from the same boards; demands are longest first."""
        counts = sorted(Counter(lengths).items(), reverse=True)
        return replace(self, demands=tuple(Demand(length=length, count=n) for length, n in counts))

    def weight(self, demand: int) -> int:
        """What one piece takes of a board's capacity: its length and one kerf."""
        return self.demands[demand].length + self.kerf

    def capacity(self, stock: int) -> int:
        """What a board holds: pieces fit exactly where their weights add up to no more."""
        return self.stocks[stock].length - 2 * self.end_waste + self.kerf

    def price(self, stock: int) -> int:
        """Of one board; its length where prices are unknown."""
        price = self.stocks[stock].price
        return self.stocks[stock].length if price is None else price

    @property
    def prices(self) -> tuple[int, ...]:
        """Of one board of each stock."""
        return tuple(self.price(s) for s in range(len(self.stocks)))

    @property
    def pieces(self) -> int:
        """How many pieces are wanted in all."""
        return sum(demand.count for demand in self.demands)

    def total(self, values: Sequence[int]) -> int:
        """Of all pieces, by a value for a piece of each demand."""
        return sum(value * demand.count for value, demand in zip(values, self.demands, strict=True))

    def supply(self, stock: int) -> int:
        """No plan needs more boards of it: the supply, or one for every piece."""
        supply = self.stocks[stock].supply
        return self.pieces if supply is None else min(supply, self.pieces)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """Boards that are cut alike.

    Attributes:
        stock: index of the stock.
        pieces: pairs (index of the demand, how many on one board), longest first.
        times: how many such boards.
    """

    stock: int
    pieces: tuple[tuple[int, int], ...]
    times: int


class ShortageError(PlanError):
    """The boards there are cannot give every piece.

    Attributes:
        missing: pairs (index of the demand, how many no board gives).
    """

    def __init__(self, problem: BoardProblem, missing: Sequence[tuple[int, int]], why: str) -> None:
        """One problem for each length."""
        self.missing = tuple(missing)
        super().__init__(
            [
                Problem(
                    where=f"length {problem.demands[i].length}",
                    what=f"{n} pieces {why}",
                    fix="add longer or more boards",
                )
                for i, n in missing
            ]
        )


def check_problem(problem: BoardProblem) -> None:
    """Refuse what has no meaning, all of it at once.

    Raises:
        PlanError: a length, count, price, supply, kerf or waste out of range, or two alike.
        ShortageError: pieces longer than every board gives.
    """
    wrong = _out_of_range(problem)
    if wrong:
        raise PlanError(
            [Problem(where=where, what=f"got {got}, which is out of range or twice") for where, got in wrong]
        )
    longest = max((problem.capacity(s) for s in range(len(problem.stocks)) if problem.supply(s)), default=0)
    over = [(i, d.count) for i, d in enumerate(problem.demands) if problem.weight(i) > longest]
    if over:
        raise ShortageError(problem, over, "longer than any board gives")


def _out_of_range(problem: BoardProblem) -> list[tuple[str, int | str]]:
    stocks, demands = problem.stocks, problem.demands
    # A board on hand has price 0, so only boards without any price beside priced ones are a muddle.
    is_muddle = len({stock.price is None for stock in stocks if stock.price != 0}) > 1
    lengths = Counter(demand.length for demand in demands)
    return [
        *(("board length", stock.length) for stock in stocks if stock.length <= 0),
        *(("price", stock.price) for stock in stocks if stock.price is not None and stock.price < 0),
        *(("price of a board without limit", 0) for stock in stocks if stock.price == 0 and stock.supply is None),
        *(("supply", stock.supply) for stock in stocks if stock.supply is not None and stock.supply < 0),
        *((("price", "some boards with, some without"),) if is_muddle else ()),
        *(("piece length", length) for length, count in lengths.items() if length <= 0 or count > 1),
        *(("piece count", demand.count) for demand in demands if demand.count <= 0),
        *((name, n) for name, n in (("kerf", problem.kerf), ("end waste", problem.end_waste)) if n < 0),
    ]
