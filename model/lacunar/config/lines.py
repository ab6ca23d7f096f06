"""The line on which every key of a TOML text stands: the standard reader keeps no positions."""

import itertools
import re
import tomllib
from bisect import bisect_right
from collections.abc import Mapping
from contextlib import suppress

KeyPath = tuple[str | int, ...]
"""Keys from the root down; numbers count the items of lists from 0."""

_KEY = re.compile(r"""[A-Za-z0-9_-]+|"(?:\\.|[^"\\\n])*"|'[^'\n]*'""")
_STRING = re.compile(
    r'"""(?:\\.|[^\\])*?"{3,5}(?!")' + r"|'''.*?'{3,5}(?!')" + r'|"(?:\\.|[^"\\\n])*"' + r"|'[^'\n]*'", re.DOTALL
)
_SCALAR = re.compile(r"[^,\]}#\n]*")
_SPACE = re.compile(r"[ \t\r]*")
_SPACE_LINES_COMMENTS = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")


def find_lines(text: str) -> Mapping[KeyPath, int]:
    """Line numbers, from 1, of every key, table and list item.

    Args:
        text: valid TOML; what is not valid gives wrong or missing lines, never an error.
    """
    scan = _Scan(text)
    with suppress(_LostError):
        scan.document()
    return scan.lines


def printed_key(path: KeyPath, *, below: bool = False) -> str:
    """A path as a person reads it: `beam[2].ends[1].at`, counted from 1; `below`: to be written after another."""
    text = ""
    for step in path:
        if isinstance(step, int):
            text += f"[{step + 1}]"
        else:
            plain = step if re.fullmatch(r"[A-Za-z0-9_-]+", step) else f'"{step}"'
            text += f".{plain}" if text or below else plain
    return text


class _LostError(Exception):
    """The text is not what the scan expects."""


class _Scan:
    """One pass over a text."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.place = 0
        self.lines: dict[KeyPath, int] = {}
        self._starts = [0, *(match.end() for match in re.finditer("\n", text))]
        self._counts: dict[KeyPath, int] = {}

    def document(self) -> None:
        table: KeyPath = ()
        while self._skip(_SPACE_LINES_COMMENTS):
            if self._take("[["):
                table = self._array_header()
            elif self._take("["):
                table = self._header()
            else:
                self._pair(table)

    def _header(self) -> KeyPath:
        keys, line = self._keys()
        path = self._into((), keys, line)
        self.lines[path] = line
        self._expect("]")
        return path

    def _array_header(self) -> KeyPath:
        keys, line = self._keys()
        path = (*self._into((), keys[:-1], line), keys[-1])
        self.lines.setdefault(path, line)
        number = self._counts.get(path, 0)
        self._counts[path] = number + 1
        self.lines[(*path, number)] = line
        self._expect("]]")
        return (*path, number)

    def _into(self, path: KeyPath, keys: list[str], line: int) -> KeyPath:
        """Go down through keys, into the last item of an array of tables."""
        for key in keys:
            path = (*path, key)
            self.lines.setdefault(path, line)
            if path in self._counts:
                path = (*path, self._counts[path] - 1)
        return path

    def _pair(self, table: KeyPath) -> None:
        keys, line = self._keys()
        path = self._into(table, keys, line)
        self._expect("=")
        self._value(path)

    def _value(self, path: KeyPath) -> None:
        self._skip(_SPACE)
        string = _STRING.match(self.text, self.place)
        if string is not None:
            self.place = string.end()
        elif self._take("["):
            self._items(path, "]")
        elif self._take("{"):
            self._items(path, "}")
        else:
            self._skip(_SCALAR)

    def _items(self, path: KeyPath, end: str) -> None:
        """What stands between brackets, with commas: values of an array, pairs of a table."""
        for number in itertools.count():
            self._skip(_SPACE_LINES_COMMENTS)
            if self._take(end):
                return
            if end == "]":
                self.lines[(*path, number)] = self._line()
                self._value((*path, number))
            else:
                self._pair(path)
            self._skip(_SPACE_LINES_COMMENTS)
            if not (self._take(",") or self.text.startswith(end, self.place)):
                raise _LostError

    def _keys(self) -> tuple[list[str], int]:
        keys: list[str] = []
        self._skip(_SPACE)
        line = self._line()
        while True:
            self._skip(_SPACE)
            match = _KEY.match(self.text, self.place)
            if match is None:
                raise _LostError
            self.place = match.end()
            keys.append(_unquoted(match[0]))
            self._skip(_SPACE)
            if not self._take("."):
                return keys, line

    def _skip(self, pattern: re.Pattern[str]) -> bool:
        """Pass what matches; True while there is text left."""
        match = pattern.match(self.text, self.place)
        self.place = match.end() if match else self.place
        return self.place < len(self.text)

    def _take(self, sign: str) -> bool:
        found = self.text.startswith(sign, self.place)
        self.place += len(sign) if found else 0
        return found

    def _expect(self, sign: str) -> None:
        self._skip(_SPACE)
        if not self._take(sign):
            raise _LostError

    def _line(self) -> int:
        return bisect_right(self._starts, self.place)


def _unquoted(key: str) -> str:
    if key.startswith("'"):
        return key[1:-1]
    return str(tomllib.loads(f"key = {key}")["key"]) if key.startswith('"') else key
