"""Whatever stands where: a config or a ConfigError comes out, never another exception."""

import math
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any, cast

from hypothesis import example, given, settings
from hypothesis import strategies as st

from lacunar.config import read_config_text
from lacunar.errors import ConfigError, Problem

TEXT = (Path(__file__).resolve().parent / "everything.toml").read_text(encoding="utf-8")


def keys(value: Any, prefix: str = "") -> list[str]:
    """Dotted keys of a document as overrides write them; a key with a dot in it does not occur."""
    items: list[tuple[str, Any]] = []
    if isinstance(value, dict):
        items = list(cast(dict[str, Any], value).items())
    elif isinstance(value, list):
        items = [(str(n), item) for n, item in enumerate(cast(list[Any], value), 1)]
    found: list[str] = []
    for key, item in items:
        found += [f"{prefix}{key}", *keys(item, f"{prefix}{key}.")]
    return found


KEYS = keys(tomllib.loads(TEXT))
VALUES = [
    "", "''", "0", "-1", "1e300", "inf", "nan", "true", "[]", "{}", "[1]", "[[]]", "[{}]", "{ a = 1 }", '["AB", "CD"]',
    "[1, 2, 3]", "9999999999999999999", "2024-01-01", "12:30:00", "AB", "BA", "with", "1x4", "red oak", "C1", "#fffff0",
    "1/16 in", "3 mm", "100 m", "0 in", "15 deg", "68 F", "solid", "up 1 in", "hollow 1 in", "centre", "ABCDE", "[nan]",
    "{ AB = 1, BC = 1 }", "{ AB = 1, AB = 2 }", "{ wall = 'AB' }", "'\\u0000'", "½", "''''", '"\\"', "[true, 'a', 1.5]",
]  # fmt: skip


@given(changes=st.lists(st.tuples(st.sampled_from(KEYS), st.sampled_from(VALUES)), min_size=1, max_size=4))
@settings(max_examples=200, deadline=None)
@example(changes=[("slats.stock", "''")])
@example(changes=[("slats.stock", ""), ("slats", "{}")])
@example(changes=[("slats.width", "1 in"), ("slats", "AB")])
@example(changes=[("room.measured", "{}"), ("room.corners", "ABCDE")])
def test_only_config_errors(changes: list[tuple[str, str]]) -> None:
    try:
        config = read_config_text(TEXT, "room.toml", changes)
    except ConfigError as error:
        problems = error.problems
    else:
        problems = (Problem(where="none", what="none"),)
        assert not list(not_numbers([config.model_dump(), config.slats.nominal_width]))
    assert problems
    assert all(problem.where and problem.what for problem in problems)


def not_numbers(value: Any) -> Iterator[float]:
    """What defaults should have filled in."""
    if isinstance(value, float) and math.isnan(value):
        yield value
    if isinstance(value, dict | list | tuple):
        parts = cast(dict[str, Any], value).values() if isinstance(value, dict) else cast(list[Any], value)
        for part in parts:
            yield from not_numbers(part)
