"""What to buy and what is proved of it, in a few lines for a terminal."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from lacunar.units import FOOT, INCH, format_length

Line = Mapping[str, Any]

WORTH = 2
"""Stops set so many times as often as there are stops: the other way is named. Common practice, no source."""

NAMED = 4
"""Parts that are named as a proof, at most; the report has them all."""


def buy_lines(report: Line) -> tuple[str, ...]:
    """A line for each length and kind of sheet to buy, and one for what is on hand."""
    return (*_bought(report), *_on_hand(report["plan"]))


def proof_lines(report: Line) -> tuple[str, ...]:
    """A line for each stock: what is proved of its boards and stops."""
    return tuple(_section(row) for row in report["plan"]["sections"])


def _bought(report: Line) -> Iterator[str]:
    plan = report["plan"]
    table = [_buy_cells(row, report) for row in plan["buy"]]
    table += [_sheet_cells(row, report) for row in plan["sheets"] if row["count"]]
    widths = [max(len(cell) for cell in column) for column in zip(*table, strict=True)]
    for cells in table:
        yield "  ".join(cell.ljust(width) for cell, width in zip(cells, widths, strict=True)).rstrip()


def _buy_cells(row: Line, report: Line) -> tuple[str, str, str, str]:
    spare = f" ({row['spare']} spare)" if row["spare"] else ""
    number = f"{row['count'] + row['spare']}{spare}"
    return f"{row['stock']} {row['species']}", _length(row["length"], report["units"]), number, _cost(row, report)


def _sheet_cells(row: Line, report: Line) -> tuple[str, str, str, str]:
    size = " x ".join(_length(row[side], report["units"]) for side in ("length", "width"))
    return row["name"], size, str(row["count"]), _cost(row, report)


def _cost(row: Line, report: Line) -> str:
    return "" if row["total"] is None else f"{report['plan']['money']['currency']} {row['total']:,.2f}"


def _length(mm: float, units: str) -> str:
    """As the yard says it."""
    if units == "mm":
        return format_length(mm, "mm", 1.0)
    feet = round(mm / FOOT)
    return f"{feet} ft" if abs(mm - feet * FOOT) < 1.0 else format_length(mm, "in", INCH / 16.0, "words")


def _on_hand(plan: Line) -> Iterator[str]:
    boards = sum(board["on_hand"] for board in plan["boards"])
    sheets = sum(row["on_hand"] for row in plan["sheets"])
    for there, what in ((boards, "boards"), (sheets, "sheets")):
        if there:
            yield f"{there} of the {what} {'is' if there == 1 else 'are'} on hand"


def _section(row: Line) -> str:
    clock = "; the search was ended by the clock" if row["by_clock"] else ""
    stops = f"{_stops(row)}, set {_times(row['placements'])}{_least(row)}{_by_stop(row)}"
    return f"{row['stock']} {row['species']}: {_proof(row)}; {stops}{clock}"


def _proof(row: Line) -> str:
    """How far the boards can be from the best there can be."""
    best, over = ("cheapest", "over the cheapest") if row["cost"] is not None else ("shortest", "over the shortest")
    if row["proven"]:
        return f"proved {best}"
    if row["gap"] is None:
        return "no bound"
    share = 100.0 * row["gap"]
    # Rounded up: what is printed must hold.
    return f"at most {-(-share * 10.0 // 1) / 10.0:.1f} % {over} there can be"


def _stops(row: Line) -> str:
    marks = f"{row['stops']} stop{'' if row['stops'] == 1 else 's'}"
    if row["apart"]:
        return f"{marks}, {row['apart']} pieces cut to measure"
    if not row["fewest"]:
        return marks
    fewer = "fewer" if row["stops"] == row["fewest"] else f"fewer than {row['fewest']}"
    return f"{marks} (no plan needs {fewer}{_witness(row['witness'])})"


def _witness(parts: Sequence[str]) -> str:
    """Why: parts whose intervals share no mark."""
    if len(parts) < 2:
        return ""
    named = [*parts[:NAMED], f"{len(parts) - NAMED} more"] if len(parts) > NAMED else list(parts)
    return f": {', '.join(named[:-1])} and {named[-1]} share no mark"


def _least(row: Line) -> str:
    return "" if row["placements"] == row["least_placements"] else f" (at least {row['least_placements']})"


def _by_stop(row: Line) -> str:
    """The other way to work, where it sets far fewer stops: it picks boards up more often instead."""
    once = row["stops"] + row["apart"]
    if row["placements"] < WORTH * once:
        return ""
    pulls, more = row["pulls"], row["pulls_by_stop"]
    return f"; stop by stop only {once} times, boards picked up {more} times instead of {pulls}"


def _times(n: int) -> str:
    return {1: "once", 2: "twice"}.get(n, f"{n} times")
