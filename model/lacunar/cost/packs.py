"""Whole packs: boxes, tubes, rolls and cans, rounded up."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import TypeVar

from lacunar.config import CoatTable, Pack, PackName
from lacunar.cost.practice import BESIDE, CANS, CONTENTS
from lacunar.cost.types import FinishItem, Group, Item, Unit
from lacunar.tape import Tape
from lacunar.units import FOOT

T = TypeVar("T")

ROUNDING = 1e-9
"""Relative. Less than this past a whole pack is the last digit of a sum."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Supplies:
    """What the config says of all that is bought by the pack.

    Attributes:
        tape: that lengths are told by.
        spare: share that is bought on top.
        packs: by name.
    """

    tape: Tape
    spare: float
    packs: Mapping[PackName, Pack]

    def pack(self, name: PackName) -> Pack:
        """What is said of a pack; nothing but its name where nothing is."""
        return self.packs.get(name) or Pack(name=name)


def whole(amount: float, holds: float, on_hand: int = 0) -> int:
    """Packs to buy for an amount, those on hand taken off."""
    return max(math.ceil(amount / holds * (1.0 - ROUNDING)) - on_hand, 0)


def packed(supplies: Supplies, group: Group, name: PackName, what: str, need: float, unit: Unit = "piece") -> Item:
    """An item that is counted or measured, with the share that is bought on top.

    Args:
        supplies: its packs.
        group: of the item.
        name: of the pack.
        what: which one, in words.
        need: pieces, or mm.
        unit: "piece" or "mm".
    """
    pack = supplies.pack(name)
    holds = CONTENTS[name] if pack.holds is None else pack.holds
    amount = need * (1.0 + supplies.spare)
    if unit == "piece":
        amount = math.ceil(amount * (1.0 - ROUNDING))
        taken = f"{holds:.0f} are"
    else:
        mark = FOOT if supplies.tape.units == "in" else 1000.0
        taken = f"{supplies.tape.words(holds, mark)} is"
    unsure = "" if pack.holds is not None else f"what a pack holds is not given: {taken} taken"
    return _item(group, name, what, need, unit, amount, holds, pack, unsure)


def painted(supplies: Supplies, name: str, what: str, area_m2: float, can: Pack | CoatTable) -> Item:
    """An item that comes in cans: packs are of paint, and larger than those of a finish.

    Args:
        supplies: units of the room.
        name: of the item.
        what: in words.
        area_m2: of all coats together.
        can: what is said of one.
    """
    practice = CANS[supplies.tape.units]
    usual = practice.paint_litres if isinstance(can, Pack) else practice.finish_litres
    litres = usual if can.holds is None else can.holds
    rate = practice.coverage if can.coverage is None else can.coverage
    missing = [] if can.coverage is not None else [f"coverage is not given: {practice.words} is taken"]
    missing += (
        [] if can.holds is not None else [f"what a can holds is not given: {_can_words(supplies, litres)} is taken"]
    )
    unsure = "; ".join(missing)
    item = _item("finish", name, what, area_m2, "m2", area_m2, litres * rate, can, unsure)
    return replace(item, coverage=rate, can_litres=litres) if isinstance(item, FinishItem) else item


def _can_words(supplies: Supplies, litres: float) -> str:
    if supplies.tape.units == "mm":
        return f"{litres:g} l"
    quarts = litres / CANS["in"].finish_litres
    return "1 gal" if quarts > 2.0 else f"{quarts:g} qt"


def _item(
    group: Group,
    name: str,
    what: str,
    need: float,
    unit: Unit,
    amount: float,
    holds: float,
    pack: Pack | CoatTable,
    unsure: str,
) -> Item:
    """The item with whole packs for an amount, and the fewest and the most where its content is unsure."""
    on_hand = pack.on_hand if isinstance(pack, Pack) else 0
    beside = BESIDE if unsure else 0.0
    count, fewest, most = (whole(amount, holds * (1.0 + sign * beside), on_hand) for sign in (0.0, 1.0, -1.0))
    told = {"group": group, "name": name, "what": what, "need": need, "unit": unit, "holds": holds, "unsure": unsure}
    return priced(FinishItem if group == "finish" else Item, (count, fewest, most), pack.price, **told)


def priced(kind: Callable[..., T], counts: tuple[int, int, int], price: float | None, **told: object) -> T:
    """An item and what it costs; nothing costs nothing, whatever its price.

    Args:
        kind: of item.
        counts: so many, at the best so few, at the worst so many.
        price: of one.
        told: all else.
    """
    total, low, high = (0.0 if count == 0 else None if price is None else count * price for count in counts)
    return kind(count=counts[0], price=price, total=total, low=low, high=high, **told)
