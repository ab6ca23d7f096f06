"""A report in a few rows, for a terminal or a table."""

from collections.abc import Mapping, Sequence
from typing import Any

from lacunar.cost import ESTIMATE, money_text
from lacunar.reports.rows import levels
from lacunar.units import FOOT

MOST_LETTERS = 44
"""Of names in one row: what a line of 80 columns leaves."""


def summary(report: Mapping[str, Any]) -> tuple[tuple[str, str], ...]:
    """What to say first of a ceiling: rows of a word and its value.

    Distinct lengths are stops of the saw; waste is the share of bought board length that ends in no part.
    """
    slats = [part for part in report["parts"] if part["kind"] == "slat"]
    ripped = sum(part["ripped"] for part in slats)
    plan = report["plan"]
    rows = [
        ("coffers", str(len(report["coffers"]))),
        ("full slats", str(len(slats) - ripped)),
        ("ripped slats", str(ripped)),
        ("distinct lengths", str(plan["distinct_lengths"])),
        ("board length", _board_length(report)),
        ("waste", f"{100.0 * plan['waste']:.1f} %"),
    ]
    rows += _money(report)
    if plan["unserved"]:
        rows.append(("parts without a board", str(len(plan["unserved"]))))
    counts = levels(report["checks"])
    rows.append(("findings", ", ".join(f"{count} {level}" for level, count in counts.items() if count) or "none"))
    rows.append(("good for", report["good_for"]))
    return tuple(rows)


def _money(report: Mapping[str, Any]) -> list[tuple[str, str]]:
    """The whole cost, for each unit of area, its range, and what it lacks."""
    money = report["plan"]["money"]
    if not money["has_price"]:
        return [("cost", "no prices given ([[shop.board]], [[shop.pack]])")]
    total, low, high = (money_text(money[key], money["currency"]) for key in ("total", "low", "high"))
    area = (FOOT / 1000.0) ** 2 if report["units"] == "in" else 1.0
    each = "cost per sq ft" if report["units"] == "in" else "cost per m2"
    rows = [("cost", f"{total}, {ESTIMATE}"), (each, money_text(money["per_m2"] * area, money["currency"]))]
    if money["movers"]:
        rows.append(("cost range", f"{low} to {high}"))
    if money["lacking"]:
        rows.append(("cost lacks", _listed(money["lacking"])))
    return rows


def _listed(names: Sequence[str]) -> str:
    """Names on one line of a terminal, as many as fit it."""
    shown = names[0]
    for number, name in enumerate(names[1:], 2):
        if len(shown) + len(name) > MOST_LETTERS:
            return f"{shown} and {len(names) - number + 1} more"
        shown += f", {name}"
    return shown


def _board_length(report: Mapping[str, Any]) -> str:
    total = sum(board["length"] for board in report["plan"]["boards"])
    return f"{total / FOOT:.0f} ft" if report["units"] == "in" else f"{total / 1000.0:.1f} m"
