"""Sheets filled in as a person would."""

import csv
from collections.abc import Mapping, Sequence
from pathlib import Path

from lacunar.config import read_config
from lacunar.field import STAGES, Row, Stage, design

HEAD = ("row", "stage", "name", "design", "measured", "note")


def copied(source: Path, folder: Path) -> Path:
    """A config of one's own, byte for byte."""
    path = folder / source.name
    path.write_bytes(source.read_bytes())
    return path


def rows_of(path: Path, stage: Stage) -> dict[str, Row]:
    """The rows of a stage by name."""
    return {row.name: row for row in design(read_config(path)).rows[stage]}


def sheet(path: Path, stage: str, values: Mapping[str, str] | Sequence[tuple[str, str]]) -> Path:
    """A CSV beside a config, with these values in `measured`."""
    pairs = list(values.items()) if isinstance(values, Mapping) else list(values)
    filled = path.with_name(f"filled-{stage}.csv")
    with filled.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(HEAD)
        writer.writerows((n, stage, name, "", value, "") for n, (name, value) in enumerate(pairs, start=1))
    return filled


def as_designed(path: Path, stages: Sequence[Stage] = STAGES[1:]) -> Path:
    """Every row of some stages filled in with exactly what the design has."""
    drawn = design(read_config(path))
    filled = path.with_name("as-designed.csv")
    with filled.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(HEAD)
        for stage in stages:
            writer.writerows((row.number, stage, row.name, "", f"{row.design!r} mm", "") for row in drawn.rows[stage])
    return filled
