"""A config as TOML again, and field measures written into the file they belong to."""

import re
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from lacunar.config.config import Config
from lacunar.config.lengths import exact_text, plain_length
from lacunar.config.raw import Raw, is_list, is_table
from lacunar.config.syntax import read_text, read_toml
from lacunar.files import write_whole
from lacunar.units import Units, read_length

FieldRows = Mapping[str, Mapping[str, float]]
"""Lengths in mm by part id and key (length, width, width_end, shortest, longest)."""


def config_text(config: Config) -> str:
    """TOML that reads as the same config: every value given, lengths exact in mm."""
    import tomlkit

    document: Raw = config.model_dump(mode="json", by_alias=True, exclude_none=True)
    document["shop"].pop("boards", None)  # its rows stand in shop.board
    if config.cross_beams is not None and config.cross_beams.at:
        document["cross_beams"].pop("rows", None)
    if config.slats.spacer is None:
        document["slats"].pop("gap")  # the bench gives it
    return tomlkit.dumps(_without_empty(document))  # pyright: ignore[reportUnknownMemberType] - untyped there


def _without_empty(value: Any) -> Any:
    """The document without empty lists and tables: they say no more than that the key is not given."""
    if is_table(value):
        kept = {key: _without_empty(item) for key, item in value.items()}
        return {key: item for key, item in kept.items() if item not in ({}, [])}
    return [_without_empty(item) for item in value] if is_list(value) else value


def write_field(path: Path | str, rows: FieldRows) -> None:
    """Write field measures into [field] of a config; every other byte of the file stays.

    Rows of parts that are there already are replaced key by key. The file is replaced at once or not at all.

    Args:
        path: the config.
        rows: lengths in mm by part id and key.

    Raises:
        ConfigError: the file is not there, or not TOML.
    """
    edit_config(Path(path), lambda document: _add_rows(document, rows))


def edit_config(path: Path, edit: Callable[[Any], None]) -> None:
    """Change a config's document in place; every byte that is not changed stays, and the file is replaced at once.

    Args:
        path: the config.
        edit: changes the tomlkit document that it is given.

    Raises:
        ConfigError: the file is not there, or not TOML.
    """
    import tomlkit

    read_toml(read_text(path), path.name)
    before = path.read_bytes().decode("utf-8")
    mark = "\ufeff" if before.startswith("\ufeff") else ""
    document: Any = tomlkit.parse(before.removeprefix("\ufeff"))
    edit(document)
    written: str = tomlkit.dumps(document)  # pyright: ignore[reportUnknownMemberType] - untyped there
    write_whole(path, (mark + with_line_ends_of(before, written)).encode("utf-8"))


def with_line_ends_of(before: str, after: str) -> str:
    """The later text, its new lines ending as all lines of the earlier one do."""
    lone = re.compile(r"(?<!\r)\n")
    return lone.sub("\r\n", after) if "\r\n" in before and not lone.search(before) else after


def _add_rows(document: Any, rows: FieldRows) -> None:
    """Put rows into [field]."""
    import tomlkit

    units = "mm" if document.get("units") == "mm" else "in"
    if "field" not in document:
        document["field"] = tomlkit.table()
    field: Any = document["field"]
    for part, measures in rows.items():
        if part not in field:
            field[part] = tomlkit.inline_table()
        for key, mm in measures.items():
            field[part][key] = measure_text(mm, units)


def measure_text(mm: float, units: Units) -> str:
    """As a person would write it, to 1/64 in or 0.1 mm where it lies on that mark; else exact."""
    text = plain_length(mm, units)
    return text if read_length(text) == mm else exact_text(mm)
