"""Where a thing stands in the file, and what pydantic found, in words of the trade."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from lacunar.config.keys import keys_of, tables_with
from lacunar.config.lines import KeyPath, printed_key
from lacunar.config.raw import is_list, is_table
from lacunar.config.reading import CUSTOM, did_you_mean, shown
from lacunar.errors import Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class Places:
    """Where every key of a file stands.

    Attributes:
        file: its name.
        lines: line of every key.
        overridden: paths that an override set, and how each is told.
        elsewhere: file and line of what stands in another file, by path.
    """

    file: str
    lines: Mapping[KeyPath, int]
    overridden: Mapping[KeyPath, str] = field(default_factory=dict[KeyPath, str])
    elsewhere: Mapping[KeyPath, str] = field(default_factory=dict[KeyPath, str])

    def line(self, path: KeyPath) -> int:
        """Line of the key, or of the nearest table that would hold it; 0 for none."""
        return next((self.lines[path[:n]] for n in range(len(path), 0, -1) if path[:n] in self.lines), 0)

    def where(self, path: KeyPath) -> str:
        """File, line and key."""
        over = next((path[:n] for n in range(len(path), 0, -1) if path[:n] in self.overridden), None)
        if over is not None:
            return f"{self.overridden[over]}{printed_key(path[len(over) :], below=True)}"
        other = next((self.elsewhere[path[:n]] for n in range(len(path), 0, -1) if path[:n] in self.elsewhere), "")
        if other:
            return f"{other} {path[-1]}"
        key, line = printed_key(path), self.line(path)
        return f"{self.file}:{line} {key}" if line else f"{self.file} {key}"

    def problem(self, path: KeyPath, what: str, fix: str = "") -> Problem:
        """A problem of one key."""
        return Problem(where=self.where(path), what=what, fix=fix)


def told(error: Mapping[str, Any], path: KeyPath) -> tuple[str, str]:
    """What is wrong and what to do, for one of pydantic's errors.

    Args:
        error: type, input and context as pydantic gives them.
        path: the key, as the file has it.
    """
    kind, value, context = str(error["type"]), error.get("input"), error.get("ctx", {})
    if kind == CUSTOM:
        return str(context["what"]), str(context["fix"])
    if kind == "extra_forbidden":
        return "unknown key", _known_advice(path)
    if kind == "missing":
        described = _described(path)
        return f"missing, must be given: {described}" if described else "missing, must be given", ""
    if kind in ("model_type", "model_attributes_type", "mapping_type", "dict_type"):
        return f"got {_listed_tables(value)}, must be a table", _one_table_advice(path, value)
    if kind in ("tuple_type", "list_type"):
        return f"got {shown(value)}, must be a list", _list_advice(path, value)
    return f"got {shown(value)}: {error.get('msg', kind)}", ""


def _known_advice(path: KeyPath) -> str:
    name, table = str(path[-1]), path[:-1]
    known = keys_of(table)
    advice = did_you_mean(name, known)
    if advice:
        return advice
    homes = tables_with(name)
    if homes:
        return f"it belongs in {' or '.join(homes)}"
    return f"known here: {', '.join(known)}" if known else ""


def _described(path: KeyPath) -> str:
    text = keys_of(path[:-1]).get(str(path[-1]), "")
    return (text[:1].lower() + text[1:]).rstrip(".")


def _listed_tables(value: object) -> str:
    return "a list of tables" if is_list(value) and value and is_table(value[0]) else shown(value)


def _one_table_advice(path: KeyPath, value: object) -> str:
    name = printed_key(path)
    if is_list(value):
        return f"write [{name}] with one bracket, once"
    return f"write [{name}] and its keys below it" if len(path) == 1 else "write { key = value, ... }"


def _list_advice(path: KeyPath, value: object) -> str:
    if is_table(value):
        return f"write [[{printed_key(path)}]] with two brackets" if len(path) == 1 else "put it between [ and ]"
    return "put it between [ and ], with commas"
