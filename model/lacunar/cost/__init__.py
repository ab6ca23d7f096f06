"""What the whole job costs: boards, sheets, fasteners, finish, tax, delivery; its range, and what has no price."""

from lacunar.cost.make import make_cost
from lacunar.cost.money import ESTIMATE, money_text
from lacunar.cost.shares import part_prices
from lacunar.cost.types import Cost, FinishItem, Group, Item, Load, Mover, SheetItem, SheetLoad

__all__ = [
    "ESTIMATE",
    "Cost",
    "FinishItem",
    "Group",
    "Item",
    "Load",
    "Mover",
    "SheetItem",
    "SheetLoad",
    "make_cost",
    "money_text",
    "part_prices",
]
