"""The line of every key, in all the ways TOML can write one."""

import tomllib
from pathlib import Path
from typing import Any, cast

import pytest

from lacunar.config.lines import KeyPath, find_lines, printed_key

TEXT = '''\
title = "a # b"          # comment with [brackets] and "quotes"
"quoted key" = 1
'literal key' = 2
a.b.c = 3
a.d = 4

[room]                   # header
height = """
several [lines]
x = 1
"""
walls = \'\'\'
y = 2\'\'\'
[room.measured]
AB = "12' 4\\""
"m1-C" = '5 "'
[[beam]]
name = "E1"
ends = [
  { wall = "AB", at = 1 },   # first
  # a comment between

  { wall = "CD", at = [ 1,
  2 ] },
]
[[beam]]
name = "E2"
  [beam.extra]
  x = 1
  [[beam.extra.list]]
  y = 2
  [[beam.extra.list]]
  y = 3
[ slats . coffer . "C 5" ]
run = "with"
[joists]
at = ["9 in", "41 in",
"7 ft"]
when = 2024-01-01
'''

LINES: dict[KeyPath, int] = {
    ("title",): 1,
    ("quoted key",): 2,
    ("literal key",): 3,
    ("a",): 4,
    ("a", "b", "c"): 4,
    ("a", "d"): 5,
    ("room",): 7,
    ("room", "height"): 8,
    ("room", "walls"): 12,
    ("room", "measured"): 14,
    ("room", "measured", "AB"): 15,
    ("room", "measured", "m1-C"): 16,
    ("beam",): 17,
    ("beam", 0): 17,
    ("beam", 0, "name"): 18,
    ("beam", 0, "ends"): 19,
    ("beam", 0, "ends", 0, "wall"): 20,
    ("beam", 0, "ends", 1): 23,
    ("beam", 0, "ends", 1, "wall"): 23,
    ("beam", 0, "ends", 1, "at"): 23,
    ("beam", 0, "ends", 1, "at", 1): 24,
    ("beam", 1): 26,
    ("beam", 1, "name"): 27,
    ("beam", 1, "extra"): 28,
    ("beam", 1, "extra", "x"): 29,
    ("beam", 1, "extra", "list", 0, "y"): 31,
    ("beam", 1, "extra", "list", 1): 32,
    ("beam", 1, "extra", "list", 1, "y"): 33,
    ("slats", "coffer", "C 5"): 34,
    ("slats", "coffer", "C 5", "run"): 35,
    ("joists", "at", 0): 37,
    ("joists", "at", 1): 37,
    ("joists", "at", 2): 38,
    ("joists", "when"): 39,
}


@pytest.mark.parametrize("path", LINES, ids=printed_key)
def test_line(path: KeyPath) -> None:
    assert find_lines(TEXT)[path] == LINES[path]


def paths(value: Any, path: KeyPath = ()) -> set[KeyPath]:
    found: set[KeyPath] = {path} if path else set()
    if isinstance(value, dict):
        for key, item in cast(dict[str, Any], value).items():
            found |= paths(item, (*path, key))
    if isinstance(value, list):
        for number, item in enumerate(cast(list[Any], value)):
            found |= paths(item, (*path, number))
    return found


def test_every_path_that_the_standard_reader_finds_has_a_line() -> None:
    here = Path(__file__).resolve().parent
    for text in (TEXT, *(file.read_text(encoding="utf-8") for file in sorted(here.glob("*.toml")))):
        assert paths(tomllib.loads(text)) <= set(find_lines(text))
        crlf = text.replace("\n", "\r\n")
        assert find_lines(crlf) == find_lines(text)


def test_text_that_is_no_toml_gives_no_error() -> None:
    for text in ("[", "a = [", "a = {", "a = {b", "= 1", 'a = "', "[[x]\ny = 1"):
        find_lines(text)


@pytest.mark.parametrize(
    ("path", "text"),
    [
        (("slats", "gap"), "slats.gap"),
        (("beam", 1, "ends", 0, "at"), "beam[2].ends[1].at"),
        (("room", "measured", "m1-C"), "room.measured.m1-C"),
        (("a", "b c"), 'a."b c"'),
    ],
)
def test_printed_key(path: KeyPath, text: str) -> None:
    assert printed_key(path) == text
