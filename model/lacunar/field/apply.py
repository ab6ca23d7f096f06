"""A filled-in sheet back into the config it was printed from."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from lacunar.config import FieldRow, Measures, read_config, read_config_text, safe_length, write_field
from lacunar.errors import ConfigError, Problem
from lacunar.field.beams import uneven
from lacunar.field.coffer_fit import fit_coffers
from lacunar.field.design import Design, design
from lacunar.field.edit_config import edit_room
from lacunar.field.filled_csv import Filled, read_filled
from lacunar.field.fitted import Fitted
from lacunar.field.holes import fit_last
from lacunar.field.openings import fit_openings
from lacunar.field.readings import completed
from lacunar.field.sheet_row import shown
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

    [field] keeps what was read as it was typed, and what follows from it and from what was read before.

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
        _write_field(path, drawn, fitted, read.texts)
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
    values = completed(drawn, read)
    parts = {part.id: part for part in make_parts(layout)}
    fitted = fit_openings(layout, parts, values["openings"])
    fitted = fitted.and_(fit_coffers(config.slats, config.read_to, layout, parts, values["coffers"]))
    fitted = fitted.and_(fit_last(config, layout, parts, values["last"]))
    return fitted.and_(fit_trim(layout, parts, values["trim"]))


def _write_field(path: Path, drawn: Design, fitted: Fitted, texts: Mapping[str, str]) -> None:
    """What the file does not say yet.

    Raises:
        LayoutError: a part cannot take its row; nothing is written.
    """
    config, fresh = drawn.config, dict[str, Measures]()
    rows = dict(config.field)
    for part, row in fitted.rows.items():
        before, now = rows.get(part, FieldRow()), _as_written(row, config.units)
        given = {key: mm for key, mm in now.items() if getattr(before, key) != mm}
        if given:
            fresh[part] = given
            rows[part] = before.model_copy(update=given)
    readings = {name: text for name, text in texts.items() if config.readings.get(name) != text}
    if fresh and drawn.layout is not None:
        apply_field(make_parts(drawn.layout), config.model_copy(update={"field": rows}))
    if fresh or readings:
        write_field(path, fresh, readings)


def _as_written(row: Measures, units: Units) -> Measures:
    """As a person would write it, on the safe side: the shortest no shorter, all else no longer.

    A beam piece has one length, or one along each face: the other goes.
    """
    if isinstance(faces := row.get("faces"), Mapping):
        return {"faces": {name: safe_length(mm, units) for name, mm in faces.items()}, "length": None}
    made = {key: safe_length(mm, units, up=key == "shortest") for key, mm in row.items() if isinstance(mm, float)}
    if {"length", "shortest", "longest"} <= made.keys():
        made["shortest"] = min(made["shortest"], made["longest"])
        made["length"] = min(max(made["length"], made["shortest"]), made["longest"])
    return {**made, "faces": None}


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
