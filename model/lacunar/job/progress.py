"""What is done, told to a room: written down, and everything that is not cut planned anew."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from lacunar.config import Config, Done, read_config
from lacunar.done import Ask, read_ask, read_ticks, record, take_back, tick_text, write_done
from lacunar.errors import ExportError, LayoutError, Problem
from lacunar.files import TABLE_ENCODING, made, replacing
from lacunar.job.run import Job, run_job


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """A room before and after something was done.

    Attributes:
        before: None where the room could not be planned, because pieces were called done that it has no more.
        changed: the file has other bytes now.
        notes: sentences about what was not written, and why.
    """

    before: Job | None
    after: Job
    changed: bool
    notes: tuple[str, ...]


def tell_done(path: Path, words: Mapping[str, Sequence[str]], *, bought: bool = False) -> Progress:
    """Write down what people say is done; what is taken back goes first.

    Args:
        path: the config.
        words: by option ("cut", "up", "spoilt", "boards", "undo"): lists of names with commas between them.
        bought: the buying list is bought.

    Raises:
        LacunarError: with every problem; nothing is written then.
    """
    config = read_config(path)
    return _progress(
        config,
        take_back(config.done, words.get("undo", ())),
        lambda job: replace(read_ask(words, job.parts, job.plan, config.units), bought=bought),
    )


def tell_ticks(path: Path, ticks: Path) -> Progress:
    """Write down what a tick list says that is not written yet. Safe to repeat.

    Raises:
        LacunarError: with every problem; nothing is written then.
    """
    config = read_config(path)
    return _progress(config, config.done, lambda job: read_ticks(ticks, job.parts, job.config.done))


def _progress(config: Config, first: Done, read: Callable[[Job], Ask]) -> Progress:
    before = _planned(config, must=first == config.done)
    job = before if before is not None and first == config.done else _run(config, first)
    ask, done, notes = read(job), first, tuple[str, ...]()
    while ask != Ask():
        recorded = record(done, ask, job.plan, job.parts, config.shop)
        done, notes = recorded.done, (*notes, *recorded.notes)
        job = _run(config, done)
        # What was spoilt twice was cut from two boards, the second of which the plan has only now.
        ask = read(job) if ask.again else Ask()
    changed = write_done(config.path, config.done, done, config.units)
    return Progress(before=before, after=job, changed=changed, notes=notes)


def _planned(config: Config, *, must: bool) -> Job | None:
    """What the room has no more can be taken back, and nothing can be planned before: None then."""
    try:
        return _run(config, config.done)
    except LayoutError:
        if must:
            raise
        return None


def _run(config: Config, done: Done) -> Job:
    """The room with this done; nobody asks here for advice."""
    return run_job(config.model_copy(update={"done": done}), weighed=False, advised=False)


def write_ticks(config: Config, folder: Path) -> Path:
    """The tick list of a room as it is, as `done.csv` in a folder.

    Raises:
        ExportError: one that is there has ticks that are not written down yet, or it cannot be written.
        LacunarError: there is no plan, or the list that is there cannot be read.
    """
    job, path = _run(config, config.done), folder / "done.csv"
    if path.exists() and read_ticks(path, job.parts, config.done) != Ask():
        what, fix = "holds ticks that are not written down, and would be written over", "apply it with --apply first"
        raise ExportError([Problem(where=str(path), what=what, fix=fix)])
    try:
        with made(folder), replacing(path) as file:
            file.write_text(tick_text(job.parts, job.plan, config), encoding=TABLE_ENCODING, newline="")
    except OSError as error:
        raise ExportError([Problem(where=str(path), what=f"cannot be written: {error.strerror or error}")]) from error
    return path
