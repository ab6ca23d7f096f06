"""Where a length goes in a config's document, and how it is written there."""

# pyright: basic
# tomlkit's containers are untyped; what goes in and comes out here is plain text.

from collections.abc import Sequence
from typing import Any

from lacunar.config import Beam, Fixture, add_key
from lacunar.field.sheet_row import length_text
from lacunar.units import UnitError, Units, read_length


def named(document: Any, key: str, given: Sequence[Beam | Fixture], name: str) -> Any:
    """The table of that name among those of a key, by the names that the config gave them; None where there is none."""
    names = [one.name for one in given] or [table.get("name") for table in document.get(key, ())]
    return document[key][names.index(name)] if name in names else None


def put(table: Any, key: str, mm: float, units: Units) -> None:
    """A length into a table, unless it is there already; a bare number of millimetres stays one."""
    old = table.get(key)
    if old is not None and _reads_as(old, units) == mm:
        return
    bare = units == "mm" and isinstance(old, int | float)
    value = (int(mm) if mm == int(mm) else mm) if bare else length_text(mm, units)
    if old is None:
        add_key(table, key, value)
    else:
        table[key] = value


def _reads_as(value: Any, units: Units) -> float | None:
    plain = value.unwrap() if hasattr(value, "unwrap") else value
    try:
        return read_length(plain, units)
    except UnitError:
        return None
