"""How the parts are cut: lengths, boards, what to buy, and the saw's settings."""

from lacunar.plan.code import plan_code
from lacunar.plan.cutting import forget
from lacunar.plan.flips import REACH, Flip, find_flips
from lacunar.plan.left import bought_boards, left_of, paid_for_boards, took
from lacunar.plan.make import make_plan
from lacunar.plan.margin import wished_margins
from lacunar.plan.pile import Dealing, Dealt, Piece, deal_pile
from lacunar.plan.pile_file import read_pile
from lacunar.plan.settings import MITRE, opening
from lacunar.plan.spares import spares
from lacunar.plan.sticks import mark_of
from lacunar.plan.stock import stock_width
from lacunar.plan.types import Board, Buy, Cut, Plan, Section, Setting, StopChoice, Turn, Unserved

__all__ = [
    "MITRE",
    "REACH",
    "Board",
    "Buy",
    "Cut",
    "Dealing",
    "Dealt",
    "Flip",
    "Piece",
    "Plan",
    "Section",
    "Setting",
    "StopChoice",
    "Turn",
    "Unserved",
    "bought_boards",
    "deal_pile",
    "find_flips",
    "forget",
    "left_of",
    "make_plan",
    "mark_of",
    "opening",
    "paid_for_boards",
    "plan_code",
    "read_pile",
    "spares",
    "stock_width",
    "took",
    "wished_margins",
]
