"""How much room a text takes, before any font is known."""

import re
from collections.abc import Callable, Sequence
from functools import partial
from typing import Final

from lacunar.units import INCH

POINT: Final = INCH / 72.0
"""mm."""

SMALLEST: Final = 6.0
"""Points. Nothing is printed smaller. Source: common practice, no source."""

_NARROW, _WIDE = frozenset(" '.,:;/|!()[]-Iijlftr"), frozenset("mwMW%@+=<>")
_EMS: Final = {False: (0.42, 0.66, 0.80, 1.0), True: (0.50, 0.73, 0.86, 1.11)}
"""Widest of the narrow, usual, capital and wide signs, by bold or not, in ems. Source: DejaVu Sans, the widest of the
fonts that drawings name, read from its metrics."""


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """No narrower than the text will be, mm.

    Args:
        text: one line.
        size: points.
        bold: or not.
    """
    return sum(_em(sign, bold) for sign in text) * size * POINT


def _em(sign: str, bold: bool) -> float:
    narrow, usual, capital, wide = _EMS[bold]
    if sign in _NARROW:
        return narrow
    if sign in _WIDE or not sign.isascii():
        return wide
    return capital if sign.isupper() else usual


def largest(text: str, room: float, size: float, *, bold: bool = False) -> float | None:
    """The size, at most `size` and no less than the smallest, at which a text fits into `room` mm; None where none."""
    fits = size * room / max(text_width(text, size, bold=bold), 1e-9)
    return None if fits < SMALLEST else min(size, fits)


def cut_short(text: str, room: float, width: Callable[[str], float]) -> str:
    """The text, or as much of its beginning as fits, and three dots; `width` tells the width of a text."""
    if width(text) <= room:
        return text
    while text and width(text + "...") > room:
        text = text[:-1].rstrip()
    return text + "..."


def fitting(text: str, room: float, size: float, *, bold: bool = False) -> tuple[str, float]:
    """The text, smaller where `room` mm want it, cut short where the smallest size is still too long; and its size."""
    fits = largest(text, room, size, bold=bold) or SMALLEST
    return cut_short(text, room, partial(text_width, size=fits, bold=bold)), fits


def unbroken(text: str) -> list[str]:
    """The words of a text, numbers with their fractions and units."""
    return re.split(r" (?!(?<=\d )\d+/\d|(?:deg|ft|in|mm)\b)", text)


def folded(words: Sequence[str], room: float, size: float, *, bold: bool = False) -> list[str]:
    """Words in lines no longer than `room` mm, as far as the words allow."""
    return wrapped(words, room, partial(text_width, size=size, bold=bold))


def wrapped(words: Sequence[str], room: float, width: Callable[[str], float]) -> list[str]:
    """The same, whatever tells the width of a text."""
    lines: list[str] = []
    for word in words:
        joined = f"{lines[-1]} {word}" if lines else word
        if lines and width(joined) <= room:
            lines[-1] = joined
        else:
            lines.append(word)
    return lines
