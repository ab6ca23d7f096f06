"""A price list beside the config: a spreadsheet with the columns stock, length, price, on_hand, supply and actual."""

import csv
import io
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from lacunar.config.lines import KeyPath
from lacunar.config.raw import Raw, is_table
from lacunar.config.reading import did_you_mean
from lacunar.errors import Problem
from lacunar.files import TABLE_LARGEST, read_plain

COLUMNS = ("stock", "length", "price", "on_hand", "supply", "actual")
NEEDED = ("stock", "length")


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceList:
    """A document with the rows of its price list in it.

    Attributes:
        raw: the document, the rows as `shop.board`.
        places: file and line of every row, by its path in the document.
        problems: what is wrong with the file as a whole, told of the key that names it.
    """

    raw: Raw
    places: Mapping[KeyPath, str] = field(default_factory=dict[KeyPath, str])
    problems: Sequence[tuple[KeyPath, str, str]] = ()
    row_problems: Sequence[Problem] = ()


def with_prices(raw: Raw, folder: Path) -> PriceList:
    """Read the price list that `shop.boards` names; what is wrong in its cells is found with the rest of the config.

    Args:
        raw: the document.
        folder: where a relative name is looked for.
    """
    shop: Any = raw.get("shop")
    name: Any = shop.get("boards") if is_table(shop) else None
    if not isinstance(name, str) or not name.strip():
        return PriceList(raw=raw)
    key: KeyPath = ("shop", "boards")
    if "board" in shop:
        both = (key, "both shop.boards and [[shop.board]] are given, must be one of them", "")
        return PriceList(raw=raw, problems=[both])
    try:
        text = read_plain(folder / name, TABLE_LARGEST).decode("utf-8-sig")
    except (OSError, ValueError) as error:
        fix = "it is looked for beside the config; columns: " + ",".join(COLUMNS)
        return PriceList(raw=raw, problems=[(key, f'got "{name}", which {_reason(error)}', fix)])
    return _with_rows(raw, Path(name).name, text)


def _reason(error: Exception) -> str:
    if isinstance(error, UnicodeDecodeError):
        return "is not UTF-8 text"
    if isinstance(error, FileNotFoundError):
        return "is not there"
    return f"cannot be read ({getattr(error, 'strerror', None) or error})"


def _with_rows(raw: Raw, file: str, text: str) -> PriceList:
    header, _, _ = text.partition("\n")
    comma = ";" if header.count(";") > header.count(",") else ","
    reader = csv.reader(io.StringIO(text), delimiter=comma, skipinitialspace=True)
    try:
        lines = [(f"{file}:{reader.line_num}", cells) for cells in reader]
    except csv.Error as error:
        return PriceList(raw=raw, row_problems=[Problem(where=file, what=f"cannot be read as a table: {error}")])
    columns = [cell.strip().lower() for cell in (lines[0][1] if lines else [""])]
    wrong_header = _header_problem(file, columns)
    if wrong_header:
        return PriceList(raw=raw, row_problems=[wrong_header])
    filled = [(where, cells) for where, cells in lines[1:] if any(cell.strip() for cell in cells)]
    good = [(where, cells) for where, cells in filled if len(cells) == len(columns)]
    must, fix = f"cells, must be {len(columns)} as in the first line", "a number has a point, not a comma"
    bad = [(where, len(cells)) for where, cells in filled if len(cells) != len(columns)]
    problems = [Problem(where=where, what=f"got {count} {must}", fix=fix) for where, count in bad]
    if not filled:
        problems = [Problem(where=file, what="has no rows, must have one for each board", fix=",".join(COLUMNS))]
    rows = [_row(columns, cells) for _, cells in good]
    places: dict[KeyPath, str] = {("shop", "board", n): where for n, (where, _) in enumerate(good)}
    return PriceList(raw={**raw, "shop": {**raw["shop"], "board": rows}}, places=places, row_problems=problems)


def _row(columns: Sequence[str], cells: Sequence[str]) -> Raw:
    """A row as a table of the config; empty cells are not given."""
    return {name: _cell(name, cell) for name, cell in zip(columns, cells, strict=True) if cell.strip()}


def _header_problem(file: str, columns: Sequence[str]) -> Problem | None:
    missing = [name for name in NEEDED if name not in columns]
    unknown = [name for name in columns if name not in COLUMNS]
    if unknown:
        what = f'unknown column "{unknown[0]}", must be {", ".join(COLUMNS)}'
        return Problem(where=f"{file}:1", what=what, fix=did_you_mean(unknown[0], COLUMNS))
    if missing:
        return Problem(where=f"{file}:1", what=f"no column {' and '.join(missing)} in the first line, must be given")
    return None


def _cell(name: str, text: str) -> str | int | float:
    """A number where it is one; a price may carry a currency sign."""
    text = text.strip()
    plain = text.lstrip("$€£ ") if name == "price" else text
    if name == "stock" or not re.fullmatch(r"-?[0-9]{1,12}(\.[0-9]{1,12})?", plain):
        return text
    return float(plain) if "." in plain else int(plain)
