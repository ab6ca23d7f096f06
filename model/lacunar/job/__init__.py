"""One config in, a job out, and the job's files: the run order and nothing of the stages' own work.

A module is loaded with the first name that needs it: what is there to be written can be asked without any stage.
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lacunar.job.alternatives import with_alternatives
    from lacunar.job.apart import standing_by
    from lacunar.job.booked import book_of
    from lacunar.job.pictures import check_view, has_screen, open_window, write_comparison, write_picture
    from lacunar.job.products import GROUPS, PRODUCTS, Product, read_groups, with_budget
    from lacunar.job.progress import Progress, tell_done, tell_ticks, write_ticks
    from lacunar.job.run import Alternative, Job, OnStep, Quality, as_designed, code_of, report_of, run_job, trust_of
    from lacunar.job.second_thoughts import WhatIf, what_if
    from lacunar.job.summary import Summary, against, board_text, choice_facts, cost_text, summarise, summary_lines
    from lacunar.job.watching import watch_in_browser
    from lacunar.job.write import Written, write_job

__all__ = [
    "GROUPS",
    "PRODUCTS",
    "Alternative",
    "Job",
    "OnStep",
    "Product",
    "Progress",
    "Quality",
    "Summary",
    "WhatIf",
    "Written",
    "against",
    "as_designed",
    "board_text",
    "book_of",
    "check_view",
    "choice_facts",
    "code_of",
    "cost_text",
    "has_screen",
    "open_window",
    "read_groups",
    "report_of",
    "run_job",
    "standing_by",
    "summarise",
    "summary_lines",
    "tell_done",
    "tell_ticks",
    "trust_of",
    "watch_in_browser",
    "what_if",
    "with_alternatives",
    "with_budget",
    "write_comparison",
    "write_job",
    "write_picture",
    "write_ticks",
]

if not TYPE_CHECKING:

    def __getattr__(name):
        homes = (
            *("products", "run", "progress", "watching", "summary", "second_thoughts", "write", "pictures", "apart"),
            "booked",
            "alternatives",
        )
        for home in homes if name in __all__ else ():
            if hasattr(found := import_module(f"lacunar.job.{home}"), name):
                return getattr(found, name)
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
