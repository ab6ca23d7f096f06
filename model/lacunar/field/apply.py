"""A filled-in sheet back into the config it was printed from."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from lacunar.config import Config, FieldRow, read_config, read_config_text, write_field
from lacunar.errors import ConfigError, Problem
from lacunar.field.above_slats import UNKNOWN
from lacunar.field.beams import uneven
from lacunar.field.coffer_fit import fit_coffers
from lacunar.field.design import Design, design
from lacunar.field.edit_config import edit_room
from lacunar.field.filled_csv import Expected, Filled, Known, read_filled
from lacunar.field.fitted import Fitted
from lacunar.field.holes import fit_last
from lacunar.field.openings import fit_openings
from lacunar.field.room_rows import expected, target
from lacunar.field.sheet_row import STAGES, Stage, shown
from lacunar.field.trim import fit_trim
from lacunar.files import write_whole
from lacunar.parts import apply_field, make_parts
from lacunar.survey import solve_survey
from lacunar.units import INCH, UnitError, Units, read_length

LIMITS: Mapping[Stage, float] = {
    "room": 6.0 * INCH,
    "openings": INCH / 2.0,
    "coffers": INCH / 2.0,
    "last": INCH / 2.0,
    "trim": INCH / 2.0,
}
"""mm. How far off the design a value may be before it is to be measured again. The room's shape is a guess before it is
measured, so its limit only catches a foot or a digit; wood is put up to the design within about 1/4 in. Own choice."""


def read_limit(text: str, units: Units) -> float | None:
    """How far off the design a value may be, as typed, mm; None where nothing is.

    Raises:
        ConfigError: it is no length, or not more than 0.
    """
    if not text.strip():
        return None
    try:
        limit = read_length(text, units)
    except UnitError as error:
        raise ConfigError([Problem(where="--limit", what=str(error))]) from None
    if limit <= 0.0:
        raise ConfigError([Problem(where="--limit", what=f'got "{text}", must be more than 0')])
    return limit


@dataclass(frozen=True, slots=True, kw_only=True)
class Applied:
    """What a filled-in sheet changed.

    Attributes:
        path: of the config.
        parts: ids of parts whose measures were written, those that were there already too.
        changed: the file has other bytes now.
        blank: rows of the sheet without a value.
        notes: sentences: what waits, what to know before cutting.
    """

    path: Path
    parts: tuple[str, ...]
    changed: bool
    blank: int
    notes: tuple[str, ...]


def apply_measures(path: Path, filled: Path, limit: float | None = None) -> Applied:
    """Check a filled-in CSV and write it into the config: the room's own values, or [field]. Safe to repeat.

    Args:
        path: the config.
        filled: the CSV.
        limit: mm off the design that is still believed; by stage where None.

    Raises:
        LacunarError: with every problem; nothing is written then.
    """
    config = read_config(path)
    drawn = design(config)
    read = read_filled(filled, config, _known(drawn, limit))
    before = path.read_bytes()
    if "room" in read.values:
        fitted = _apply_room(path, filled, drawn, read)
    else:
        fitted = _fit(config, drawn, read)
        _write_rows(path, drawn, fitted)
    return Applied(
        path=path,
        parts=tuple(fitted.rows),
        changed=path.read_bytes() != before,
        blank=read.blank,
        notes=_notes(config, fitted),
    )


def _known(drawn: Design, limit: float | None) -> Known:
    limits: dict[str, float] = {stage: LIMITS[stage] if limit is None else limit for stage in STAGES}
    every = [
        row if limit is None or row.limit == UNKNOWN else replace(row, limit=limit)
        for stage in STAGES
        for row in drawn.rows[stage]
    ]
    rows = {(row.stage, row.name): row for row in every}

    def other(stage: str, name: str) -> Expected | None:
        """Another distance of the room than those of today's sheet: what is measured changes what else to measure."""
        found = target(drawn.config, drawn.sketch, name) if stage == "room" else None
        return Expected(mm=expected(drawn.sketch, found)) if found is not None else None

    renamed = {(row.stage, row.formerly): row.name for row in every if row.formerly}
    return Known(rows=rows, design=other, limits=limits, renamed=renamed)


def _fit(config: Config, drawn: Design, read: Filled) -> Fitted:
    layout = drawn.layout
    if layout is None:
        return Fitted()
    values = {stage: read.values.get(stage, {}) for stage in STAGES}
    parts = {part.id: part for part in make_parts(layout)}
    fitted = fit_openings(layout, parts, values["openings"])
    fitted = _merged(fitted, fit_coffers(config, layout, parts, values["coffers"]))
    fitted = _merged(fitted, fit_last(config, layout, parts, values["last"]))
    return _merged(fitted, fit_trim(layout, parts, values["trim"]))


def _merged(one: Fitted, other: Fitted) -> Fitted:
    """Both; a slat may have its length from one and its width from the other."""
    both = one.and_(other)
    rows = {part: {**one.rows.get(part, {}), **other.rows.get(part, {})} for part in both.rows}
    return Fitted(rows=rows, waiting=both.waiting, remarks=both.remarks)


def _write_rows(path: Path, drawn: Design, fitted: Fitted) -> None:
    """What the file does not say yet; to a millionth of a mm, so that it can be read.

    Raises:
        LayoutError: a part cannot take its row; nothing is written.
    """
    config, fresh = drawn.config, dict[str, dict[str, float]]()
    rows = dict(config.field)
    for part, row in fitted.rows.items():
        before = rows.get(part, FieldRow())
        given = {key: round(mm, 6) for key, mm in row.items() if getattr(before, key) != round(mm, 6)}
        if given:
            fresh[part] = given
            rows[part] = before.model_copy(update=given)
    if fresh and drawn.layout is not None:
        apply_field(make_parts(drawn.layout), config.model_copy(update={"field": rows}))
        write_field(path, fresh)


def _apply_room(path: Path, filled: Path, drawn: Design, read: Filled) -> Fitted:
    others = [stage for stage in read.values if stage != "room"]
    if others:
        what = f"holds measures of the room and of {', '.join(others)}: the room's change the design of all others"
        raise ConfigError([Problem(where=filled.name, what=what, fix="apply the room's in a file of their own, first")])
    problems = uneven(filled, drawn.config, drawn.sketch, read.values["room"], read.listed["room"])
    if problems:
        raise ConfigError(problems)
    text = path.read_bytes().decode("utf-8")
    mark = "\ufeff" if text.startswith("\ufeff") else ""
    edited = edit_room(
        text.removeprefix("\ufeff"), drawn.config, drawn.sketch, read.values["room"], read.listed["room"]
    )
    after = mark + edited.text
    if after != text:
        solve_survey(read_config_text(edited.text, path))  # a room that the file could not be read from is not written
        write_whole(path, after.encode("utf-8"))
    return edited.fitted


def _notes(config: Config, fitted: Fitted) -> tuple[str, ...]:
    waiting = [f"{what} waits for: {', '.join(missing)}" for what, missing in fitted.waiting]
    remarks = [
        f"{remark.where}: {remark.what}" + (f" {shown(remark.by, config.units)}" if remark.by is not None else "")
        for remark in fitted.remarks
    ]
    return (*waiting, *remarks)
