"""What a cost is made of. Lengths in mm, money in the config's currency.

Metadata of a field is for the report, which holds these very rows: its key there, or that it is left out.
"""

from dataclasses import dataclass, field
from typing import Literal

Group = Literal["boards", "sheets", "fasteners", "finish"]
Unit = Literal["piece", "mm", "m2"]


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
        total: None where there is something to buy and no price.
        low: the total at the best that `unsure` may mean; equal to it where nothing is unsure.
        high: the total at the worst.
        unsure: a sentence on what was assumed; "" where nothing was.
    """

    group: Group = field(default="fasteners", metadata={"exclude": True})
    name: str
    what: str
    need: float | int
    unit: Unit
    holds: float
    count: int
    price: float | None
    total: float | None
    low: float | None
    high: float | None
    unsure: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetItem(Item):
    """Sheets of one kind.

    Attributes:
        length: of one sheet.
        width: of one sheet.
        mass_kg: of one; None where it is not given.
        on_hand: how many of those that are needed are there already, not in `count`.
        use: what for, in words; "" where nothing is known of it.
    """

    length: float
    width: float
    mass_kg: float | None = field(metadata={"alias": "mass"})
    on_hand: int
    use: str = field(default="", metadata={"exclude": True})


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishItem(Item):
    """What is painted on, and what it takes.

    Attributes:
        coverage: m2 per litre of what is painted on, else None.
        can_litres: what a can holds, of what is painted on, else None.
    """

    coverage: float | None = field(default=None, metadata={"alias": "m2_per_litre"})
    can_litres: float | None = None


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
    mass_kg: float = field(metadata={"alias": "mass"})
    limit_kg: float = field(metadata={"alias": "limit"})
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
    def sheets(self) -> tuple[SheetItem, ...]:
        """Those of the items that are sheets."""
        return tuple(item for item in self.items if isinstance(item, SheetItem))

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
