"""Sheets to fill in by hand: a PDF and a CSV of the same rows for each stage."""

import contextlib
import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from lacunar.config import Config
from lacunar.drawings import Page, pdf_bytes
from lacunar.errors import ConfigError, ExportError, LayoutError, Problem
from lacunar.field.angled import NOTE as ALONG_LINE
from lacunar.field.card_pages import card_pages
from lacunar.field.design import Design, design
from lacunar.field.filled_csv import COLUMNS, NOT_YET
from lacunar.field.room_pages import room_pages
from lacunar.field.sheet_row import STAGES, Row, Stage, shown
from lacunar.field.stage_paper import TITLES, paper
from lacunar.files import TABLE_ENCODING, TABLE_LARGEST, made, read_plain, replacing, table_text


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheets:
    """What was written.

    Attributes:
        files: in order.
        notes: sentences: which stages have no sheet, and why.
    """

    folder: Path
    files: tuple[Path, ...]
    notes: tuple[str, ...]


def write_sheets(config: Config, folder: Path, stage: Stage | None = None) -> Sheets:
    """Write `<stage>.pdf` and `<stage>.csv` for one stage, or for every stage that has something to measure.

    Raises:
        LayoutError: the stage that was asked for needs a ceiling, and the config makes none.
        ConfigError: the stage that was asked for has nothing to measure.
        ExportError: a CSV that is there holds values, or the folder cannot be written.
    """
    drawn = design(config)
    wanted: list[Stage] = [stage] if stage is not None else [one for one in STAGES if drawn.rows[one]]
    _refuse(drawn, stage)
    _keep_values(folder, wanted)
    files: dict[Path, bytes] = {}
    for one in wanted:
        files[folder / f"{one}.pdf"] = pdf_bytes(sheet_pages(drawn, one), f"{config.title}: {TITLES[one]}")
        files[folder / f"{one}.csv"] = csv_text(drawn, one).encode(TABLE_ENCODING)
    try:
        with made(folder), contextlib.ExitStack() as all_or_none:
            for path, data in files.items():
                all_or_none.enter_context(replacing(path)).write_bytes(data)
    except OSError as error:
        what = f"cannot be written: {error.strerror or error}"
        raise ExportError([Problem(where=str(error.filename or folder), what=what)]) from error
    notes = [f"only the room's sheet: {problem}" for problem in drawn.problems] if stage is None else []
    return Sheets(folder=folder, files=tuple(files), notes=tuple(notes))


def _refuse(drawn: Design, stage: Stage | None) -> None:
    if stage is None or drawn.rows[stage]:
        return
    if drawn.problems:
        raise LayoutError(drawn.problems)
    what = f'got "{stage}", and this ceiling has nothing to measure then'
    raise ConfigError([Problem(where="--stage", what=what)])


def _keep_values(folder: Path, stages: Sequence[Stage]) -> None:
    """Nobody's measures are written over."""
    problems = [
        Problem(
            where=str(folder / f"{stage}.csv"),
            what="holds measured values, and would be written over",
            fix="apply it with --apply and move it away, or give another folder with -o",
        )
        for stage in stages
        if _has_values(folder / f"{stage}.csv")
    ]
    if problems:
        raise ExportError(problems)


def _has_values(path: Path) -> bool:
    if not path.exists():
        return False
    text = read_plain(path, TABLE_LARGEST).decode(TABLE_ENCODING, errors="replace")
    delimiter = max((",", ";", "\t"), key=text.partition("\n")[0].count)
    try:
        rows = csv.DictReader(io.StringIO(text, newline=""), delimiter=delimiter)
        return any((row.get("measured") or "").strip() not in NOT_YET for row in rows)
    except csv.Error:
        return True  # whatever it holds, it is not what a sheet is written as


def csv_text(drawn: Design, stage: Stage) -> str:
    """The rows of a stage as CSV, `measured` empty."""
    units = drawn.config.units
    rows = ((row.number, row.stage, row.name, shown(row.design, units), "", _note(row)) for row in drawn.rows[stage])
    return table_text(COLUMNS, rows)


def _note(row: Row) -> str:
    return row.note if row.note != "optional" else "optional: says whether the coffer leans"


def sheet_pages(drawn: Design, stage: Stage) -> tuple[Page, ...]:
    """The pages of a stage."""
    rows = drawn.rows[stage]
    lit = ["light", *(hole.coffer for hole in (drawn.layout.cut_outs if drawn.layout is not None else ()))]
    angled = stage == "coffers" and all(row.note == ALONG_LINE for row in rows)
    sheet = paper(drawn.config, stage, near_light=any(row.card in lit for row in rows), angled=angled)
    return (room_pages if stage == "room" else card_pages)(sheet, drawn.sketch, rows)
