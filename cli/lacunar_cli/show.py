"""Errors and findings as text, and the exit status that goes with them. Never a traceback.

Status: 0 good, 1 a finding of level `fail`, 2 bad input or usage, 3 a fault of lacunar itself, 130 stopped by the user,
143 told to end.
"""

import os
import sys
from collections.abc import Callable, Iterable, Sequence
from functools import wraps
from typing import TYPE_CHECKING, Final, ParamSpec

import typer

from lacunar.errors import LacunarError
from lacunar_cli.stopping import Terminated, stoppable
from lacunar_cli.terminal import complain, flush, say, styled, wrapped

if TYPE_CHECKING:
    from lacunar.checks import Finding
    from lacunar.job import Job, Written

P = ParamSpec("P")

GOOD: Final = 0
FAILED: Final = 1
BAD_INPUT: Final = 2
OUR_FAULT: Final = 3
STOPPED: Final = 130
TERMINATED: Final = 143

NOTHING: Final = "nothing was written"

LEVELS: Final = ("fail", "warn", "ask", "pass")
COLOURS: Final = {"fail": "red", "warn": "yellow", "ask": "cyan", "pass": "green"}

MOST_NAMES: Final = 6
"""Ids named on one line before "and n more"."""

MOST_LINES: Final = 8
"""Lines of one check and level before "and n more"."""


def answered(command: Callable[P, int]) -> Callable[P, None]:
    """A command as typer wants it: its status and its exceptions become an exit status and plain lines."""

    @wraps(command)
    def run(*args: P.args, **kwargs: P.kwargs) -> None:
        with stoppable():
            raise typer.Exit(_status(lambda: command(*args, **kwargs)))

    return run


def _status(command: Callable[[], int]) -> int:
    try:
        status = command()
        flush()
        return status
    except LacunarError as error:
        for problem in error.problems:
            complain(str(problem))
        return BAD_INPUT
    except BrokenPipeError:
        # The reader (head, less) has gone: say nothing more, not even at the last flush.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return GOOD
    except OSError as error:
        complain(": ".join(str(text) for text in (error.filename, error.strerror or error) if text))
        return BAD_INPUT
    except KeyboardInterrupt as stop:
        complain(f"\nstopped; {str(stop) or NOTHING}")
        return TERMINATED if isinstance(stop, Terminated) else STOPPED
    except typer.Abort:
        complain(f"\nstopped; {NOTHING}")
        return STOPPED
    except typer.Exit:
        raise
    except Exception as error:
        return _our_fault(error)


def _our_fault(error: Exception) -> int:
    if os.environ.get("LACUNAR_TRACEBACK"):
        raise error
    what = " ".join(str(error).split()) or "no message"
    complain(f"lacunar failed, and it is not your config's fault: {type(error).__name__}: {what}")
    complain("please report it with the config; LACUNAR_TRACEBACK=1 shows where")
    return OUR_FAULT


def status_of(findings: Iterable["Finding"]) -> int:
    """1 where anything failed, else 0."""
    return FAILED if any(finding.level == "fail" for finding in findings) else GOOD


def show_findings(findings: Sequence["Finding"]) -> None:
    """Everything that wants attention, the worst first; what passed as one line a check."""
    for level in ("fail", "warn", "ask"):
        for check in dict.fromkeys(f.check for f in findings if f.level == level):
            _show_check(level, [f for f in findings if f.check == check and f.level == level])
    for check in dict.fromkeys(f.check for f in findings if f.level == "pass"):
        passed = [f for f in findings if f.check == check and f.level == "pass"]
        what = passed[0].message if len(passed) == 1 else f"{len(passed)} are good"
        _line("pass", f"{check}: {what}")


def _show_check(level: str, findings: Sequence["Finding"]) -> None:
    """One check at one level: the same words are said once, with all the ids that they hold for."""
    groups: dict[tuple[str, str], list[str]] = {}
    for finding in findings:
        groups.setdefault((finding.message, finding.fix), []).append(finding.where)
    for (message, fix), where in list(groups.items())[:MOST_LINES]:
        tail = f"; fix: {fix}" if fix else ""
        _line(level, f"{findings[0].check} {names(where)}: {message}{tail}")
    rest = sum(len(where) for where in list(groups.values())[MOST_LINES:])
    if rest:
        _line(level, f"{findings[0].check}: and {rest:,} more like these; --json lists them all")


def names(where: Sequence[str]) -> str:
    """Ids in a row, as C1-S01, C1-S02 and 12 more."""
    shown = ", ".join(where[:MOST_NAMES])
    more = len(where) - MOST_NAMES
    return f"{shown} and {more} more" if more > 0 else shown


def _line(level: str, text: str) -> None:
    folded = wrapped(f"{level} {text}")
    say(folded[len(level) :], head=styled(level, colour=COLOURS[level], bold=level == "fail"))


def show_list(title: str, lines: Iterable[str]) -> None:
    """A title and one dash a line; nothing where there are no lines."""
    listed = list(lines)
    if listed:
        say(title)
        for line in listed:
            say(wrapped(f"  - {line}", "    "))


def show_job(job: "Job") -> None:
    """A job on a page: numbers, findings, how far it can be trusted, what was assumed."""
    from lacunar.job import report_of, trust_of
    from lacunar.reports import plan_lines, summary

    say(head=styled(job.config.title, bold=True))
    report = report_of(job)
    for name, value in summary(report):
        if name != "good for":
            say(f"  {name:<20} {value}")
    say()
    say("to buy and to cut:")
    for line in plan_lines(report):
        say(wrapped(f"  {line}", "    "))
    say()
    show_findings(job.findings)
    trusted = trust_of(job)
    say()
    say(head=styled(wrapped(trusted.words), bold=True))
    show_list("missing for the next level:", [one for one in trusted.missing if one not in trusted.wrong])
    show_list("assumed:", job.config.assumed)


def show_written(written: "Written") -> None:
    """Where the files are, and what is not among them."""
    say(wrapped(f"wrote {len(written.files)} files to {written.folder}"))
    if written.kept:
        say(wrapped(f"kept what was there: {names(written.kept)}"))
    show_notes(written.notes)


def show_notes(notes: Iterable[str]) -> None:
    """What was not written and why, what pictures assume."""
    for note in notes:
        say(wrapped(f"note: {note}"))
