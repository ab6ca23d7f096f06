"""How the parts are cut: lengths, boards, what to buy, and the saw's settings."""

from lacunar.plan.make import make_plan
from lacunar.plan.pile import Dealing, Dealt, Piece, deal_pile
from lacunar.plan.pile_file import read_pile
from lacunar.plan.settings import opening
from lacunar.plan.stock import fine_mark
from lacunar.plan.types import Board, Buy, Cut, Plan, Setting, Unserved

__all__ = [
    "Board",
    "Buy",
    "Cut",
    "Dealing",
    "Dealt",
    "Piece",
    "Plan",
    "Setting",
    "Unserved",
    "deal_pile",
    "fine_mark",
    "make_plan",
    "opening",
    "read_pile",
]
