"""Boards: what the plan buys, and the range of the cull where nobody has given it."""

from lacunar.cost.packs import Supplies, priced
from lacunar.cost.practice import CULL_RANGE
from lacunar.cost.types import Item
from lacunar.plan import Buy, Plan, spares


def board_items(supplies: Supplies, plan: Plan, assumed_cull: float | None) -> tuple[Item, ...]:
    """One item for each line of the shopping list; boards on hand are not in it.

    Args:
        supplies: how lengths are told.
        plan: what is bought.
        assumed_cull: share that is not good enough, where nobody has given it.
    """
    return tuple(_item(supplies, line, assumed_cull) for line in plan.buy)


def _item(supplies: Supplies, line: Buy, assumed_cull: float | None) -> Item:
    count = line.count + line.spare
    counts, unsure = [count], ""
    if assumed_cull is not None:
        counts += [line.count + spares(line.count, cull) for cull in CULL_RANGE]
        unsure = f"shop.cull is not given: {assumed_cull:.0%} of the boards are taken as not good enough"
    return priced(
        Item,
        (count, min(counts), max(counts)),
        line.price,
        group="boards",
        name=line.stock,
        what=f"{line.species}, {supplies.tape.words(line.length)}",
        need=float(line.count),
        unit="piece",
        holds=1.0,
        unsure=unsure,
    )
