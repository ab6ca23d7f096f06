"""`lacunar compare --what-if`: what the likely second thoughts cost, each planned anew."""

from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

from lacunar_cli.progress import progress_bar
from lacunar_cli.sentences import names
from lacunar_cli.show import FAILED, GOOD
from lacunar_cli.terminal import say, say_json, say_row, wrapped

if TYPE_CHECKING:
    from lacunar.config import Config
    from lacunar.job import WhatIf

HEAD = ("cost", "boards", "length", "slats", "rips", "worst")
WIDTHS = (9, 8, 9, 5, 4, 5)
NAME_WIDTH = 34


def compare_what_if(room: Path, *, as_json: bool) -> int:
    """Print each variant beside the config as it is; 1 where that has a failing finding.

    Raises:
        ConfigError: a file that cannot be read.
    """
    from lacunar.config import read_config
    from lacunar.job import what_if

    config = read_config(room)
    with progress_bar() as progress:
        found = what_if(config, progress)
    if as_json:
        say_json(config, currency=config.currency, what_if=[_variant(one) for one in found])
    else:
        _table(config, found)
    return FAILED if found[0].worst == "fail" else GOOD


def _variant(one: "WhatIf") -> dict[str, object]:
    numbers = asdict(one)
    head = {"label": numbers.pop("label"), "set": dict(numbers.pop("overrides"))}
    error = numbers.pop("error")
    return {**head, "error": error} if error else {**head, **numbers}


def _table(config: "Config", found: Sequence["WhatIf"]) -> None:
    """The config as it is, then what each variant takes more or less."""
    say_row("", HEAD, NAME_WIDTH, WIDTHS)
    for one in found:
        if one.error:
            say(wrapped(f"{one.label}: not possible: {one.error}", "    "))
        else:
            say_row(one.label, _cells(config, one, is_first=one is found[0]), NAME_WIDTH, WIDTHS)
    say()
    for line in _notes(config, found):
        say(wrapped(line, ""))


def _notes(config: "Config", found: Sequence["WhatIf"]) -> list[str]:
    """What the numbers are, and what they lack."""
    from lacunar.cost import ESTIMATE
    from lacunar.reports import stop_lines

    lines = ["the first line is the room as its file has it; below, + is more and - is less than there"]
    left_out = [f"[{table}]" for table in ("field", "done") if config.is_given(table)]
    if left_out:
        lines.append(f"compared as designed, without what stands in {' and '.join(left_out)}")
    if any(one.cost is not None for one in found):
        lines.append(f"cost: {config.currency} for the whole job, {ESTIMATE}; boards: with spares, before tax")
    else:
        lines.append("cost: no prices given; length: of the boards to be cut, without spares")
    base = found[0]
    if base.lacking and base.cost is not None:
        lines.append(f"all costs lack {names(base.lacking)}")
    for one in found[1:]:
        new = [name for name in one.lacking if name not in base.lacking]
        if new and base.cost is not None:
            lines.append(f"{one.label}: ? because the cost lacks {names(new)}")
    return [*lines, *stop_lines(base.by_stops, config.currency, config.units)]


def _cells(config: "Config", one: "WhatIf", *, is_first: bool) -> tuple[str, ...]:
    sign = "" if is_first else "+"
    cost, boards = (one.cost, one.board_cost) if is_first else (one.more_cost, one.more_board_cost)
    length = one.board_length if is_first else one.more_board_length
    return (
        _money(cost, sign, is_priced=one.cost is not None),
        _money(boards, sign, is_priced=one.cost is not None),
        _length(config, length, sign),
        str(one.slats),
        str(one.ripped),
        one.worst,
    )


def _money(amount: float | None, sign: str, *, is_priced: bool) -> str:
    if amount is None:
        return "?" if is_priced else "-"
    return _signed(f"{amount:{sign},.0f}")


def _length(config: "Config", mm: float | None, sign: str) -> str:
    from lacunar.units import FOOT

    if mm is None:
        return "?"
    return _signed(f"{mm / FOOT:{sign},.0f} ft" if config.units == "in" else f"{mm / 1000.0:{sign},.1f} m")


def _signed(text: str) -> str:
    """No difference is none either way."""
    return "same" if text[0] in "+-" and not text.strip("+-0. ftm") else text
