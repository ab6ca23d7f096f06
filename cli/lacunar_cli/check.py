"""`lacunar check`: survey, layout and every check; nothing is written."""

from lacunar_cli import options
from lacunar_cli.progress import progress_bar
from lacunar_cli.show import show_job, status_of
from lacunar_cli.terminal import say


def check(room: options.Room, as_json: options.Json = False, every: options.All = False) -> int:
    """Check a room: survey, layout, every check. Writes nothing."""
    from lacunar.config import read_config
    from lacunar.job import report_of, run_job
    from lacunar.reports import report_text

    with progress_bar() as progress:
        job = run_job(read_config(room), progress)
    if as_json:
        say(report_text(report_of(job)).removesuffix("\n"))
    else:
        show_job(job, every=every)
    return status_of(job.findings)
