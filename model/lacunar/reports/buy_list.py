"""buy-list.csv: the boards and sheets to bring home, and those that are there already."""

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final

from lacunar.config import Config
from lacunar.cost import Cost, Item, SheetSize
from lacunar.drawings import tape_text
from lacunar.plan import Plan
from lacunar.reports.csv_text import csv_text

COLUMNS: Final = ("stock", "species", "length_mm", "length", "count", "spare", "to_buy", "price", "total", "notes")
NO_PRICE: Final = "no price given"


def buy_rows(plan: Plan, cost: Cost, config: Config) -> tuple[tuple[str, ...], ...]:
    """One row of `COLUMNS` for each length to buy, then for each that is used from what is on hand, then the total.

    Sheets stand after the boards, with their width and what they are for in the notes.

    `count` is cut, `spare` is for the boards that are not good enough; `to_buy` is both. There is no total where a
    price is missing.
    """
    sheets = [(item, item.sheet) for item in cost.items if item.sheet is not None]
    return (
        *_bought(plan, config),
        *(_sheet_row(item, size, config) for item, size in sheets if item.count),
        *_on_hand(plan, config),
        *(_sheet_on_hand(item, size, config) for item, size in sheets if size.on_hand),
        *_total(plan, [item for item, _ in sheets if item.count], config),
    )


def buy_text(plan: Plan, cost: Cost, config: Config) -> str:
    """The list as CSV, with a line of column names."""
    return csv_text(COLUMNS, buy_rows(plan, cost, config))


def write_buy_list(plan: Plan, cost: Cost, config: Config, path: Path) -> None:
    """Write buy-list.csv.

    Raises:
        OSError: it cannot be written.
    """
    path.write_text(buy_text(plan, cost, config), encoding="utf-8", newline="\n")


def _bought(plan: Plan, config: Config) -> Iterator[tuple[str, ...]]:
    for line in plan.buy:
        yield (
            line.stock,
            line.species,
            f"{line.length:.2f}",
            tape_text(line.length, config),
            str(line.count),
            str(line.spare),
            str(line.count + line.spare),
            *_money(line.price, line.total),
            "" if line.price is not None else NO_PRICE,
        )


def _money(price: float | None, total: float | None) -> tuple[str, str]:
    return "" if price is None else f"{price:.2f}", "" if total is None else f"{total:.2f}"


def _sheet_row(item: Item, size: SheetSize, config: Config) -> tuple[str, ...]:
    notes = [_sheet_notes(size, config), item.unsure, NO_PRICE if item.price is None else ""]
    row = (item.name, "", f"{size.length:.2f}", tape_text(size.length, config))
    counts = (str(item.count), "0", str(item.count))
    return (*row, *counts, *_money(item.price, item.total), "; ".join(note for note in notes if note))


def _sheet_on_hand(item: Item, size: SheetSize, config: Config) -> tuple[str, ...]:
    row = (item.name, "", f"{size.length:.2f}", tape_text(size.length, config), str(size.on_hand))
    return (*row, "0", "0", "0.00", "0.00", f"on hand; {_sheet_notes(size, config)}")


def _sheet_notes(size: SheetSize, config: Config) -> str:
    """How wide, and what for."""
    return ", ".join(text for text in (f"{tape_text(size.width, config)} wide", size.use) if text)


def _on_hand(plan: Plan, config: Config) -> Iterator[tuple[str, ...]]:
    there = Counter((board.stock, board.species, board.length) for board in plan.boards if board.on_hand)
    for (stock, species, length), n in there.items():
        row = (stock, species, f"{length:.2f}", tape_text(length, config), str(n))
        yield (*row, "0", "0", "0.00", "0.00", "on hand")


def _total(plan: Plan, sheets: Sequence[Item], config: Config) -> Iterator[tuple[str, ...]]:
    bought = (*plan.buy, *sheets)
    totals = [line.total for line in bought if line.total is not None]
    if totals and len(totals) == len(bought):
        counts = (sum(line.count for line in bought), sum(line.spare for line in plan.buy))
        note = f"{config.currency}, before tax and delivery"
        numbers = (*(str(n) for n in counts), str(sum(counts)))
        yield ("total", "", "", "", *numbers, "", f"{math.fsum(totals):.2f}", note)
