"""Rooms as they truly are, for benchmarks: the survey's readings, each off as readings are."""

import math
from collections.abc import Mapping, Sequence

import numpy as np

from lacunar.analysis import arrange, plan_parts
from lacunar.chance import Errors
from lacunar.config import Config, FieldRow
from lacunar.field.coffer_fit import fit_coffers
from lacunar.field.coffer_frame import frames
from lacunar.field.coffers import chord_ends, diagonals, length_names, stations
from lacunar.layout import Layout
from lacunar.parts import Part, apply_field
from lacunar.plan import Plan
from lacunar.survey import solve_survey

Rows = Mapping[str, Mapping[str, float]]


def true_layout(config: Config, errors: Errors, rng: np.random.Generator) -> Layout:
    """The ceiling in a room whose distances are off what was read."""

    def off(mm: float) -> float:
        return mm + errors.sd(mm) * float(rng.standard_normal())

    measured = {name: off(mm) for name, mm in config.room.measured.items()}
    beams = tuple(
        beam.model_copy(update={"ends": tuple(e.model_copy(update={"at": off(e.at)}) for e in beam.ends or ())})
        for beam in config.beam
    )
    room = config.room.model_copy(update={"measured": measured})
    other = config.model_copy(update={"room": room, "beam": beams})
    return arrange(other, solve_survey(other))[0]


def readings(drawn: Layout, true: Layout) -> dict[str, float]:
    """What a tape without error reads in the true coffers, where the design has its rows."""
    found: dict[str, float] = {}
    for frame, real in zip(frames(drawn), frames(true), strict=True):
        for name, across in zip(length_names(frame), stations(frame), strict=True):
            ends = chord_ends(real, across)
            assert ends is not None
            found[f"{frame.coffer.id} {name}"] = math.dist(*ends) * real.stretch[0]
        for name, ends in diagonals(real):
            found[f"{frame.coffer.id} {name}"] = real.true_length(*ends)
    return found


def rows_of(config: Config, layout: Layout, parts: Sequence[Part], values: Mapping[str, float]) -> Rows:
    """Of [field], from what was read of the coffers."""
    by_id = {part.id: part for part in parts}
    rows = fit_coffers(config.slats, config.read_to, layout, by_id, values).rows
    return {id: {key: mm for key, mm in row.items() if isinstance(mm, float)} for id, row in rows.items()}


def slat_plan(config: Config, parts: tuple[Part, ...], rows: Rows) -> Plan:
    """Of the slats alone, their coffers measured."""
    measured = config.model_copy(
        update={"field": {name: FieldRow().model_copy(update=row) for name, row in rows.items()}}
    )
    return plan_parts(apply_field(parts, measured), measured, stock=config.slats.stock)[0]
