"""A pile of cut pieces as a spreadsheet: columns stock, length, width (where ripped) and count."""

import csv
import io
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from lacunar.config import Config, used_stock
from lacunar.errors import ConfigError, Problem
from lacunar.files import TABLE_LARGEST, read_plain
from lacunar.plan.pile import Piece
from lacunar.units import UnitError, Units, read_length

Value = TypeVar("Value")

COLUMNS = ("stock", "length", "width", "count")
NEEDED = ("stock", "length")
MOST_PIECES = 2000
"""Of a whole pile: more is a typing mistake, and dealing it would take minutes. Source: common practice, no source."""


def read_pile(path: Path, config: Config) -> tuple[Piece, ...]:
    """Every piece of a pile, line by line; a count of 3 makes three.

    Bare numbers are in the config's units; an empty width is the stock's, an empty count is 1.

    Raises:
        ConfigError: the file cannot be read, or cells are wrong; all of them.
    """
    lines = _lines(path)
    columns = [cell.strip().lower() for cell in (lines[0][1] if lines else ())]
    unknown = [name for name in columns if name not in COLUMNS]
    missing = [name for name in NEEDED if name not in columns]
    if unknown or missing:
        what = f'unknown column "{unknown[0]}"' if unknown else f"no column {' and '.join(missing)}"
        raise ConfigError([Problem(where=f"{path.name}:1", what=f"{what}, the first line must be {','.join(COLUMNS)}")])
    problems: list[Problem] = []
    pieces: list[Piece] = []
    cells = _Cells(stocks=used_stock(config), units=config.units, width=config.slats.width)
    for number, line in lines[1:]:
        if any(cell.strip() for cell in line):
            pieces += _pieces(f"{path.name}:{number}", number, _named(columns, line), cells, problems)
    if len(pieces) > MOST_PIECES:
        what = f"has {len(pieces)} pieces, must have {MOST_PIECES} or fewer"
        problems.append(Problem(where=path.name, what=what, fix="look at its counts"))
    if problems:
        raise ConfigError(problems)
    return tuple(pieces)


def _lines(path: Path) -> list[tuple[int, list[str]]]:
    fix = f"columns: {','.join(COLUMNS)}"
    try:
        text = read_plain(path, TABLE_LARGEST).decode("utf-8-sig")
        header, _, _ = text.partition("\n")
        comma = ";" if header.count(";") > header.count(",") else ","
        reader = csv.reader(io.StringIO(text), delimiter=comma, skipinitialspace=True)
        return [(reader.line_num, cells) for cells in reader]
    except FileNotFoundError:
        raise ConfigError([Problem(where=str(path), what="there is no such file", fix=fix)]) from None
    except UnicodeDecodeError:
        raise ConfigError([Problem(where=path.name, what="is not UTF-8 text", fix=fix)]) from None
    except OSError as error:
        raise ConfigError([Problem(where=str(path), what=f"cannot be read: {error.strerror or error}")]) from None
    except csv.Error as error:
        raise ConfigError([Problem(where=path.name, what=f"cannot be read as a table: {error}", fix=fix)]) from None


def _named(columns: Sequence[str], cells: Sequence[str]) -> dict[str, str]:
    """Cells by column; those beyond the last column under their number, so that they are missed by nobody."""
    named = {str(i): cell.strip() for i, cell in enumerate(cells) if i >= len(columns) and cell.strip()}
    return {**dict(zip(columns, (cell.strip() for cell in cells), strict=False)), **named}


def _pieces(where: str, line: int, row: dict[str, str], cells: "_Cells", problems: list[Problem]) -> list[Piece]:
    """The pieces of one line; none where a cell is wrong, which is told."""
    before = len(problems)
    if any(name.isdigit() for name in row):
        problems.append(Problem(where=where, what="more cells than columns", fix="a number has a point, not a comma"))
    stock = _cell(row.get("stock", ""), where, "stock", cells.stock, problems)
    length = _cell(row.get("length", ""), where, "length", cells.length, problems)
    width = None
    if row.get("width"):
        width = _cell(row["width"], where, "width", cells.wide, problems)
    count = _cell(row.get("count") or "1", where, "count", _count, problems)
    if len(problems) > before or stock is None or length is None or count is None:
        return []
    return [Piece(line=line, stock=stock, length=length, width=width)] * count


def _cell(text: str, where: str, column: str, read: Callable[[str], Value], problems: list[Problem]) -> Value | None:
    try:
        return read(text)
    except UnitError as error:
        problems.append(Problem(where=f"{where} {column}", what=str(error)))
        return None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cells:
    """What cells are read by: stocks that are used, units of bare numbers, width of the slats' stock."""

    stocks: tuple[str, ...]
    units: Units
    width: float

    def stock(self, text: str) -> str:
        if text not in self.stocks:
            raise UnitError(f'got "{text}", must be one that is used here: {", ".join(self.stocks)}')
        return text

    def length(self, text: str) -> float:
        length = read_length(text, self.units)
        if length <= 0.0:
            raise UnitError(f'got "{text}", must be more than 0')
        return length

    def wide(self, text: str) -> float:
        width = self.length(text)
        if width > self.width * 1.1:
            raise UnitError(f'got "{text}", wider than the slats\' stock')
        return width


def _count(text: str) -> int:
    if not text.isascii() or not text.isdigit() or not 1 <= int(text[:9]) <= MOST_PIECES:
        raise UnitError(f'got "{text}", must be a whole number from 1 to {MOST_PIECES}')
    return int(text)
