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
from lacunar_cli.sentences import Said, names, sentence, sentences, todo
from lacunar_cli.stopping import Terminated, stoppable
from lacunar_cli.terminal import complain, flush, say, styled, wrapped

if TYPE_CHECKING:
    from lacunar.checks import Finding
    from lacunar.config import Trust
    from lacunar.job import Job, Written

P = ParamSpec("P")

GOOD: Final = 0
FAILED: Final = 1
BAD_INPUT: Final = 2
OUR_FAULT: Final = 3
STOPPED: Final = 130
TERMINATED: Final = 143

NOTHING: Final = "nothing was written"

COLOURS: Final = {"fail": "red", "warn": "yellow", "ask": "cyan", "pass": "green"}


MOST_NEXT: Final = 3
"""Things to do next that are named before "and n more"."""

CAUTION: Final = "caution-"
"""How the names of checks begin that ask of every house."""

CAUTIONS: Final = "before anybody drills, nails or climbs (local code and licensed trades decide):"


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


def show_findings(findings: Sequence["Finding"], *, every: bool = False) -> None:
    """Everything that wants attention, the worst first; what passed as one line of names.

    Args:
        findings: of all checks.
        every: nothing is shortened.
    """
    cautions = [f for f in findings if f.check.startswith(CAUTION)]
    others = [f for f in findings if not f.check.startswith(CAUTION)]
    for level in ("fail", "warn", "ask"):
        for said in sentences([f for f in others if f.level == level], every=every):
            _show(said)
    if cautions:
        say(CAUTIONS)
    for finding in cautions:
        told = (sentence(finding.message),) if every else ()
        _show(Said(level=finding.level, checks=(finding.check,), told=told, fix=sentence(finding.fix)))
    passed = [f for f in others if f.level == "pass"]
    if every:
        for said in sentences(passed, every=True):
            _show(said)
    elif passed:
        _show(Said(level="pass", checks=(), told=(f"{', '.join(dict.fromkeys(f.check for f in passed))}.",)))


def _show(said: Said) -> None:
    """A level, its sentence, and in small which checks say so."""
    folded = wrapped(f"{said.level:<5} {said.text} {said.source}".rstrip(), " " * 6)
    is_whole = folded.endswith(said.source)  # not folded
    tail = styled(said.source, dim=True) if said.source and is_whole else ""
    head = styled(folded[:5], colour=COLOURS[said.level], bold=said.level == "fail")
    say(folded[5:].removesuffix(said.source), head=head, tail=tail)


def show_list(title: str, lines: Iterable[str]) -> None:
    """A title and one dash a line; nothing where there are no lines."""
    listed = list(lines)
    if listed:
        say(title)
        for line in listed:
            say(wrapped(f"  - {line}", "    "))


def show_job(job: "Job", *, every: bool = False, built: bool = False) -> None:
    """A job in the order of use: how far it can be trusted, what to do next, findings, numbers, what to buy.

    Args:
        job: as run.
        every: nothing is shortened.
        built: what fewer stops would cost is not shortened.
    """
    from lacunar.checks import margin_words
    from lacunar.job import summary_lines, trust_of
    from lacunar.reports import alternative_lines, buy_lines, fewer_stops_line, measured_lines, proof_lines, stop_lines

    say(head=styled(job.config.title, bold=True))
    trusted = trust_of(job)
    say(head=styled(wrapped(trusted.words), bold=True))
    _show_next(job, trusted, every=every)
    show_sheets(trusted)
    say()
    show_findings(job.findings, every=every)
    _show_assumed(job.config.assumed, every=every)
    say()
    say(wrapped("; ".join(summary_lines(job))))
    if margins := margin_words(job.analysis.margins, job.config):
        say(wrapped(f"margins: {margins}"))
    say("to buy and to cut:")
    bought = buy_lines(job.plan, job.cost, job.config.units)
    for line in (*bought, *(proof_lines(job.plan) if every else ())):
        say(wrapped(f"  {line}", "    "))
    if job.alternatives:
        say("to choose from:")
    for line in alternative_lines(tuple(one.row for one in job.alternatives), job.config.currency):
        say(wrapped(f"  {line}", "    "))
    weighed = job.plan.by_stops, job.config.currency, job.config.units
    told = stop_lines(*weighed) if every or built else filter(None, (fewer_stops_line(*weighed),))
    for line in (*told, *measured_lines(job.plan, job.config.shop.stops)):
        say(wrapped(line, "    "))


def _show_next(job: "Job", trusted: "Trust", *, every: bool) -> None:
    """The most urgent first: what mends a failure, then what is missing for the next level."""
    steps = [
        *todo(f for f in job.findings if f.level == "fail"),
        *(one for one in trusted.missing if one not in trusted.wrong),
    ]
    shown = steps if every else steps[:MOST_NEXT]
    more = len(steps) - len(shown)
    better = f", to make it good for {trusted.not_yet}" if trusted.not_yet else ""
    show_list(f"next{better}:", shown)
    if more:
        say(f"    and {more} more: --all lists them")


def show_sheets(trusted: "Trust") -> None:
    """What may be cut now; nothing where everything waits, or is cut."""
    now = [
        f"{sheet.sheet} ({sheet.wanted - sheet.cut}{f' of {sheet.wanted}' if sheet.cut else ''})"
        for sheet in trusted.sheets
        if sheet.state == "cut now"
    ]
    if now:
        say(wrapped(f"cut now: {', '.join(now)}"))


def _show_assumed(assumed: Sequence[str], *, every: bool) -> None:
    if every:
        show_list("assumed:", assumed)
    elif assumed:
        count = len(assumed)
        say(f"{'1 value is' if count == 1 else f'{count} values are'} assumed: --all lists them")


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
