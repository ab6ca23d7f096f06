"""Wood coffered ceilings from tape measurements: layout, checks, cut lists, previews.

What a script wants of it is here; a stage is loaded with the first name that needs it.
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lacunar.config import Config, read_config
    from lacunar.errors import LacunarError
    from lacunar.job import Job, Written, report_of, run_job, with_alternatives, write_job
    from lacunar.reports import Report, read_report

__version__ = "0.1.0"

__all__ = [
    "Config",
    "Job",
    "LacunarError",
    "Report",
    "Written",
    "read_config",
    "read_report",
    "report_of",
    "run_job",
    "with_alternatives",
    "write_job",
]

if not TYPE_CHECKING:

    def __getattr__(name):
        for home in ("errors", "config", "reports", "job") if name in __all__ else ():
            if hasattr(found := import_module(f"lacunar.{home}"), name):
                return getattr(found, name)
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
