"""Whole packs: boxes, tubes, rolls and cans, rounded up."""

import math
from collections.abc import Callable
from typing import TypeVar

from lacunar.config import Config, Pack, PackName
from lacunar.cost.practice import BESIDE, CANS, CONTENTS
from lacunar.cost.types import FinishItem, Group, Item, Unit
from lacunar.units import FOOT, format_length

T = TypeVar("T")

ROUNDING = 1e-9
"""Relative. Less than this past a whole pack is the last digit of a sum."""


def whole(amount: float, holds: float, on_hand: int = 0) -> int:
    """Packs to buy for an amount, those on hand taken off."""
    return max(math.ceil(amount / holds * (1.0 - ROUNDING)) - on_hand, 0)


def find_pack(config: Config, name: PackName) -> Pack | None:
    """What the shop table says of a pack."""
    return next((pack for pack in config.shop.pack if pack.name == name), None)


def packed(config: Config, group: Group, name: PackName, what: str, need: float, unit: Unit) -> Item:
    """An item that is counted or measured, with the share that is bought on top.

    Args:
        config: its packs.
        group: of the item.
        name: of the pack.
        what: which one, in words.
        need: pieces, or mm.
        unit: "piece" or "mm".
    """
    pack = find_pack(config, name)
    given = pack.holds if pack else None
    holds = CONTENTS[name] if given is None else given
    amount = need * (1.0 + config.fasteners.spare)
    if unit == "piece":
        amount = math.ceil(amount * (1.0 - ROUNDING))
    return priced(
        FinishItem if group == "finish" else Item,
        group=group,
        name=name,
        what=what,
        need=need,
        unit=unit,
        amount=amount,
        holds=holds,
        on_hand=pack.on_hand if pack else 0,
        price=pack.price if pack else None,
        unsure="" if given is not None else f"what a pack holds is not given: {_words(config, holds, unit)} taken",
    )


def _words(config: Config, size: float, unit: Unit) -> str:
    if unit == "piece":
        return f"{size:.0f} are"
    mark = FOOT if config.units == "in" else 1000.0
    return f"{format_length(size, config.units, mark, 'words').removesuffix(' 0 in')} is"


def painted(
    config: Config,
    name: str,
    what: str,
    area_m2: float,
    *,
    holds: float | None,
    coverage: float | None,
    price: float | None,
    on_hand: int = 0,
    paint: bool = False,
) -> Item:
    """An item that comes in cans.

    Args:
        config: its units.
        name: of the item.
        what: in words.
        area_m2: of all coats together.
        holds: of one can, litres; None where not given.
        coverage: m2 per litre; None where not given.
        price: of one can.
        on_hand: full cans that are there already.
        paint: it is paint, which comes in larger cans than a finish.
    """
    practice = CANS[config.units]
    can = (practice.paint_litres if paint else practice.finish_litres) if holds is None else holds
    rate = practice.coverage if coverage is None else coverage
    missing = [] if coverage is not None else [f"coverage is not given: {practice.words} is taken"]
    missing += [] if holds is not None else [f"what a can holds is not given: {_can_words(config, can)} is taken"]
    return priced(
        FinishItem,
        group="finish",
        name=name,
        what=what,
        need=area_m2,
        unit="m2",
        amount=area_m2,
        holds=can * rate,
        on_hand=on_hand,
        price=price,
        unsure="; ".join(missing),
        coverage=rate,
        can_litres=can,
    )


def _can_words(config: Config, litres: float) -> str:
    if config.units == "mm":
        return f"{litres:g} l"
    quarts = litres / CANS["in"].finish_litres
    return "1 gal" if quarts > 2.0 else f"{quarts:g} qt"


def priced(
    kind: Callable[..., T],
    *,
    amount: float,
    holds: float,
    on_hand: int,
    price: float | None,
    unsure: str,
    **told: object,
) -> T:
    """The item with whole packs for an amount, and the fewest and the most where its content is unsure."""
    beside = BESIDE if unsure else 0.0
    count, fewest, most = (whole(amount, holds * (1.0 + sign * beside), on_hand) for sign in (0.0, 1.0, -1.0))
    return kind(
        holds=holds,
        count=count,
        price=price,
        total=money(count, price),
        low=money(fewest, price),
        high=money(most, price),
        unsure=unsure,
        **told,
    )


def money(count: int, price: float | None) -> float | None:
    """So many at a price; nothing costs nothing, whatever its price."""
    if count == 0:
        return 0.0
    return None if price is None else count * price
