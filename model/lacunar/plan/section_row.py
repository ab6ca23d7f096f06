"""What is known and proved of the boards of one stock and species."""

import math
from collections.abc import Sequence

from lacunar.plan.cutting.order import fewest_placements
from lacunar.plan.groups import Group, buy_lines
from lacunar.plan.lumber import CENTS
from lacunar.plan.saw import Saw
from lacunar.plan.types import Board, Section, Setting, Turn


def make_section(
    group: Group, settings: Sequence[Setting], turns: Sequence[Turn], boards: Sequence[Board], saw: Saw
) -> Section:
    """Cost, bound and stops of a group, out of the settings, turns and boards of all groups."""
    plan = group.plan
    priced = plan.stocks.priced
    unit = 1.0 / CENTS if priced else saw.tick
    # What is paid already is paid in every plan that goes on from here.
    paid = 0.0 if group.to_buy is None or not priced else plan.cost * unit - paid_for(group)
    cost, bound = plan.cost * unit - paid, max(plan.bound * unit - paid, 0.0)
    numbers = {board.turn for board in boards if (board.stock, board.species) == (group.stock, group.species)}
    mine = [turn for turn in turns if turn.number in numbers]
    stops = [s for s in settings if s.stop is not None and (s.stock, s.species) == (group.stock, group.species)]
    pairs = [piece for piece in plan.pieces if len(piece.sticks) == 2]
    return Section(
        stock=group.stock,
        species=group.species,
        cost=cost if priced else None,
        lower_bound=bound if priced else None,
        gap=gap_of(cost, bound),
        proven=plan.cost == plan.bound,
        stops=sum(not stop.apart for stop in stops),
        apart=sum(len(stop.parts) for stop in stops if stop.apart),
        fewest=len(plan.witness),
        witness=plan.witness,
        placements=sum(len(turn.placed) for turn in mine),
        pulls=len(mine),
        pulls_by_stop=sum(len(turn.stops) for turn in mine),
        least_placements=fewest_placements([frozenset(turn.stops) for turn in mine], saw.shop.flip_stops),
        saved=math.fsum(saw.mm(min(plan.lengths[stick.id] for stick in piece.sticks)) for piece in pairs),
        margin_cost=plan.margin_cost * unit,
        proofs=plan.proofs,
        by_clock=plan.solution is not None and plan.solution.by_clock,
    )


def paid_for(group: Group) -> float:
    """What the boards of a group that are still to buy cost."""
    return math.fsum(line.total or 0.0 for line in buy_lines(group, 0.0))


def gap_of(cost: float | None, bound: float | None) -> float | None:
    """(cost - bound) / bound; 0 where both are, None where it cannot be told."""
    if cost is None or bound is None:
        return None
    if bound == 0.0:
        return 0.0 if cost == 0.0 else None
    return (cost - bound) / bound


def largest_gap(gaps: Sequence[float | None]) -> float | None:
    """Of several; None where one of them is unknown."""
    return None if None in gaps else max((gap or 0.0 for gap in gaps), default=0.0)
