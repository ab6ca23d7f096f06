"""A filled-in CSV, read with all its problems at once."""

import csv
import difflib
import io
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from lacunar.errors import ConfigError, Problem
from lacunar.field.above_slats import UNKNOWN
from lacunar.field.design import Design
from lacunar.field.room_rows import expected, target
from lacunar.field.sheet_row import STAGES, Row, shown
from lacunar.files import TABLE_ENCODING, TABLE_LARGEST, read_plain, unmarked
from lacunar.units import FOOT, INCH, UnitError, Units, read_length

COLUMNS: Final = ("row", "stage", "name", "design", "measured", "note")
NEEDED: Final = ("stage", "name", "measured")
NOT_YET: Final = ("", "-", "–", "—")
"""Left blank, or struck out."""


LIMITS: Mapping[str, float] = {
    "room": 6.0 * INCH,
    "openings": INCH / 2.0,
    "coffers": INCH / 2.0,
    "last": INCH / 2.0,
    "trim": INCH / 2.0,
}
"""mm. How far off the design a value may be before it is to be measured again. The room's shape is a guess before it is
measured, so its limit only catches a foot or a digit; wood is put up to the design within about 1/4 in. Own choice."""


def read_limit(text: str, units: Units) -> float | None:
    """How far off the design a value may be, as typed, mm; None where nothing is.

    Raises:
        ConfigError: it is no length, or not more than 0.
    """
    if not text.strip():
        return None
    try:
        limit = read_length(text, units)
    except UnitError as error:
        raise ConfigError([Problem(where="--limit", what=str(error))]) from None
    if limit <= 0.0:
        raise ConfigError([Problem(where="--limit", what=f'got "{text}", must be more than 0')])
    return limit


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetLine:
    """One row of the file, its number in it, and what was written in `measured`."""

    number: int
    stage: str
    name: str
    measured: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected:
    """What is expected of a measure, mm, None where nobody knows; and how far off it may be."""

    mm: float | None
    limit: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Filled:
    """What was read.

    Attributes:
        values: mm, by stage and name.
        texts: the same as they were typed, by name.
        listed: every row of the file, by stage and name, with its line.
        blank: how many rows have no value yet.
    """

    values: Mapping[str, Mapping[str, float]]
    texts: Mapping[str, str]
    listed: Mapping[str, Mapping[str, int]]
    blank: int


def read_filled(path: Path, drawn: Design, limit: float | None) -> Filled:
    """Read a filled-in CSV.

    Args:
        path: of the file.
        drawn: whose sheets it was written for.
        limit: mm off the design that is still believed; by row or stage where None.

    Raises:
        ConfigError: with every problem: no such file, columns, units, unknown rows, duplicates, too far off.
    """
    rows = {(row.stage, row.name): row for stage in STAGES for row in drawn.rows[stage]}
    renamed = {(row.stage, row.formerly): row.name for row in rows.values() if row.formerly}
    lines = [replace(line, name=renamed.get((line.stage, line.name), line.name)) for line in _lines(path)]
    problems: list[Problem] = []
    values: dict[str, dict[str, float]] = {}
    texts: dict[str, str] = {}
    first: dict[tuple[str, str], SheetLine] = {}
    for line in lines:
        read = _read(path, line, drawn, rows, first, limit)
        if isinstance(read, Problem):
            problems.append(read)
        elif read is not None:
            values.setdefault(line.stage, {})[line.name] = read
            texts[line.name] = " ".join(line.measured.split())
        if line.measured not in NOT_YET:
            first.setdefault((line.stage, line.name), line)
    if problems:
        raise ConfigError(problems)
    numbers = {(line.stage, line.name): line.number for line in (*lines, *first.values())}
    listed = {stage: {name: at for (of, name), at in numbers.items() if of == stage} for stage in STAGES}
    return Filled(values=values, texts=texts, listed=listed, blank=sum(line.measured in NOT_YET for line in lines))


def _lines(path: Path) -> list[SheetLine]:
    """The rows of the file, whatever a spreadsheet made of its commas."""
    text = _text(path)
    head = text.partition("\n")[0]
    delimiter = max((",", ";", "\t"), key=head.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
    columns: list[str] = []
    found: list[SheetLine] = []
    try:
        for cells in reader:
            if not any(cell.strip() for cell in cells):
                continue
            if not columns:
                columns = _columns(path, cells)
                continue
            row = dict(zip(columns, (unmarked(cell.strip()) for cell in cells), strict=False))
            found.append(
                SheetLine(
                    number=reader.line_num,
                    stage=row.get("stage", "").lower(),
                    name=" ".join(row.get("name", "").split()),
                    measured=row.get("measured", ""),
                )
            )
    except csv.Error as error:
        raise ConfigError([Problem(where=f"{path.name}:{reader.line_num}", what=f"is no CSV: {error}")]) from error
    if not columns:
        raise ConfigError([Problem(where=path.name, what="is empty", fix="lacunar measure writes one to fill in")])
    return found


def _text(path: Path) -> str:
    try:
        data = read_plain(path, TABLE_LARGEST)
    except OSError as error:
        what = f"cannot be read: {error.strerror or error}"
        raise ConfigError([Problem(where=str(path), what=what, fix="give the CSV with --apply")]) from error
    try:
        return data.decode(TABLE_ENCODING)
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")  # what a spreadsheet writes where it is asked for plain CSV


def _columns(path: Path, cells: Sequence[str]) -> list[str]:
    names = [cell.strip().lower() for cell in cells]
    missing = [name for name in NEEDED if name not in names]
    if missing:
        what = f"has no column {', '.join(missing)}, must have {', '.join(COLUMNS)}"
        raise ConfigError([Problem(where=f"{path.name}:1", what=what, fix="keep the first line as it was written")])
    return names


Rows = Mapping[tuple[str, str], Row]
"""By stage and name."""


def _read(
    path: Path,
    line: SheetLine,
    drawn: Design,
    rows: Rows,
    first: Mapping[tuple[str, str], SheetLine],
    limit: float | None,
) -> Problem | float | None:
    """A line's value; None where it has none yet."""
    where = f"{path.name}:{line.number} {line.name}".rstrip()
    if line.stage not in STAGES:
        return Problem(where=where, what=f'stage: got "{line.stage}", must be of {", ".join(STAGES)}')
    found = _expected(drawn, rows, line, limit)
    if found is None:
        return Problem(where=where, what=_unknown(line, rows), fix=_nearest(line, rows))
    if line.measured in NOT_YET:
        return None
    before = first.get((line.stage, line.name))
    if before is not None:
        what = f'got "{line.measured}", and line {before.number} has "{before.measured}" for the same'
        return Problem(where=where, what=what, fix="keep one of them")
    return _value(where, line, drawn.config.units, found)


def _expected(drawn: Design, rows: Rows, line: SheetLine, limit: float | None) -> Expected | None:
    """Of a row, or of another distance of the room than today's sheet has: what is measured changes what else to."""
    usual = LIMITS[line.stage] if limit is None else limit
    row = rows.get((line.stage, line.name))
    if row is not None:
        own = row.limit if row.limit is not None and (limit is None or row.limit == UNKNOWN) else usual
        return Expected(mm=row.design, limit=own)
    found = target(drawn.sketch, line.name) if line.stage == "room" else None
    return None if found is None else Expected(mm=expected(drawn.sketch, found), limit=usual)


def _unknown(line: SheetLine, known: Rows) -> str:
    """Which coffer, piece or name there is none of."""
    rows = [row for row in known.values() if row.stage == line.stage]
    if not rows:
        return f"this ceiling has nothing to measure at stage {line.stage}"
    cards = list(dict.fromkeys(row.card for row in rows))
    card = _card(line)
    if line.stage == "room" or card in cards:
        return "no row of this sheet has that name"
    kind = "piece" if line.stage == "openings" else "coffer"
    return f"there is no {kind} {card or '(no name)'} to measure, there are {cards[0]} to {cards[-1]}"


def _card(line: SheetLine) -> str:
    """The coffer or piece that a row is about: "C5" of C5-T2 and of C5-S03 middle line, "X1-2" of X1-2 AB face top."""
    return re.split(" " if line.stage == "openings" else "[ -]", line.name, maxsplit=1)[0]


def _nearest(line: SheetLine, known: Rows) -> str:
    """The nearest name of the same coffer or piece; of the whole sheet in the room."""
    rows = [row for row in known.values() if row.stage == line.stage]
    names = [row.name for row in rows if line.stage == "room" or row.card == _card(line)]
    near = difflib.get_close_matches(line.name, names, n=1)
    return f"did you mean {near[0]}?" if near else ""


def _value(where: str, line: SheetLine, units: Units, design: Expected) -> Problem | float:
    try:
        mm = read_length(line.measured, units)
    except UnitError as error:
        return Problem(where=where, what=str(error))
    if mm <= 0.0:
        return Problem(where=where, what=f'got "{line.measured}", must be more than 0', fix="leave it blank if not yet")
    if design.mm is None or abs(mm - design.mm) <= design.limit:
        return mm
    off = mm - design.mm
    what = (
        f'got "{line.measured}" ({shown(mm, units)}), the design has {shown(design.mm, units)}: '
        f"{shown(abs(off), units)} too {'long' if off > 0.0 else 'short'}, must be within {shown(design.limit, units)}"
    )
    return Problem(where=where, what=what, fix=_guess(line.measured, units, mm, design.mm, design.limit))


def _guess(text: str, units: Units, mm: float, design: float, limit: float) -> str:
    """What may have been meant; in any case, to measure again."""
    again = "measure again; if it is so, give a wider --limit"
    other: Units = "mm" if units == "in" else "in"
    for unit in (other, "ft", "cm", "m"):
        try:
            meant = read_length(f"{text} {unit}", units)
        except UnitError:
            continue
        if abs(meant - design) <= limit:
            return f'write "{text} {unit}" if that is what was read; else measure again'
    for step, name in (
        ((FOOT, "a foot"), (INCH, "an inch")) if units == "in" else ((1000.0, "a metre"), (100.0, "10 cm"))
    ):
        if abs(abs(mm - design) - step) <= INCH / 8.0:
            return f"about {name} {'too much' if mm > design else 'missing'}? {again}"
    return again
