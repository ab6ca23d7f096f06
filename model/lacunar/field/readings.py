"""Readings that the config kept, and those of a sheet over them."""

import difflib
from collections.abc import Iterator, Mapping

from lacunar.config import Config
from lacunar.errors import ConfigError, Problem
from lacunar.field.design import Design
from lacunar.field.filled_csv import Filled
from lacunar.field.sheet_row import STAGES, Row, Stage, Values
from lacunar.units import read_length


def completed(drawn: Design, read: Filled) -> Mapping[Stage, Values]:
    """What was read of each coffer or piece that a sheet says something of: on the sheet, else before.

    Coffers and pieces that the sheet does not name keep what followed for them. Last holes come with what was read of
    their coffers, which tells of them too.

    Raises:
        ConfigError: the config kept a reading of something that there is not.
    """
    config, rows = drawn.config, {row.name: row for stage in STAGES[1:] for row in drawn.rows[stage]}
    kept = _kept(config, rows)
    found: dict[Stage, Values] = {}
    for stage in STAGES[1:]:
        stages = ("coffers", "last") if stage == "last" else (stage,)
        typed = {name: mm for told in stages for name, mm in read.values.get(told, {}).items()}
        cards = {rows[name].card for name in typed}
        before = {name: mm for name, mm in kept.items() if rows[name].stage in stages and rows[name].card in cards}
        found[stage] = {**before, **typed}
    return found


def _kept(config: Config, rows: Mapping[str, Row]) -> Values:
    """By today's names; what is checked of a length has been when the config was read."""
    renamed = {row.formerly: row.name for row in rows.values() if row.formerly}
    kept = {renamed.get(name, name): read_length(text, config.units) for name, text in config.readings.items()}
    if problems := list(_unknown(config, kept, rows)):
        raise ConfigError(problems)
    return kept


def _unknown(config: Config, kept: Values, rows: Mapping[str, Row]) -> Iterator[Problem]:
    for name in kept:
        if name not in rows:
            near = difflib.get_close_matches(name, rows, n=1)
            where, what = f'{config.path.name} field.readings."{name}"', "no row of the measuring sheets has that name"
            yield Problem(where=where, what=what, fix=f"did you mean {near[0]}?" if near else "take it out")
