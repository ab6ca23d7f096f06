"""Rows as a spreadsheet reads them."""

import csv
import io
import re
from collections.abc import Iterable, Sequence


def csv_text(columns: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A line of column names and one for each row."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows(rows)
    return out.getvalue()


def natural(name: str) -> tuple[tuple[int, str], ...]:
    """A key that puts C2 before C10."""
    pieces = re.findall(r"\d+|\D+", name)
    return tuple((int(piece), "") if piece.isdigit() else (-1, piece) for piece in pieces)
