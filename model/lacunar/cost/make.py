"""The cost: every line, then tax, contingency and delivery."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from lacunar.config import Config
from lacunar.cost.boards import board_items
from lacunar.cost.fasteners import fastener_items
from lacunar.cost.finish import finish_items
from lacunar.cost.load import make_load
from lacunar.cost.sheets import sheet_items, sheet_notes
from lacunar.cost.surfaces import ceiling_surface
from lacunar.cost.types import Cost, Item, Mover
from lacunar.layout import Layout
from lacunar.parts import Part
from lacunar.plan import Plan
from lacunar.survey import Room


@dataclass(frozen=True, slots=True)
class _Rates:
    """Shares on top of goods."""

    tax: float
    contingency: float

    @property
    def on_goods(self) -> float:
        """What one unit of goods costs with tax and contingency."""
        return (1.0 + self.tax) * (1.0 + self.contingency)


def make_cost(config: Config, room: Room, layout: Layout, parts: Sequence[Part], plan: Plan) -> Cost:
    """The whole cost of the job, as far as prices are given.

    Tax is on goods; contingency on goods and tax; delivery is added once, after both.

    Args:
        config: prices and shares.
        room: for walls that are painted again.
        layout: coffers, beams that stay, the floor.
        parts: at the lengths of the plan.
        plan: boards to buy.
    """
    items = (
        *board_items(config, plan),
        *sheet_items(config, room, layout),
        *fastener_items(config, layout, parts),
        *finish_items(config, room, layout, parts),
    )
    shop = config.shop
    rates = _Rates(shop.tax, shop.contingency)
    goods = math.fsum(item.total or 0.0 for item in items)
    tax = goods * rates.tax
    contingency = (goods + tax) * rates.contingency
    total = goods + tax + contingency + shop.delivery
    movers = _movers(items, rates)
    return Cost(
        currency=config.currency,
        items=items,
        goods=goods,
        tax=tax,
        contingency=contingency,
        delivery=shop.delivery,
        total=total,
        low=total + math.fsum(mover.low for mover in movers),
        high=total + math.fsum(mover.high for mover in movers),
        movers=movers,
        lacking=_lacking(items, plan),
        ceiling_m2=ceiling_surface(room, layout),
        load=make_load(config, plan, items),
        notes=tuple(_notes(config, layout, parts)),
    )


def _movers(items: Sequence[Item], rates: _Rates) -> tuple[Mover, ...]:
    """What is unsure and has a price, the widest first; all boards hang on one share for the cull."""
    groups: dict[tuple[str, str], list[Item]] = {}
    for item in items:
        if item.unsure and item.price is not None:
            what = "boards" if item.group == "boards" else item.name
            groups.setdefault((what, item.unsure), []).append(item)
    found = [_mover(what, why, group, rates) for (what, why), group in groups.items()]
    return tuple(sorted(found, key=lambda mover: mover.low - mover.high))


def _mover(what: str, why: str, items: Sequence[Item], rates: _Rates) -> Mover:
    low, high = (
        math.fsum((getattr(item, end) or 0.0) - (item.total or 0.0) for item in items) * rates.on_goods
        for end in ("low", "high")
    )
    return Mover(what=what, why=why, low=low, high=high)


def _lacking(items: Sequence[Item], plan: Plan) -> tuple[str, ...]:
    names = [
        f"boards of {item.name}" if item.group == "boards" else item.name
        for item in items
        if item.price is None and item.count
    ]
    unserved = len(plan.unserved)
    parts = "1 part" if unserved == 1 else f"{unserved} parts"
    return (*dict.fromkeys(names), *([f"wood for {parts} that no board gives"] if unserved else []))


def _notes(config: Config, layout: Layout, parts: Sequence[Part]) -> Iterator[str]:
    if config.finish is None:
        yield "no [finish] given: neither finish nor paint behind the gaps is counted"
    elif not config.finish.coats:
        yield "no coats in [finish]: the wood stays bare"
    if any(part.kind in ("main beam", "half beam") for part in parts):
        yield "what holds new main beams and half beams is not counted"
    if layout.furring is not None and layout.furring.missed:
        yield f"furring is counted: the slats of {layout.coffers_named(layout.furring.missed)} run along the joists"
    yield from sheet_notes(config, layout)
    yield "work, tools, platform and what a licensed trade does are not counted"
