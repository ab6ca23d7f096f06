"""The tick list: a row for every piece, to be marked where it is cut, up or spoilt."""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path

from lacunar.config import Config, Done, did_you_mean, read_table
from lacunar.done.ask import Ask
from lacunar.errors import ConfigError, Problem
from lacunar.files import TABLE_ENCODING, TABLE_LARGEST, read_plain, table_text
from lacunar.parts import Part
from lacunar.plan import Plan, plan_code

TICK_COLUMNS = ("part", "kind", "coffer", "board", "length", "cut", "up", "spoilt", "plan")

NEEDED = ("part", "cut", "up", "spoilt")

TICK = "x"

MOST_SPOILT = 100
"""Pieces of one part; who spoils more has mistyped. Own judgement."""


def tick_text(parts: Sequence[Part], plan: Plan, config: Config) -> str:
    """CSV of all that is cut, in the order in which it goes up; what is done has its tick already."""
    code = plan_code(parts, plan)
    return table_text(TICK_COLUMNS, ((*cells, code) for cells in tick_rows(parts, plan, config)))


def tick_rows(parts: Sequence[Part], plan: Plan, config: Config) -> Iterator[tuple[str, ...]]:
    """The cells of its rows, all but the plan's code."""
    boards = {cut.part: board.id for board in plan.boards for cut in board.cuts}
    stops = {part: one.stop for one in plan.settings if one.stop is not None for part in one.parts}
    good, spoilt = config.done.cut, _spoilt(config.done)
    for part in (part for part in parts if part.bought):
        piece = good.get(part.id)
        ticks = (piece is not None, piece is not None and piece.is_up)
        times = spoilt[part.id]
        length = config.tape.cut_text(stops.get(part.id, part.length), "inches")
        ticked = (*(TICK if tick else "" for tick in ticks), {0: "", 1: TICK}.get(times, f"{times}"))
        yield part.id, part.kind, part.coffer or "", boards.get(part.id, ""), length, *ticked


def is_tick_list(path: Path) -> bool:
    """Whether a file is a tick list and no sheet of measures, by its first line."""
    try:
        first, _, _ = read_plain(path, TABLE_LARGEST).decode(TABLE_ENCODING, errors="replace").partition("\n")
    except OSError:
        return False
    return {*NEEDED} <= {cell.strip().lower() for cell in re.split("[,;]", first)}


def read_ticks(path: Path, parts: Sequence[Part], done: Done) -> Ask:
    """What a filled-in tick list says that is not written down yet. An empty cell says nothing.

    Raises:
        ConfigError: with every row of a part that there is not, and every cell that is no tick.
    """
    problems: list[Problem] = []
    found: dict[str, dict[str, None]] = {"cut": {}, "up": {}, "spoilt": {}}
    known = {part.id: part for part in parts if part.bought}
    good, spoilt, again = done.cut, _spoilt(done), False
    for line, row in read_table(path, TICK_COLUMNS, NEEDED):
        part, where = row["part"].strip(), f"{path.name}:{line}"
        if part not in known:
            problems.append(Problem(where=where, what=f'there is no part "{part}"', fix=did_you_mean(part, known)))
            continue
        times = {column: _times(row.get(column, ""), f"{where} {column}", problems) for column in found}
        piece = good.get(part)
        if times["cut"] and piece is None:
            found["cut"][part] = None
        if times["up"] and (piece is None or not piece.is_up):
            found["up"][part] = None
        if times["spoilt"] > spoilt[part]:
            found["spoilt"][part] = None
            again |= times["spoilt"] > spoilt[part] + 1
    if problems:
        raise ConfigError(problems)
    return Ask(cut=found["cut"], up=found["up"], spoilt=found["spoilt"], again=again)


def _spoilt(done: Done) -> Counter[str]:
    return Counter(piece.part for piece in done.spoilt)


def _times(cell: str, where: str, problems: list[Problem]) -> int:
    """How often: a tick is once."""
    text = cell.strip().lower()
    if text in ("", "-", "0", "no"):
        return 0
    if text in (TICK, "✓", "yes", "y"):
        return 1
    if text.isascii() and text.isdigit() and 1 <= int(text) <= MOST_SPOILT:
        return int(text)
    problems.append(Problem(where=where, what=f'got "{cell.strip()}", must be {TICK}, a number of times, or empty'))
    return 0
