"""Boards: what the plan buys, and the range of the cull where nobody has given it."""

from lacunar.config import Config
from lacunar.cost.packs import money
from lacunar.cost.practice import CULL_RANGE
from lacunar.cost.types import Item
from lacunar.plan import Buy, Plan, spares
from lacunar.units import format_length


def board_items(config: Config, plan: Plan) -> tuple[Item, ...]:
    """One item for each line of the shopping list; boards on hand are not in it."""
    return tuple(_item(config, line) for line in plan.buy)


def _item(config: Config, line: Buy) -> Item:
    low = high = line.count + line.spare
    unsure = ""
    if not config.is_given("shop.cull"):
        least, most = (line.count + spares(line.count, cull) for cull in CULL_RANGE)
        low, high = min(low, least), max(high, most)
        unsure = f"shop.cull is not given: {config.shop.cull:.0%} of the boards are taken as not good enough"
    length = format_length(line.length, config.units, config.read_to, "words").removesuffix(" 0 in")
    return Item(
        group="boards",
        name=line.stock,
        what=f"{line.species}, {length}",
        need=float(line.count),
        unit="piece",
        holds=1.0,
        count=line.count + line.spare,
        price=line.price,
        total=line.total,
        low=money(low, line.price),
        high=money(high, line.price),
        unsure=unsure,
    )
