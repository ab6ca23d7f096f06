"""The keys that every table knows."""

from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any, get_args, get_origin

from pydantic import AliasPath

from lacunar.config.config import Config
from lacunar.config.lines import KeyPath
from lacunar.config.table import Table


@cache
def keys_of(path: KeyPath) -> Mapping[str, str]:
    """Description of every key of the table at a path; none where there is no such table."""
    table: type[Table] | None = Config
    for step in path:
        table = _inside(table, step) if table else None
    return _keys(table) if table else {}


@cache
def tables_with(key: str) -> tuple[str, ...]:
    """Headers of the top-level tables that know a key: ("[shop]",)."""
    return tuple(f"[[{name}]]" if many else f"[{name}]" for name, table, many in _top_tables() if key in _keys(table))


def _keys(table: type[Table]) -> dict[str, str]:
    fields = table.model_fields.items()
    return {
        field.alias or name: field.description or ""
        for name, field in fields
        if not isinstance(field.validation_alias, AliasPath)  # stands in another table
    }


def _top_tables() -> Iterator[tuple[str, type[Table], bool]]:
    for name, field in Config.model_fields.items():
        table = _table_in(field.annotation)
        if table is not None:
            yield name, table, get_origin(field.annotation) is tuple


def _inside(table: type[Table], step: str | int) -> type[Table] | None:
    """The table below a key; a list's number or a mapping's own key stays where it is."""
    if isinstance(step, int):
        return table
    for name, field in table.model_fields.items():
        if (field.alias or name) == step:
            return _table_in(field.annotation)
    return table


def _table_in(annotation: Any) -> type[Table] | None:
    """The table that a field's type is made of, through lists, mappings and None."""
    if isinstance(annotation, type) and issubclass(annotation, Table):
        return annotation
    found = (_table_in(part) for part in get_args(annotation))
    return next((table for table in found if table is not None), None)
