"""Boards, stops, lengths, rips and the order at the saw: whole numbers in and out, no config and no parts."""

from lacunar.plan.cutting.boards import BoardSolution, afford_boards, forget, solve_boards
from lacunar.plan.cutting.budget import Effort
from lacunar.plan.cutting.certificate import Certificate, check_certificate
from lacunar.plan.cutting.cheap_stops import Rate, cheapest_lengths, rate_of
from lacunar.plan.cutting.lengths import LengthChoice, choose_lengths, lengths_by, spans_inside
from lacunar.plan.cutting.matching import Nested, nested_pairs
from lacunar.plan.cutting.order import SawTurn, order_boards
from lacunar.plan.cutting.problem import BoardProblem, Demand, Pattern, ShortageError, Stock
from lacunar.plan.cutting.rips import Rip, RipPairs, RipSaw, pair_rips
from lacunar.plan.cutting.shortage import Worth, worth_of
from lacunar.plan.cutting.stops import FewestStops, Span, best_stops, fewest_stops, inward

__all__ = [
    "BoardProblem",
    "BoardSolution",
    "Certificate",
    "Demand",
    "Effort",
    "FewestStops",
    "LengthChoice",
    "Nested",
    "Pattern",
    "Rate",
    "Rip",
    "RipPairs",
    "RipSaw",
    "SawTurn",
    "ShortageError",
    "Span",
    "Stock",
    "Worth",
    "afford_boards",
    "best_stops",
    "cheapest_lengths",
    "check_certificate",
    "choose_lengths",
    "fewest_stops",
    "forget",
    "inward",
    "lengths_by",
    "nested_pairs",
    "order_boards",
    "pair_rips",
    "rate_of",
    "solve_boards",
    "spans_inside",
    "worth_of",
]
