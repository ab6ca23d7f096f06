"""What a job costs as plain JSON values: money in the config's currency, unrounded."""

from typing import Any

from lacunar.cost import ESTIMATE, Cost, Item, Load, SheetSize

Row = dict[str, Any]


def money_rows(cost: Cost) -> Row:
    """Sheets, fasteners and finish, line by line, and the money of the whole job."""
    return {
        "sheets": [_sheet_row(item, item.sheet) for item in cost.items if item.sheet is not None],
        "fasteners": [_item_row(item) for item in cost.items if item.group == "fasteners"],
        "finish": [_finish_row(item) for item in cost.items if item.group == "finish"],
        "money": _money_row(cost),
    }


def _item_row(item: Item) -> Row:
    return {
        "name": item.name,
        "what": item.what,
        "need": item.need,
        "unit": item.unit,
        "holds": item.holds,
        "count": item.count,
        "price": item.price,
        "total": item.total,
        "low": item.low,
        "high": item.high,
        "unsure": item.unsure,
    }


def _sheet_row(item: Item, size: SheetSize) -> Row:
    return {
        **_item_row(item),
        "length": size.length,
        "width": size.width,
        "mass": size.mass_kg,
        "on_hand": size.on_hand,
    }


def _finish_row(item: Item) -> Row:
    return {**_item_row(item), "m2_per_litre": item.coverage, "can_litres": item.can_litres}


def _money_row(cost: Cost) -> Row:
    return {
        "currency": cost.currency,
        "boards": cost.of("boards"),
        "sheets": cost.of("sheets"),
        "fasteners": cost.of("fasteners"),
        "finish": cost.of("finish"),
        "goods": cost.goods,
        "tax": cost.tax,
        "contingency": cost.contingency,
        "delivery": cost.delivery,
        "total": cost.total,
        "low": cost.low,
        "high": cost.high,
        "movers": [
            {"what": mover.what, "why": mover.why, "low": mover.low, "high": mover.high} for mover in cost.movers
        ],
        "is_complete": cost.is_complete,
        "has_price": cost.has_price,
        "lacking": list(cost.lacking),
        "ceiling_area": cost.ceiling_m2,
        "per_m2": cost.per_m2,
        "load": _load_row(cost.load),
        "notes": [ESTIMATE, *cost.notes],
    }


def _load_row(load: Load) -> Row:
    return {
        "boards": load.boards,
        "longest": load.longest,
        "sheets": [
            {"name": pile.name, "count": pile.count, "length": pile.length, "width": pile.width} for pile in load.sheets
        ],
        "too_long": load.too_long,
        "mass": load.mass_kg,
        "limit": load.limit_kg,
        "loads": load.loads,
        "unknown": load.unknown,
    }
