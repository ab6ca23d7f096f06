"""Rows as a spreadsheet reads them."""

import csv
from collections.abc import Sequence
from dataclasses import astuple, fields
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from _typeshed import DataclassInstance


def write_csv(path: Path, rows: "Sequence[DataclassInstance]", kind: "type[DataclassInstance]", code: str) -> None:
    """Write a line of column names, the fields of one kind of rows, and one for each row; the plan's code comes last.

    Raises:
        OSError: it cannot be written.
    """
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow((*(field.name for field in fields(kind)), "plan"))
        writer.writerows((*astuple(row), code) for row in rows)
