"""What the whole job costs: boards, fasteners, finish, tax, delivery; with a range, and what no price is known of."""

from lacunar.cost.make import make_cost
from lacunar.cost.types import Cost, Group, Item, Load, Mover, Unit
from lacunar.cost.words import ESTIMATE, money_text

__all__ = ["ESTIMATE", "Cost", "Group", "Item", "Load", "Mover", "Unit", "make_cost", "money_text"]
