"""A filled-in sheet back into the config it was printed from."""

from dataclasses import dataclass
from pathlib import Path

from lacunar.config import FieldRow, read_config, read_config_text, write_field
from lacunar.errors import ConfigError, Problem
from lacunar.field.beams import uneven
from lacunar.field.coffer_fit import fit_coffers
from lacunar.field.design import Design, design
from lacunar.field.edit_config import edit_room
from lacunar.field.filled_csv import Filled, read_filled
from lacunar.field.fitted import Fitted
from lacunar.field.holes import fit_last
from lacunar.field.openings import fit_openings
from lacunar.field.sheet_row import STAGES, shown
from lacunar.field.trim import fit_trim
from lacunar.files import write_whole
from lacunar.parts import apply_field, make_parts
from lacunar.survey import solve_survey
from lacunar.units import Units


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
    drawn = design(read_config(path))
    read = read_filled(filled, drawn, limit)
    before = path.read_bytes()
    if "room" in read.values:
        fitted = _apply_room(path, filled, drawn, read)
    else:
        fitted = _fit(drawn, read)
        _write_rows(path, drawn, fitted)
    return Applied(
        path=path,
        parts=tuple(fitted.rows),
        changed=path.read_bytes() != before,
        blank=read.blank,
        notes=_notes(fitted, drawn.config.units),
    )


def _fit(drawn: Design, read: Filled) -> Fitted:
    config, layout = drawn.config, drawn.layout
    if layout is None:
        return Fitted()
    values = {stage: read.values.get(stage, {}) for stage in STAGES}
    parts = {part.id: part for part in make_parts(layout)}
    fitted = fit_openings(layout, parts, values["openings"])
    fitted = fitted.and_(fit_coffers(config.slats, config.read_to, layout, parts, values["coffers"]))
    fitted = fitted.and_(fit_last(config, layout, parts, values["last"]))
    return fitted.and_(fit_trim(layout, parts, values["trim"]))


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
    problems = uneven(filled, drawn.sketch, read.values["room"], read.listed["room"])
    if problems:
        raise ConfigError(problems)
    text = path.read_bytes().decode("utf-8")
    mark = "\ufeff" if text.startswith("\ufeff") else ""
    edited, fitted = edit_room(text.removeprefix("\ufeff"), drawn.sketch, read.values["room"], read.listed["room"])
    after = mark + edited
    if after != text:
        solve_survey(read_config_text(edited, path))  # a room that the file could not be read from is not written
        write_whole(path, after.encode("utf-8"))
    return fitted


def _notes(fitted: Fitted, units: Units) -> tuple[str, ...]:
    waiting = [f"{what} waits for: {', '.join(missing)}" for what, missing in fitted.waiting]
    remarks = [
        f"{remark.where}: {remark.what}" + (f" {shown(remark.by, units)}" if remark.by is not None else "")
        for remark in fitted.remarks
    ]
    return (*waiting, *remarks)
