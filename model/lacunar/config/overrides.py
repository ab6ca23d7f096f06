"""Changes to a config's raw TOML before it is validated, by dotted key."""

import copy
import re
import tomllib
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from typing import Any

from lacunar.config.lengths import Limit
from lacunar.config.lines import KeyPath
from lacunar.config.raw import Raw, is_list, is_table
from lacunar.errors import Problem
from lacunar.materials import find_lumber
from lacunar.units import UnitError, Units, read_length


def override_value(text: str) -> Any:
    """A value as typed: TOML where it is valid TOML, else a bare string ("across", "1/4 in")."""
    try:
        document = tomllib.loads(f"value = {text}")
    except (ValueError, RecursionError):  # no TOML, a number of thousands of digits, lists too deep
        return text
    value: Any = document.get("value")
    return (
        value
        if len(document) == 1 and (isinstance(value, str | int | float) or is_list(value) or is_table(value))
        else text
    )


def apply_overrides(
    raw: Raw, overrides: Sequence[tuple[str, str]], where: Callable[[str, KeyPath], str]
) -> tuple[Raw, Mapping[KeyPath, str], list[Problem]]:
    """A copy with the overrides in it, where each path that was set is told to be, and what could not be set.

    Args:
        raw: the document.
        overrides: dotted key and value.
        where: how a key is told, and the path that it led to; () where it led nowhere.
    """
    changed = copy.deepcopy(raw)
    paths: dict[KeyPath, str] = {}
    problems: list[Problem] = []
    for key, text in overrides:
        try:
            path = _set(changed, key, override_value(text))
            paths[path] = where(key, path)
        except _NoPlaceError as error:
            problems.append(Problem(where=where(key, ()), what=str(error)))
    there = [path for path in paths if _stands(changed, path)]
    if _GAP in there and _TEN not in there:
        _keep_boards(raw, changed)
    for path in there:
        if len(path) == 2 and path[1] == "stock":
            _as_dressed(changed, path, there)
        elif len(path) == 2 and path[1] in _SIDES.get(path[0], ()) and (path[0], "stock") not in there:
            _rename(raw, changed, path)
    if _TEN not in there and not {("slats", "stock"), ("slats", "width")}.isdisjoint(there):
        changed["slats"].pop("ten", None)  # other boards were not on the bench
    return changed, paths, problems


def _stands(raw: Raw, path: KeyPath) -> bool:
    """Whether a value that was set is still in a table there: a later override may have replaced that."""
    place: Any = raw
    for name in path[:-1]:
        place = place.get(str(name)) if is_table(place) else None
    return is_table(place) and str(path[-1]) in place


_NAME = re.compile(r'\s*(?:"(?P<quoted>[^"]+)"|(?P<bare>[^."]+))\s*(?=\.|$)')

_GAP, _TEN = ("slats", "gap"), ("slats", "ten")


def _keep_boards(raw: Raw, changed: Raw) -> None:
    """Another spacer leaves the boards as they are: ten of each on the bench become longer by ten differences.

    What is no spacer is left to validation.
    """
    units: Units = "mm" if changed.get("units") == "mm" else "in"
    old: Any = raw.get("slats")
    with suppress(UnitError, KeyError):
        spacer = read_length(changed["slats"]["gap"], units)
        if is_table(old) and spacer >= 0.0:
            longer = 10.0 * (spacer - read_length(old["gap"], units))
            changed["slats"]["ten"] = f"{read_length(old['ten'], units) + longer!r} mm"


_SIDES: Mapping[str | int, tuple[str, str]] = {
    "cross_beams": ("width", "depth"),
    "slats": ("thickness", "width"),
    "trim": ("height", "width"),
    "furring": ("thickness", "width"),
}
"""Keys of the smaller and the larger side of what is bought by its nominal size."""

SAME_BOARD = Limit("1/8 in", "3 mm")
"""A board planed or swollen by so much is still sold under its name. Own judgement."""


def _rename(raw: Raw, changed: Raw, path: KeyPath) -> None:
    """A board with another side is another stock, at another price: the name goes, the other side stays as it was."""
    key, side = str(path[0]), str(path[1])
    old: Any = raw.get(key)
    stock: Any = old.get("stock") if is_table(old) else None
    if not isinstance(stock, str) or not stock:
        return
    size = find_lumber(stock)
    units: Units = "mm" if changed.get("units") == "mm" else "in"
    dressed = {} if size is None else dict(zip(_SIDES[key], (size.thickness, size.width), strict=True))
    sides = {**{name: f"{mm!r} mm" for name, mm in dressed.items()}, **old}
    with suppress(UnitError, KeyError):
        if abs(read_length(changed[key][side], units) - read_length(sides[side], units)) > SAME_BOARD.mm(units):
            del changed[key]["stock"]
            changed[key].update({name: sides[name] for name in dressed if name not in changed[key]})


def _as_dressed(changed: Raw, path: KeyPath, paths: Sequence[KeyPath]) -> None:
    """Another nominal size has sides of its own: those of the file are the old one's."""
    stock: Any = changed[str(path[0])]["stock"]
    if isinstance(stock, str) and find_lumber(stock) is not None:
        for side in _SIDES.get(path[0], ()):
            if (path[0], side) not in paths:
                changed[str(path[0])].pop(side, None)


class _NoPlaceError(Exception):
    """The key leads nowhere; the message says why."""


def _set(raw: Raw, key: str, value: Any) -> KeyPath:
    steps = _steps(key)
    place: Any = raw
    path: KeyPath = ()
    for n, step in enumerate(steps):
        name = _step(place, step)
        path = (*path, name)
        if n == len(steps) - 1:
            place[name] = value
        elif is_table(place):
            place = place.setdefault(step, {})
        else:
            place = place[name]
    return path


def _steps(key: str) -> list[str]:
    """Names between dots; one with a dot of its own stands in quotes, as in TOML."""
    steps: list[str] = []
    at = 0
    while at <= len(key):
        found = _NAME.match(key, at)
        name = found and (found["quoted"] or found["bare"].strip())
        if not found or not name:
            raise _NoPlaceError('must be a key like "slats.gap"')
        steps.append(name)
        at = found.end() + 1
    return steps


def _step(place: Any, step: str) -> str | int:
    if is_table(place):
        return step
    if is_list(place):
        return _item(place, step)
    raise _NoPlaceError(f'"{step}" lies below a value that is no table')


def _item(items: list[Any], step: str) -> int:
    """An item by its number, from 1, or by its name."""
    if step.isascii() and step.isdigit():
        if 1 <= int(step) <= len(items):
            return int(step) - 1
        raise _NoPlaceError(f"there is no number {step}: the file has {len(items)}")
    for number, item in enumerate(items):
        if is_table(item) and item.get("name") == step:
            return number
    raise _NoPlaceError(f'nothing is named "{step}"; give a name or a number from 1')
