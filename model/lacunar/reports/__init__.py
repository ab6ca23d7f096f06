"""What a build says of itself: report.json, lists for the saw and the lumber yard, and a few rows for the terminal."""

from lacunar.reports.buy_list import buy_rows, buy_text, write_buy_list
from lacunar.reports.cut_list import cut_list_rows, cut_list_text, write_cut_list
from lacunar.reports.plan_lines import buy_lines, proof_lines
from lacunar.reports.report import REPORT, Report, list_files, make_report, report_text, write_report
from lacunar.reports.schema import report_schema
from lacunar.reports.settings_list import setting_rows, settings_text, write_settings
from lacunar.reports.summary import summary

__all__ = [
    "REPORT",
    "Report",
    "buy_lines",
    "buy_rows",
    "buy_text",
    "cut_list_rows",
    "cut_list_text",
    "list_files",
    "make_report",
    "proof_lines",
    "report_schema",
    "report_text",
    "setting_rows",
    "settings_text",
    "summary",
    "write_buy_list",
    "write_cut_list",
    "write_report",
    "write_settings",
]
