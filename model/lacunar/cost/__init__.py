"""What the whole job costs: boards, sheets, fasteners, finish, tax, delivery; its range, and what has no price."""

from lacunar.cost.make import make_cost
from lacunar.cost.money import ESTIMATE, money_text
from lacunar.cost.types import Cost, Group, Item, Load, Mover, SheetLoad, SheetSize, Unit

__all__ = [
    "ESTIMATE",
    "Cost",
    "Group",
    "Item",
    "Load",
    "Mover",
    "SheetLoad",
    "SheetSize",
    "Unit",
    "make_cost",
    "money_text",
]
