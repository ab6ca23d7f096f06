"""What a build says of itself: report.json, the cut list, and a few rows for the terminal."""

from lacunar.reports.cut_list import cut_list_rows, cut_list_text, write_cut_list
from lacunar.reports.report import REPORT, Report, list_files, make_report, report_text, write_report
from lacunar.reports.schema import report_schema
from lacunar.reports.summary import summary

__all__ = [
    "REPORT",
    "Report",
    "cut_list_rows",
    "cut_list_text",
    "list_files",
    "make_report",
    "report_schema",
    "report_text",
    "summary",
    "write_cut_list",
    "write_report",
]
