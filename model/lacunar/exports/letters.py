"""Capital letters as strokes, so that a model's corners are named without a font."""

from collections.abc import Iterator, Mapping
from typing import Final

STROKE: Final = 0.07
"""Half the width of a stroke, in heights of a letter."""

_LETTERS: Final[Mapping[str, str]] = {
    "A": "00 26 40|12 32",
    "B": "00 06 36 45 44 33 03|33 42 41 30 00",
    "C": "45 36 16 05 01 10 30 41",
    "D": "00 06 26 44 42 20 00",
    "E": "46 06 00 40|03 33",
    "F": "46 06 00|03 33",
    "G": "45 36 16 05 01 10 30 41 43 23",
    "H": "06 00|46 40|03 43",
    "I": "26 20",
    "J": "46 41 30 10 01",
    "K": "06 00|46 03 40",
    "L": "06 00 40",
    "M": "00 06 23 46 40",
    "N": "00 06 40 46",
    "O": "16 05 01 10 30 41 45 36 16",
    "P": "00 06 36 45 44 33 03",
    "Q": "16 05 01 10 30 41 45 36 16|22 40",
    "R": "00 06 36 45 44 33 03|23 40",
    "S": "45 36 16 05 04 13 33 42 41 30 10 01",
    "T": "06 46|26 20",
    "U": "06 01 10 30 41 46",
    "V": "06 20 46",
    "W": "06 10 23 30 46",
    "X": "00 46|06 40",
    "Y": "06 23 46|23 20",
    "Z": "06 46 00 40",
}
"""Each stroke's places on a grid of 4 by 6, right and up."""


def strokes(letter: str) -> Iterator[list[tuple[float, float]]]:
    """Lines of a capital letter, one high, about its middle: right and up."""
    for line in _LETTERS[letter].split("|"):
        yield [((int(x) - 2) / 6, (int(y) - 3) / 6) for x, y in line.split()]
