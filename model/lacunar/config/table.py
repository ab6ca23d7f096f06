"""What every table of the config has in common, and how a length may be left out of one."""

from dataclasses import dataclass
from typing import Any, Self, TypeGuard

from pydantic import BaseModel, ConfigDict, Field

from lacunar.config.lengths import NOT_GIVEN, Limit


class Table(BaseModel):
    """One table of the file, frozen, that knows its keys and no others."""

    model_config = ConfigDict(frozen=True, extra="forbid", str_strip_whitespace=False)

    def changed(self, **updates: Any) -> Self:
        """A copy with other values, also of what stands in no file."""
        own = {name: value for name, value in updates.items() if name not in type(self).model_fields}
        copy = self.model_copy(update={name: value for name, value in updates.items() if name not in own})
        for name, value in own.items():
            setattr(copy, f"_{name}", value)
        return copy


def is_tables(value: object) -> TypeGuard[tuple[Table, ...]]:
    """Whether a value is a list of tables, and one of some at least."""
    items: Any = value
    return isinstance(value, tuple) and isinstance(next(iter(items), None), Table)


@dataclass(frozen=True, slots=True, kw_only=True)
class Default:
    """What is taken for a length that the file does not give; says so in the schema of its key.

    Attributes:
        size: None where it follows from other keys.
        words: the same in words.
        told: it is one of the assumptions.
    """

    size: Limit | None
    words: str
    told: bool

    def __call__(self, schema: dict[str, Any]) -> None:
        """Add it to the key's description."""
        schema["description"] = f"{schema.get('description', '')} Default: {self.words}.".lstrip()


def default(text: str, taken: Limit | str, more: str = "", *, told: bool = True, absent: object = NOT_GIVEN) -> Any:
    """The field of a length that may be left out. What is then taken is written here, and nowhere else.

    Args:
        text: what the length is.
        taken: what it is then, or how it follows from other keys.
        more: where it is another.
        told: `assumed` has a sentence for it, as for every length of which nothing more is to be said.
        absent: stands for it until the defaults have been filled in.
    """
    size = taken if isinstance(taken, Limit) else None
    words = f"{size.inches}, or {size.metric}{more}" if size else f"{taken}"
    extra = Default(size=size, words=words, told=told)
    return Field(default=absent, description=text or None, json_schema_extra=extra)


def default_of(table: type[Table], key: str) -> Limit:
    """What is taken where a table does not give a length."""
    found = table.model_fields[key].json_schema_extra
    assert isinstance(found, Default), key
    assert found.size is not None, key
    return found.size
