"""What is known and proved of the boards of one stock and species."""

import math
from collections.abc import Sequence

from lacunar.config import Config
from lacunar.plan.grid import Grid
from lacunar.plan.groups import Group
from lacunar.plan.lumber import CENTS
from lacunar.plan.turns import least_placements
from lacunar.plan.types import Board, Section, Setting, Turn


def make_section(
    group: Group,
    settings: Sequence[Setting],
    turns: Sequence[Turn],
    boards: Sequence[Board],
    grid: Grid,
    config: Config,
) -> Section:
    """Cost, bound and stops of a group.

    Args:
        group: as planned.
        settings: of all groups.
        turns: of all groups.
        boards: of all groups.
        grid: ticks.
        config: the saw stand.
    """
    plan = group.plan
    unit = 1.0 / CENTS if plan.lumber.priced else grid.tick
    cost, bound = plan.cost * unit, plan.bound * unit
    numbers = {board.turn for board in boards if (board.stock, board.species) == (group.stock, group.species)}
    mine = [turn for turn in turns if turn.number in numbers]
    stops = [s for s in settings if s.stop is not None and (s.stock, s.species) == (group.stock, group.species)]
    pairs = [piece for piece in plan.pieces if len(piece.parts) == 2]
    return Section(
        stock=group.stock,
        species=group.species,
        cost=cost if plan.lumber.priced else None,
        lower_bound=bound if plan.lumber.priced else None,
        gap=gap_of(cost, bound),
        proven=plan.cost == plan.bound,
        stops=sum(not stop.apart for stop in stops),
        apart=sum(len(stop.parts) for stop in stops if stop.apart),
        fewest=plan.fewest,
        witness=plan.witness,
        placements=sum(len(turn.placed) for turn in mine),
        pulls=len(mine),
        pulls_by_stop=sum(len(turn.stops) for turn in mine),
        least_placements=least_placements([turn.stops for turn in mine], config.shop.flip_stops),
        saved=math.fsum(grid.mm(min(plan.lengths[part.id] for part in piece.parts)) for piece in pairs),
        proofs=plan.proofs,
        by_clock=plan.solution is not None and plan.solution.by_clock,
    )


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
