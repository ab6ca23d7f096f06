"""Measured again on the wood: sheets to fill in by hand, and what they say written back into the config."""

from lacunar.field.apply import Applied, apply_measures
from lacunar.field.design import Design, design
from lacunar.field.filled_csv import LIMITS, read_limit
from lacunar.field.holes import HoleWindow, hole_windows
from lacunar.field.sheet_row import STAGES, Row, Stage
from lacunar.field.sheets import Sheets, csv_text, sheet_pages, write_sheets

__all__ = [
    "LIMITS",
    "STAGES",
    "Applied",
    "Design",
    "HoleWindow",
    "Row",
    "Sheets",
    "Stage",
    "apply_measures",
    "csv_text",
    "design",
    "hole_windows",
    "read_limit",
    "sheet_pages",
    "write_sheets",
]
