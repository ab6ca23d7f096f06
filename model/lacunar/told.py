"""Texts of findings in which what varies is known: amounts, each with its size, and places."""

import re
from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from pydantic import GetCoreSchemaHandler
from pydantic_core import CoreSchema, core_schema

# No text of a config or a tape holds them: only what prints is accepted there.
_OPEN, _SIZE, _CLOSE = "\x02", "\x1f", "\x03"
_MARK: Final = re.compile(f"{_OPEN}([^{_SIZE}]*){_SIZE}([^{_CLOSE}]*){_CLOSE}")

_ID: Final = re.compile(rf"(?<!{_OPEN})\b[A-Z]\d+(?:-[A-Z]?\d+[a-z]?)?\b")
"""As parts, coffers and boards are called."""


@dataclass(frozen=True, slots=True)
class Amount:
    """A length, a count or a share in a text, and its size in whatever unit all such texts have there."""

    text: str
    size: float


def amount(text: str, size: float) -> str:
    """A text that is one amount, marked, to be put into a `Told`."""
    return f"{_OPEN}{text}{_SIZE}{size!r}{_CLOSE}"


def count(number: int) -> str:
    """A number of things, marked."""
    return amount(f"{number:,}", number)


def counted(number: int, thing: str) -> str:
    """1 board, 2 boards."""
    return f"{number:,} {thing}{'' if number == 1 else 's'}"


def ranged(low: int, high: int, thing: str) -> str:
    """1 day, 2 days, 2 to 3 days."""
    return counted(high, thing) if low == high else f"{low:,} to {counted(high, thing)}"


def sentence(phrase: str) -> str:
    """A phrase of a finding or a note, by itself."""
    return f"{phrase[:1].upper()}{phrase[1:]}."


def from_to(first: object, last: object) -> str:
    """2, or 2 to 3."""
    return f"{first}" if first == last else f"{first} to {last}"


def place(text: str) -> str:
    """Where something is, marked."""
    return f"{_OPEN}{text}{_SIZE}{_CLOSE}"


def with_ids(text: str, known: Container[str]) -> str:
    """The text with those ids marked that there are."""
    return _ID.sub(lambda found: place(found[0]) if found[0] in known else found[0], text)


class Told(str):
    """What is told, as plain text; two of one form say the same of other amounts and places.

    Attributes:
        marked: the text with its marks, to be put into another.
    """

    __slots__ = ("marked",)

    marked: str

    def __new__(cls, marked: str) -> "Told":
        """From a text with its marks."""
        told = super().__new__(cls, _MARK.sub(r"\1", marked))
        told.marked = marked
        return told

    @property
    def form(self) -> str:
        """Without its amounts and places."""
        return _MARK.sub(lambda mark: "#" if mark[2] else "@", self.marked)

    @property
    def unsized(self) -> str:
        """Without its amounts."""
        return _MARK.sub(lambda mark: "#" if mark[2] else mark[1], self.marked)

    @property
    def amounts(self) -> tuple[Amount, ...]:
        """In the order in which they stand."""
        return tuple(Amount(mark[1], float(mark[2])) for mark in _MARK.finditer(self.marked) if mark[2])

    def with_amounts(self, texts: Sequence[str]) -> str:
        """The text with others in the place of its amounts, as many."""
        left: Iterator[str] = iter(texts)
        return _MARK.sub(lambda mark: next(left) if mark[2] else mark[1], self.marked)

    @classmethod
    def __get_pydantic_core_schema__(cls, source: type, handler: GetCoreSchemaHandler) -> CoreSchema:
        """A string in the report; what is read back has no marks."""
        return core_schema.no_info_after_validator_function(cls, core_schema.str_schema())
