"""One config in, a job out, and the job's files: the run order and nothing of the stages' own work."""

from lacunar.job.pictures import Quality, check_view, open_window, write_comparison, write_picture
from lacunar.job.run import Job, OnStep, run_job, trust_of
from lacunar.job.summary import Summary, summarise
from lacunar.job.what_if import WhatIf, what_if
from lacunar.job.write import GROUPS, Written, read_groups, report_of, report_text_of, write_job

__all__ = [
    "GROUPS",
    "Job",
    "OnStep",
    "Quality",
    "Summary",
    "WhatIf",
    "Written",
    "check_view",
    "open_window",
    "read_groups",
    "report_of",
    "report_text_of",
    "run_job",
    "summarise",
    "trust_of",
    "what_if",
    "write_comparison",
    "write_job",
    "write_picture",
]
