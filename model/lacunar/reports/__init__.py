"""What a build says of itself: report.json, lists for the saw and the lumber yard, and a few lines for the terminal."""

from lacunar.reports.buy_list import BuyRow, buy_rows
from lacunar.reports.changes import Change, change_lines, changed
from lacunar.reports.choice_words import (
    alternative_lines,
    calendar_words,
    choice_words,
    cost_words,
    hours_words,
    refused_words,
    run_words,
)
from lacunar.reports.cut_list import CutRow, cut_list_rows
from lacunar.reports.make import make_report
from lacunar.reports.plan_lines import buy_lines, fewer_stops_line, measured_lines, proof_lines, stop_lines
from lacunar.reports.report import (
    file_row,
    list_files,
    read_report,
    report_schema,
    report_text,
    report_values,
    write_report,
)
from lacunar.reports.rows import AlternativeRow, ChoiceRow, FileRow, PartRow, Report
from lacunar.reports.settings_list import LONG_POINTS, SettingRow, setting_rows
from lacunar.reports.spreadsheet import write_csv

__all__ = [
    "LONG_POINTS",
    "AlternativeRow",
    "BuyRow",
    "Change",
    "ChoiceRow",
    "CutRow",
    "FileRow",
    "PartRow",
    "Report",
    "SettingRow",
    "alternative_lines",
    "buy_lines",
    "buy_rows",
    "calendar_words",
    "change_lines",
    "changed",
    "choice_words",
    "cost_words",
    "cut_list_rows",
    "fewer_stops_line",
    "file_row",
    "hours_words",
    "list_files",
    "make_report",
    "measured_lines",
    "proof_lines",
    "read_report",
    "refused_words",
    "report_schema",
    "report_text",
    "report_values",
    "run_words",
    "setting_rows",
    "stop_lines",
    "write_csv",
    "write_report",
]
