"""A pile of cut pieces as a spreadsheet: columns stock, length, width (where ripped) and count."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from lacunar.config import Config, read_table, used_stock
from lacunar.errors import ConfigError, Problem
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
    problems: list[Problem] = []
    pieces: list[Piece] = []
    cells = _Cells(stocks=used_stock(config), units=config.units, width=config.slats.width)
    for number, row in read_table(path, COLUMNS, NEEDED):
        pieces += _pieces(f"{path.name}:{number}", number, row, cells, problems)
    if len(pieces) > MOST_PIECES:
        what = f"has {len(pieces)} pieces, must have {MOST_PIECES} or fewer"
        problems.append(Problem(where=path.name, what=what, fix="look at its counts"))
    if problems:
        raise ConfigError(problems)
    return tuple(pieces)


def _pieces(where: str, line: int, row: Mapping[str, str], cells: "_Cells", problems: list[Problem]) -> list[Piece]:
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
