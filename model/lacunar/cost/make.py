"""The cost: every line, then tax, contingency and delivery."""

import math
from collections.abc import Iterator, Sequence

from lacunar.config import Config, Finish, ShopSheet
from lacunar.cost.boards import board_items
from lacunar.cost.fasteners import fastener_items
from lacunar.cost.finish import finish_items
from lacunar.cost.load import make_load, sections_of
from lacunar.cost.packs import Supplies
from lacunar.cost.sheets import sheet_items, sheet_notes
from lacunar.cost.surfaces import ceiling_surface, wall_surface
from lacunar.cost.types import Cost, Item, Mover
from lacunar.layout import Layout
from lacunar.parts import Part
from lacunar.plan import Plan
from lacunar.survey import Room


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
    shop = config.shop
    supplies = Supplies(tape=config.tape, spare=config.fasteners.spare, packs={pack.name: pack for pack in shop.pack})
    walls = wall_surface(room, config.window, config.door)
    items = (
        *board_items(supplies, plan, None if config.is_given("shop.cull") else shop.cull),
        *sheet_items(supplies, shop.sheet, room, layout),
        *fastener_items(supplies, config.fasteners, layout, parts),
        *(finish_items(supplies, config.finish, room, layout, parts, walls) if config.finish else ()),
    )
    goods = math.fsum(item.total or 0.0 for item in items)
    tax = goods * shop.tax
    contingency = (goods + tax) * shop.contingency
    total = goods + tax + contingency + shop.delivery
    movers = _movers(items, (1.0 + shop.tax) * (1.0 + shop.contingency))
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
        load=make_load(shop, sections_of(config), plan, items),
        notes=tuple(_notes(config.finish, shop.sheet, layout, parts)),
    )


def _movers(items: Sequence[Item], on_goods: float) -> tuple[Mover, ...]:
    """What is unsure and has a price, the widest first; all boards hang on one share for the cull.

    Args:
        items: all that is bought.
        on_goods: what one unit of goods costs with tax and contingency.
    """
    groups: dict[tuple[str, str], list[Item]] = {}
    for item in items:
        if item.unsure and item.price is not None:
            what = "boards" if item.group == "boards" else item.name
            groups.setdefault((what, item.unsure), []).append(item)
    found: list[Mover] = []
    for (what, why), group in groups.items():
        low = math.fsum((item.low or 0.0) - (item.total or 0.0) for item in group)
        high = math.fsum((item.high or 0.0) - (item.total or 0.0) for item in group)
        found.append(Mover(what=what, why=why, low=low * on_goods, high=high * on_goods))
    return tuple(sorted(found, key=lambda mover: mover.low - mover.high))


def _lacking(items: Sequence[Item], plan: Plan) -> tuple[str, ...]:
    names = [
        f"boards of {item.name}" if item.group == "boards" else item.name
        for item in items
        if item.price is None and item.count
    ]
    unserved = len(plan.unserved)
    parts = "1 part" if unserved == 1 else f"{unserved} parts"
    return (*dict.fromkeys(names), *([f"wood for {parts} that no board gives"] if unserved else []))


def _notes(finish: Finish | None, sheets: Sequence[ShopSheet], layout: Layout, parts: Sequence[Part]) -> Iterator[str]:
    if finish is None:
        yield "no [finish] given: neither finish nor paint behind the gaps is counted"
    elif not finish.coats:
        yield "no coats in [finish]: the wood stays bare"
    if any(part.kind in ("main beam", "half beam") for part in parts):
        yield "what holds new main beams and half beams is not counted"
    if layout.furring is not None and layout.furring.missed:
        yield f"furring is counted: the slats of {layout.coffers_named(layout.furring.missed)} run along the joists"
    yield from sheet_notes(sheets, layout)
    yield "work, tools, platform and what a licensed trade does are not counted"
