"""What the whole job costs: boards, sheets, fasteners, finish, tax, delivery; its range, and what has no price."""

from lacunar.cost.make import make_cost
from lacunar.cost.money import ESTIMATE, money_text
from lacunar.cost.types import Cost, Item, Load, SheetLoad, SheetSize

__all__ = [
    "ESTIMATE",
    "Cost",
    "Item",
    "Load",
    "SheetLoad",
    "SheetSize",
    "make_cost",
    "money_text",
]
