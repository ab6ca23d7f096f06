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
from lacunar.units import Units, finest_mark, format_length, read_length

Measures = Mapping[str, float | Mapping[str, float] | None]
"""Lengths in mm by key (length, width, width_end, shortest, longest), of faces by what they look at; of None there is
none any more."""

FieldRows = Mapping[str, Measures]
"""By part id."""


def config_text(config: Config) -> str:
    """TOML that reads as the same config: every value given, lengths exact in mm."""
    import tomlkit

    document: Raw = config.model_dump(mode="json", by_alias=True, exclude_none=True)
    document["field"]["readings"] = document.pop("readings")
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


def write_field(path: Path | str, rows: FieldRows, readings: Mapping[str, str] | None = None) -> None:
    """Write field measures into [field] of a config; every other byte of the file stays.

    Rows of parts that are there already are replaced key by key. The file is replaced at once or not at all.

    Args:
        path: the config.
        rows: lengths in mm by part id and key.
        readings: as they were typed, by the row of the sheet.

    Raises:
        ConfigError: the file is not there, or not TOML.
    """
    edit_config(Path(path), lambda document: _add_rows(document, rows, readings or {}))


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


def _add_rows(document: Any, rows: FieldRows, readings: Mapping[str, str]) -> None:
    """Put rows and readings into [field]."""
    import tomlkit
    from tomlkit.items import Table

    units = "mm" if document.get("units") == "mm" else "in"
    if "field" not in document:
        document["field"] = tomlkit.table()
    field: Any = document["field"]
    for part, measures in rows.items():
        row: dict[str, Any] = dict(field.get(part, {}))
        given = {key: _measure(value, units) for key, value in measures.items() if value is not None}
        if part not in field:
            add_key(field, part, tomlkit.inline_table())
        field[part].update(given)
        for key in measures.keys() & row.keys() - given.keys():
            del field[part][key]
    if readings and "readings" not in field:
        add_key(field, "readings", tomlkit.table() if isinstance(field, Table) else tomlkit.inline_table())
    for name, text in readings.items():
        if name in field["readings"]:
            field["readings"][name] = text
        else:
            add_key(field["readings"], name, text)


def _measure(value: float | Mapping[str, float], units: Units) -> Any:
    import tomlkit

    if not isinstance(value, Mapping):
        return measure_text(value, units)
    table: Any = tomlkit.inline_table()
    table.update({name: measure_text(mm, units) for name, mm in value.items()})
    return table


def add_key(table: Any, key: str, value: Any) -> None:
    """A new key after the last one: comments that stand above the next table stay there."""
    from tomlkit.items import Table

    is_block = isinstance(table, Table)
    body: Any = table.value.body if is_block else []
    count = max((i for i, (name, _) in enumerate(body, start=1) if name is not None), default=0)
    tail = [item for _, item in body[count:]]
    del body[count:]
    table[key] = value
    for item in tail:
        table.add(item)


def measure_text(mm: float, units: Units) -> str:
    """As a person would write it: on 1/64 in, or to 0.001 in or 0.01 mm, where that says it exactly; else exact."""
    texts = (plain_length(mm, units), format_length(mm, units, finest_mark(units), "inches"))
    return next((text for text in texts if read_length(text) == mm), exact_text(mm))
