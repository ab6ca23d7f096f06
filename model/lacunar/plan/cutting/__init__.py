"""Boards, stops, lengths, rips and the order at the saw: whole numbers in and out, no config and no parts."""

from lacunar.plan.cutting.boards import BoardSolution, afford_boards, solve_boards
from lacunar.plan.cutting.budget import Effort
from lacunar.plan.cutting.certificate import Certificate, check_certificate
from lacunar.plan.cutting.gaps import CommonGap, Spacing, common_gap
from lacunar.plan.cutting.lengths import LengthChoice, Timber, choose_lengths
from lacunar.plan.cutting.matching import Nested, nested_pairs
from lacunar.plan.cutting.order import SawOrder, Turn, order_boards
from lacunar.plan.cutting.problem import BoardProblem, Demand, Pattern, ShortageError, Stock
from lacunar.plan.cutting.rips import Blank, Rip, RipPlan, RipSaw, pair_rips
from lacunar.plan.cutting.shortage import Worth, worth_of
from lacunar.plan.cutting.stops import BestStops, FewestStops, Span, best_stops, fewest_stops

__all__ = [
    "BestStops",
    "Blank",
    "BoardProblem",
    "BoardSolution",
    "Certificate",
    "CommonGap",
    "Demand",
    "Effort",
    "FewestStops",
    "LengthChoice",
    "Nested",
    "Pattern",
    "Rip",
    "RipPlan",
    "RipSaw",
    "SawOrder",
    "ShortageError",
    "Spacing",
    "Span",
    "Stock",
    "Timber",
    "Turn",
    "Worth",
    "afford_boards",
    "best_stops",
    "check_certificate",
    "choose_lengths",
    "common_gap",
    "fewest_stops",
    "nested_pairs",
    "order_boards",
    "pair_rips",
    "solve_boards",
    "worth_of",
]
