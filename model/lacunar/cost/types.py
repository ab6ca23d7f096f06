"""What a cost is made of. Lengths in mm, money in the config's currency."""

from dataclasses import dataclass
from typing import Literal

Group = Literal["boards", "sheets", "fasteners", "finish"]
Unit = Literal["piece", "mm", "m2"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetSize:
    """Sheets of one kind.

    Attributes:
        use: what for, in words; "" where nothing is known of it.
        mass_kg: of one; None where it is not given.
        on_hand: how many of those that are needed are there already.
    """

    length: float
    width: float
    use: str
    mass_kg: float | None
    on_hand: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One line of what is bought: boards of one length, sheets, or packs (boxes, tubes, rolls, cans) of one thing.

    Attributes:
        name: stock of boards ("1x4"), name of sheets or of a pack ("slat nail"), kind and colour of a finish.
        what: which one, or what for, in words.
        need: what the work takes: boards to be cut, pieces, mm of bead or roll, m2 of one coat after another, m2 that
            sheets cover.
        unit: of `need` and `holds`.
        holds: what one board, sheet or pack gives.
        count: boards, sheets or packs to buy: with spares, whole ones, less what is on hand.
        price: of one; None where none is given.
        fewest: of them, at the best that `unsure` may mean; as many where nothing is unsure.
        most: at the worst.
        unsure: a sentence on what was assumed; "" where nothing was.
        coverage: m2 per litre of what is painted on, else None.
        can_litres: what a can holds, of what is painted on, else None.
        sheet: of sheets, else None.
    """

    group: Group
    name: str
    what: str
    need: float
    unit: Unit
    holds: float
    count: int
    price: float | None
    fewest: int
    most: int
    unsure: str = ""
    coverage: float | None = None
    can_litres: float | None = None
    sheet: SheetSize | None = None

    @property
    def total(self) -> float | None:
        """None where there is something to buy and no price."""
        return self._money(self.count)

    @property
    def low(self) -> float | None:
        """The total at the best."""
        return self._money(self.fewest)

    @property
    def high(self) -> float | None:
        """The total at the worst."""
        return self._money(self.most)

    def _money(self, count: int) -> float | None:
        """Of so many; nothing costs nothing, whatever its price."""
        return 0.0 if count == 0 else None if self.price is None else count * self.price


@dataclass(frozen=True, slots=True, kw_only=True)
class Mover:
    """Something that was assumed, and by how much it moves the whole cost: low <= 0 <= high, in money."""

    what: str
    why: str
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetLoad:
    """So many bought sheets of one kind."""

    name: str
    count: int
    length: float
    width: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """What the car has to carry home: bought boards, spares included, and sheets.

    Attributes:
        boards: how many.
        longest: of the boards, mm; 0 where there are none.
        sheets: kind by kind; none that is on hand.
        too_long: boards longer than shop.longest, and sheets with a side that is.
        mass_kg: wood at 12 % moisture, wet timbers weigh more; sheets as given.
        limit_kg: of one load.
        loads: by weight.
        unknown: boards whose section or wood is not known and sheets whose mass is not given, not in the mass.
    """

    boards: int
    longest: float
    sheets: tuple[SheetLoad, ...]
    too_long: int
    mass_kg: float
    limit_kg: float
    loads: int
    unknown: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """The whole cost of the job: an estimate.

    Attributes:
        currency: three letters.
        items: boards, then sheets, then fasteners, then finish; what has no price is among them.
        goods: of all items that have a price.
        tax: on goods.
        contingency: on goods and tax.
        delivery: once; neither taxed nor in the contingency.
        total: of the four; of what has a price only, where something is lacking.
        low: total at the best of everything that was assumed.
        high: total at the worst.
        movers: what makes the difference, the most first; the lows add up to low - total, the highs to high - total.
        lacking: what the total lacks: things without a price, parts that no board gives.
        ceiling_m2: area of the ceiling between the walls.
        load: for the car.
        notes: sentences: what was taken, and what is not counted.
    """

    currency: str
    items: tuple[Item, ...]
    goods: float
    tax: float
    contingency: float
    delivery: float
    total: float
    low: float
    high: float
    movers: tuple[Mover, ...]
    lacking: tuple[str, ...]
    ceiling_m2: float
    load: Load
    notes: tuple[str, ...]

    @property
    def is_complete(self) -> bool:
        """Everything that is bought has a price."""
        return not self.lacking

    @property
    def has_price(self) -> bool:
        """At least one thing has a price: without any, the total says nothing."""
        return any(item.price is not None for item in self.items)

    @property
    def per_m2(self) -> float:
        """Total for each m2 of ceiling."""
        return self.total / self.ceiling_m2

    def of(self, group: Group) -> float:
        """Total of the items of one group that have a price."""
        return sum(item.total or 0.0 for item in self.items if item.group == group)
