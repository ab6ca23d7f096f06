"""Which letters the font has: a sign without one would print as an empty box, so it becomes a question mark."""

import importlib.util
import unicodedata
from collections.abc import Iterable
from functools import cache
from pathlib import Path
from typing import Final

from lacunar.errors import ExportError, Problem

FONT: Final = "DejaVu Sans"
"""Of every page: a sans that is read at arm's length, with fractions and primes. Source: comes with matplotlib."""
_FILES: Final = ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf")

STANDS_FOR: Final = "?"


def font_folders() -> tuple[Path, ...]:
    """Where the font's files are."""
    spec = importlib.util.find_spec("matplotlib")
    places = spec.submodule_search_locations if spec is not None else None
    folders = [Path(place) / "mpl-data" / "fonts" / "ttf" for place in places or ()]
    return tuple(folder for folder in folders if folder.is_dir())


def printable(text: str) -> str:
    """The text as the font can print it, on one line: signs that turn what follows them round are left out."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(_printed(sign) for sign in text)


def letters_note(texts: Iterable[str]) -> tuple[str, ...]:
    """A sentence where some letters cannot be printed, else none."""
    lost = {sign for text in texts for sign in text if _printed(sign) == STANDS_FOR != sign}
    if not lost:
        return ()
    named = ", ".join(f"U+{ord(sign):04X}" for sign in sorted(lost))
    return (f'some letters cannot be printed, "{STANDS_FOR}" stands for them: {named}',)


def _printed(sign: str) -> str:
    kind = unicodedata.category(sign)
    if kind in ("Zs", "Zl", "Zp") or (kind == "Cc" and sign.isspace()):
        return " "
    if kind in ("Cf", "Cc"):
        return ""
    return sign if ord(sign) in _drawn() else STANDS_FOR


@cache
def _drawn() -> frozenset[int]:
    """Code points that both weights of the font have."""
    from matplotlib.ft2font import FT2Font

    paths = [folder / name for folder in font_folders() for name in _FILES]
    if not paths:
        raise ExportError([Problem(where=FONT, what="the font is not there", fix="install matplotlib again")])
    first, *others = (set(FT2Font(str(path)).get_charmap()) for path in paths)
    return frozenset(first.intersection(*others))
