"""Rows as a spreadsheet reads them."""

import csv
import io
from collections.abc import Iterable, Sequence


def csv_text(columns: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A line of column names and one for each row."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows(rows)
    return out.getvalue()
