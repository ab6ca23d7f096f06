"""buy-list.csv: the boards to bring home, and those that are there already."""

import math
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from lacunar.config import Config
from lacunar.drawings import tape_text
from lacunar.plan import Plan
from lacunar.reports.csv_text import csv_text

COLUMNS: Final = ("stock", "species", "length_mm", "length", "count", "spare", "to_buy", "price", "total", "notes")


def buy_rows(plan: Plan, config: Config) -> tuple[tuple[str, ...], ...]:
    """One row of `COLUMNS` for each length to buy, then for each that is used from what is on hand, then the total.

    `count` is cut, `spare` is for the boards that are not good enough; `to_buy` is both. There is no total where a
    price is missing.
    """
    return (*_bought(plan, config), *_on_hand(plan, config), *_total(plan, config))


def buy_text(plan: Plan, config: Config) -> str:
    """The list as CSV, with a line of column names."""
    return csv_text(COLUMNS, buy_rows(plan, config))


def write_buy_list(plan: Plan, config: Config, path: Path) -> None:
    """Write buy-list.csv.

    Raises:
        OSError: it cannot be written.
    """
    path.write_text(buy_text(plan, config), encoding="utf-8", newline="\n")


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
            "" if line.price is None else f"{line.price:.2f}",
            "" if line.total is None else f"{line.total:.2f}",
            "" if line.price is not None else "no price given",
        )


def _on_hand(plan: Plan, config: Config) -> Iterator[tuple[str, ...]]:
    there = Counter((board.stock, board.species, board.length) for board in plan.boards if board.on_hand)
    for (stock, species, length), n in there.items():
        row = (stock, species, f"{length:.2f}", tape_text(length, config), str(n))
        yield (*row, "0", "0", "0.00", "0.00", "on hand")


def _total(plan: Plan, config: Config) -> Iterator[tuple[str, ...]]:
    totals = [line.total for line in plan.buy if line.total is not None]
    if totals and len(totals) == len(plan.buy):
        counts = (sum(line.count for line in plan.buy), sum(line.spare for line in plan.buy))
        note = f"{config.currency}, before tax and delivery"
        numbers = (*(str(n) for n in counts), str(sum(counts)))
        yield ("total", "", "", "", *numbers, "", f"{math.fsum(totals):.2f}", note)
