"""Kinds of plain number."""

import re
from typing import Annotated

from lacunar.config.reading import kind, listed, shown, wrong
from lacunar.materials import NAIL_DIAMETERS_IN

_LARGEST = 1e9
"""Of numbers that have no limit of their own. Own judgement."""


def _number(
    wanted: str, least: int, most: float | None = None, *, above: bool = False, whole: bool = False
) -> tuple[object, ...]:
    """A number within limits; `above`: the least itself is not allowed."""

    def read(value: object) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float) or not -1e15 < value < 1e15:
            bare = isinstance(value, str) and re.fullmatch(r"\s*-?[0-9.]+\s*", value)
            raise wrong(f"got {shown(value)}, must be {wanted}", "write it without quotes" if bare else "")
        within = least <= value <= (_LARGEST if most is None else most) and not (above and value == least)
        if not within or (whole and value != int(value)):
            raise wrong(f"got {shown(value)}, must be {wanted}")
        return int(value) if whole else float(value)

    limits = {"exclusiveMinimum" if above else "minimum": least} | ({} if most is None else {"maximum": most})
    return kind(read, {"type": "integer" if whole else "number", **limits})


def _whole(what: str, least: int, most: int) -> tuple[object, ...]:
    return _number(f"{what} from {least} to {most}", least, most, whole=True)


def _read_gauge(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or value not in NAIL_DIAMETERS_IN:
        raise wrong(f"got {shown(value)}, must be a nail gauge: {listed(map(str, NAIL_DIAMETERS_IN), '')}")
    return value


Share = Annotated[float, *_number("a share from 0 to 1 (0.10 is ten in a hundred)", 0, 1)]
Money = Annotated[float, *_number("an amount of money, 0 or more", 0)]
Price = Annotated[float, *_number("a price above 0", 0, above=True)]
Minutes = Annotated[float, *_number("minutes, above 0", 0, above=True)]
Hours = Annotated[float, *_number("hours of a day, above 0 to 24", 0, 24, above=True)]
PerLength = Annotated[float, *_number("a length per length, from 0 to 0.01", 0, 0.01)]
_counted = "a whole number"
Rows = Annotated[int, *_whole(_counted, 0, 100)]
Count = Annotated[int, *_whole(_counted, 1, 100)]
OnHand = Annotated[int, *_whole(_counted, 0, 100_000)]
Pockets = Annotated[int, *_whole(_counted, 0, 2)]
Year = Annotated[int, *_whole("a year", 1000, 2100)]
Gauge = Annotated[int, *kind(_read_gauge, {"enum": list(NAIL_DIAMETERS_IN)})]
"""Steel wire gauge of a nail."""
