"""A report in a few rows, for a terminal or a table."""

from collections.abc import Mapping
from typing import Any

from lacunar.reports.rows import levels
from lacunar.units import FOOT


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
        ("distinct lengths", str(sum(setting["stop"] is not None for setting in plan["settings"]))),
        ("board length", _board_length(report)),
        ("waste", f"{100.0 * plan['waste']:.1f} %"),
    ]
    if plan["unserved"]:
        rows.append(("parts without a board", str(len(plan["unserved"]))))
    counts = levels(report["checks"])
    rows.append(("findings", ", ".join(f"{count} {level}" for level, count in counts.items() if count) or "none"))
    rows.append(("good for", report["good_for"]))
    return tuple(rows)


def _board_length(report: Mapping[str, Any]) -> str:
    total = sum(board["length"] for board in report["plan"]["boards"])
    return f"{total / FOOT:.0f} ft" if report["units"] == "in" else f"{total / 1000.0:.1f} m"
