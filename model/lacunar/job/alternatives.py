"""Designs to choose from beside a job's own: each run from the same file, and what tells it from the others."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from lacunar.config import Config, read_config
from lacunar.errors import LacunarError
from lacunar.job.run import Alternative, Job, OnStep, code_of, run_job, silent, trust_of
from lacunar.job.summary import against, summarise
from lacunar.reports import AlternativeRow, ChoiceRow

AS_PLANNED: Final = "as planned"
"""What the file's own design is called among the others."""

Overrides = Sequence[tuple[str, str]]
"""Dotted keys, and values as they are typed."""


def with_alternatives(job: Job, more: Sequence[tuple[str, Overrides]] = (), on_step: OnStep | None = None) -> Job:
    """The same job with the alternatives of its file, and more; as it is where there are none.

    Args:
        job: of `run_job`.
        more: names, and what each changes; what is planned already is left out.
        on_step: told before each.

    Raises:
        ConfigError: one of them is no config.
    """
    step = on_step or silent
    configs = list(_configs(job.config, more))
    tried = [_tried(job.config, AS_PLANNED, (), job)]
    for number, (name, changes, config) in enumerate(configs):
        step(name, number / len(configs))
        tried.append(_tried(config, name, changes))
    return replace(job, alternatives=tuple(tried)) if configs else job


def _configs(config: Config, more: Sequence[tuple[str, Overrides]]) -> Iterator[tuple[str, Overrides, Config]]:
    """Those of the file, then those of `more` that are not there yet."""
    bare = of_any_design(config)
    seen = {_told(config)}
    listed = [(one.name, one.overrides) for one in config.alternative]
    for number, (name, changes) in enumerate((*listed, *more)):
        other = read_config(config.path, (*config.overrides, *bare, *changes))
        if number < len(listed) or _told(other) not in seen:
            yield name, changes, other
        seen.add(_told(other))


def of_any_design(config: Config) -> tuple[tuple[str, str], ...]:
    """Overrides that leave out what was measured on the wood and what is done: they belong to the design as planned."""
    return tuple((table, "{}") for table in ("field", "done") if config.is_given(table))


def _told(config: Config) -> str:
    """All that makes a design."""
    return config.model_dump_json(exclude={"field", "readings", "done"})


def _tried(config: Config, name: str, changes: Overrides, job: Job | None = None) -> Alternative:
    """Run, where it is not; what cannot be laid out spoils nothing beside it."""
    refused: tuple[str, ...] = ()
    try:
        job = job or run_job(config, weighed=False, advised=False)
    except LacunarError as error:
        refused = tuple(str(problem) for problem in error.problems)
    row = AlternativeRow(name=name, set=dict(changes), refused=refused, choice=job and _choice(job))
    return Alternative(row=row, job=job)


def _choice(job: Job) -> ChoiceRow:
    one, slats = summarise(job), job.config.slats
    low, high = one.cost_range or (None, None)
    return ChoiceRow(
        code=code_of(job),
        good_for=trust_of(job).good_for,
        run=slats.run,
        gap=slats.gap,
        species=slats.species,
        cost=one.cost,
        low=low,
        high=high,
        is_complete=one.cost_complete,
        days=job.calendar.days,
        room_days=job.calendar.room_days,
        boards=job.cost.load.boards,
        board_length=one.board_length,
        waste=one.waste,
        slats=one.full + one.ripped,
        rips=one.ripped,
        stops=one.lengths,
        against=against(job, untold=("fit-chance", "nail-reach")),
    )
