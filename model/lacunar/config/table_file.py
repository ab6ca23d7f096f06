"""A small table as a spreadsheet saves it: CSV, with commas or semicolons, its first line the names of its columns."""

import csv
import io
from collections.abc import Mapping, Sequence
from pathlib import Path

from lacunar.errors import ConfigError, Problem
from lacunar.files import TABLE_ENCODING, TABLE_LARGEST, read_plain, unmarked


def read_table(path: Path, columns: Sequence[str], needed: Sequence[str]) -> list[tuple[int, Mapping[str, str]]]:
    """The lines that hold something: each its number, and its cells by column in small letters.

    Cells beyond the last column stand under their number, so that they are missed by nobody.

    Args:
        path: of the file.
        columns: that there may be.
        needed: those of them that must be there.

    Raises:
        ConfigError: the file cannot be read, or a column is missing or unknown.
    """
    lines = _lines(path, columns)
    names = [cell.strip().lower() for cell in (lines[0][1] if lines else ())]
    unknown = [name for name in names if name not in columns]
    missing = [name for name in needed if name not in names]
    if unknown or missing:
        what = f'unknown column "{unknown[0]}"' if unknown else f"no column {' and '.join(missing)}"
        raise ConfigError([Problem(where=f"{path.name}:1", what=f"{what}, the first line must be {','.join(columns)}")])
    return [(number, _named(names, cells)) for number, cells in lines[1:] if any(cell.strip() for cell in cells)]


def _lines(path: Path, columns: Sequence[str]) -> list[tuple[int, list[str]]]:
    fix = f"columns: {','.join(columns)}"
    try:
        text = read_plain(path, TABLE_LARGEST).decode(TABLE_ENCODING)
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
    return {**dict(zip(columns, (unmarked(cell.strip()) for cell in cells), strict=False)), **named}
