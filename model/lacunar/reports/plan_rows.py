"""The plan as plain JSON values. Lengths in mm, money in the config's currency, unrounded."""

from typing import Any

from lacunar.cost import Cost
from lacunar.plan import Board, Buy, Cut, Plan, Section, Setting
from lacunar.reports.money_rows import money_rows

Row = dict[str, Any]


def plan_row(plan: Plan, cost: Cost) -> Row:
    """Everything of a plan but its certificates, and what it costs; what later stages fill is empty."""
    return {
        "distinct_lengths": plan.distinct_lengths,
        "settings": [_setting_row(setting) for setting in plan.settings],
        "boards": [_board_row(board) for board in plan.boards],
        "turns": [
            {"number": t.number, "boards": list(t.boards), "stops": list(t.stops), "placed": list(t.placed)}
            for t in plan.turns
        ],
        "sections": [_section_row(section) for section in plan.sections],
        "buy": [_buy_row(line) for line in plan.buy],
        "unserved": [
            {"part": item.part, "stock": item.stock, "length": item.length, "reason": item.reason}
            for item in plan.unserved
        ],
        "slots": dict(plan.slots),
        "cost": plan.cost,
        "lower_bound": plan.lower_bound,
        "gap": plan.gap,
        "proven": plan.proven,
        "waste": plan.waste,
        **money_rows(cost),
        "hours": None,
    }


def _setting_row(setting: Setting) -> Row:
    return {
        "id": setting.id,
        "stock": setting.stock,
        "species": setting.species,
        "stop": setting.stop,
        "fence": setting.fence,
        "fence_end": setting.fence_end,
        "mitre": setting.mitre_deg,
        "apart": setting.apart,
        "parts": list(setting.parts),
    }


def _board_row(board: Board) -> Row:
    return {
        "id": board.id,
        "stock": board.stock,
        "species": board.species,
        "length": board.length,
        "price": board.price,
        "on_hand": board.on_hand,
        "cuts": [_cut_row(cut) for cut in board.cuts],
        "offcut": board.offcut,
        "keep": board.keep,
        "turn": board.turn,
    }


def _cut_row(cut: Cut) -> Row:
    return {
        "part": cut.part,
        "from": cut.start,
        "to": cut.end,
        "across": None if cut.across is None else list(cut.across),
        "across_end": None if cut.across_end is None else list(cut.across_end),
        "blank": None if cut.blank is None else list(cut.blank),
        "turned": cut.turned,
        "slants": list(cut.slants),
    }


def _section_row(section: Section) -> Row:
    return {
        "stock": section.stock,
        "species": section.species,
        "cost": section.cost,
        "lower_bound": section.lower_bound,
        "gap": section.gap,
        "proven": section.proven,
        "stops": section.stops,
        "apart": section.apart,
        "fewest": section.fewest,
        "witness": list(section.witness),
        "placements": section.placements,
        "least_placements": section.least_placements,
        "pulls": section.pulls,
        "pulls_by_stop": section.pulls_by_stop,
        "saved": section.saved,
        "by_clock": section.by_clock,
    }


def _buy_row(line: Buy) -> Row:
    return {
        "stock": line.stock,
        "species": line.species,
        "length": line.length,
        "count": line.count,
        "spare": line.spare,
        "price": line.price,
        "total": line.total,
    }
