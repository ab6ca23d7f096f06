"""What a household chooses between, and what it has to decide."""

import json
from collections.abc import Mapping
from datetime import date
from typing import Annotated

from pydantic import AfterValidator, Field

from lacunar.config.names import Text, When
from lacunar.config.overrides import override_value
from lacunar.config.raw import is_list, is_table
from lacunar.config.reading import kind, shown, wrong
from lacunar.config.table import Table


def _written(value: object) -> str:
    """A value as TOML on one line."""
    if isinstance(value, bool):
        return str(value).lower()
    if is_list(value):
        return f"[{', '.join(map(_written, value))}]"
    if is_table(value):
        return f"{{ {', '.join(f'{json.dumps(key)} = {_written(item)}' for key, item in value.items())} }}"
    return json.dumps(value).replace("\x7f", "\\u007f") if isinstance(value, str) else str(value)


def _typed(value: object) -> str:
    """A value of the file as it would be typed after `--set KEY=`: bare where that reads as the same."""
    if isinstance(value, str):
        return value if override_value(value) == value else _written(value)
    if not isinstance(value, date) and override_value(text := _written(value)) == value:
        return text
    raise wrong(f"got {shown(value)}, must be a text, a number, true, false, a list or a table", "put it in quotes")


Typed = Annotated[
    str,
    *kind(_typed, {"type": ["string", "number", "boolean", "array", "object"]}, override_value),
]


def _some(value: Mapping[str, str]) -> Mapping[str, str]:
    if not value:
        raise wrong("got no key, must change one or more", 'write { "slats.run" = "across" }')
    return value


class AlternativeTable(Table):
    """A design to choose from beside the file's own."""

    name: Text = Field(description="What it is called.")
    set_: Annotated[Mapping[Text, Typed], AfterValidator(_some)] = Field(
        alias="set",
        description="Keys in quotes and their values, where they differ from the file's: "
        '{ "slats.run" = "across", "slats.gap" = "3/8 in" }.',
        json_schema_extra={"minProperties": 1},
    )

    @property
    def overrides(self) -> tuple[tuple[str, str], ...]:
        """What it changes, as it would be typed."""
        return tuple(self.set_.items())


class DecideTable(Table):
    """Something that the household has to decide."""

    what: Text = Field(description="What is to be decided.")
    before: When = Field(description='By when: a day, like 2026-03-14, or in words, like "the boards are bought".')
