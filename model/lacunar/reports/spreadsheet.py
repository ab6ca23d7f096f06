"""Rows as a spreadsheet reads them."""

from collections.abc import Sequence
from dataclasses import astuple, fields
from pathlib import Path
from typing import TYPE_CHECKING

from lacunar.files import TABLE_ENCODING, table_text
from lacunar.units import INCH

if TYPE_CHECKING:
    from _typeshed import DataclassInstance


def write_csv(path: Path, rows: "Sequence[DataclassInstance]", kind: "type[DataclassInstance]", code: str) -> None:
    """Write a line of column names, the fields of one kind of rows, and one for each row; the plan's code comes last.

    Raises:
        OSError: it cannot be written.
    """
    columns = (*(field.name for field in fields(kind)), "plan")
    text = table_text(columns, ((*astuple(row), code) for row in rows))
    path.write_text(text, encoding=TABLE_ENCODING, newline="")


def decimal_inches(mm: float) -> str:
    """A length in inches that a spreadsheet can reckon with."""
    return f"{mm / INCH:.3f}"
