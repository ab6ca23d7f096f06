"""`lacunar measure`: sheets to fill in by hand, and their numbers back into the config."""

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from lacunar.errors import ConfigError, Problem
from lacunar_cli import options
from lacunar_cli.done import show_change, show_progress
from lacunar_cli.progress import progress_bar
from lacunar_cli.sentences import names
from lacunar_cli.show import GOOD, show_list, show_notes, show_sheets
from lacunar_cli.terminal import say, wrapped

if TYPE_CHECKING:
    from lacunar.config import Config


class StageName(StrEnum):
    """What is measured, in the order of the work."""

    room = "room"
    openings = "openings"
    coffers = "coffers"
    last = "last"
    trim = "trim"
    done = "done"


OUT_HELP = "The folder for the sheets. Default: ROOM-measure, beside the config."
STAGE_HELP = "One stage only; done: a list to tick off what is cut and up. Default: all that have something to measure."
APPLY_HELP = "A filled-in sheet or list: check it, and write it into ROOM.toml. All of it or nothing; safe to repeat."
LIMIT_HELP = "With --apply: how far off the design a value may be, like '1 in'. Default: 1/2 in, and 6 in for the room."


def measure(
    room: options.Room,
    out: Annotated[Path | None, typer.Option("--output", "-o", metavar="DIR", help=OUT_HELP)] = None,
    stage: Annotated[StageName | None, typer.Option(help=STAGE_HELP)] = None,
    apply: Annotated[Path | None, typer.Option(metavar="FILLED.csv", help=APPLY_HELP)] = None,
    limit: Annotated[str, typer.Option(metavar="LENGTH", help=LIMIT_HELP)] = "",
) -> int:
    """Sheets to measure by (PDF, CSV), and their numbers back.

    Without --apply it writes a sheet to fill in by hand, and a CSV to type its values into.
    """
    if apply is not None:
        _alone(out, stage)
        return _apply(room, apply, limit)
    from lacunar.config import read_config
    from lacunar.field import write_sheets

    config = read_config(room)
    folder = out or room.parent / f"{config.name}-measure"
    if stage is StageName.done:
        from lacunar.job import write_ticks

        say(wrapped(f"wrote {write_ticks(config, folder)}"))
        return GOOD
    sheets = write_sheets(config, folder, stage.value if stage else None)
    say(wrapped(f"wrote {names([path.name for path in sheets.files])} to {sheets.folder}"))
    show_notes(sheets.notes)
    return GOOD


def _alone(out: Path | None, stage: StageName | None) -> None:
    """Sheets are written or applied, not both."""
    given = [option for option, value in (("-o", out), ("--stage", stage)) if value is not None]
    if given:
        what = f"{' and '.join(given)} is for writing sheets, --apply for reading one"
        raise ConfigError([Problem(where="--apply", what=what, fix="give one or the other")])


def _apply(room: Path, filled: Path, limit: str) -> int:
    from lacunar.config import read_config
    from lacunar.done import is_tick_list
    from lacunar.field import apply_measures, read_limit

    if is_tick_list(filled):
        from lacunar.job import tell_ticks

        show_progress(tell_ticks(room, filled))
        return GOOD
    before = read_config(room)
    done = apply_measures(room, filled, read_limit(limit, before.units))
    if done.parts:
        say(wrapped(f"measured: {names(done.parts)}"))
    say(wrapped(f"wrote {room}" if done.changed else f"{room} stays as it is: nothing in {filled} is new to it"))
    if done.blank:
        say(wrapped(f"rows of {filled.name} without a value yet: {done.blank}"))
    show_list("to know before cutting:", done.notes)
    if done.parts and done.changed:
        _show_change(before, read_config(room))
    return GOOD


def _show_change(before: "Config", after: "Config") -> None:
    """What the measures change of what is still to be cut, and what may be cut now."""
    from lacunar.job import run_job, trust_of

    with progress_bar():
        jobs = run_job(before, weighed=False, advised=False), run_job(after, weighed=False, advised=False)
    show_change(*jobs)
    show_sheets(trust_of(jobs[1]))
