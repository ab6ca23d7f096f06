"""Kinds of plain number."""

import re
from collections.abc import Callable
from typing import Annotated

from pydantic import BeforeValidator, WithJsonSchema

from lacunar.config.reading import listed, shown, wrong
from lacunar.materials import NAIL_DIAMETERS_IN


def _number(value: object, wanted: str) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not -1e15 < value < 1e15:
        bare = isinstance(value, str) and re.fullmatch(r"\s*-?[0-9.]+\s*", value)
        raise wrong(f"got {shown(value)}, must be {wanted}", "write it without quotes" if bare else "")
    return value


def _reader(wanted: str, least: float, most: float = 1e9, *, above: bool = False) -> Callable[[object], float]:
    def read(value: object) -> float:
        number = _number(value, wanted)
        if number < least or number > most or (above and number == least):
            raise wrong(f"got {shown(value)}, must be {wanted}")
        return float(number)

    return read


def _whole_reader(wanted: str, least: int, most: int) -> Callable[[object], int]:
    def read(value: object) -> int:
        number = _number(value, wanted)
        if number < least or number > most or number != int(number):
            raise wrong(f"got {shown(value)}, must be {wanted}")
        return int(number)

    return read


def _whole(what: str, least: int, most: int) -> tuple[BeforeValidator, WithJsonSchema]:
    schema = WithJsonSchema({"type": "integer", "minimum": least, "maximum": most})
    return BeforeValidator(_whole_reader(f"{what} from {least} to {most}", least, most)), schema


def _read_gauge(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or value not in NAIL_DIAMETERS_IN:
        raise wrong(f"got {shown(value)}, must be a nail gauge: {listed(map(str, NAIL_DIAMETERS_IN))}".replace('"', ""))
    return value


Share = Annotated[
    float,
    BeforeValidator(_reader("a share from 0 to 1 (0.10 is ten in a hundred)", 0.0, 1.0)),
    WithJsonSchema({"type": "number", "minimum": 0, "maximum": 1}),
]
Money = Annotated[
    float,
    BeforeValidator(_reader("an amount of money, 0 or more", 0.0)),
    WithJsonSchema({"type": "number", "minimum": 0}),
]
Price = Annotated[
    float,
    BeforeValidator(_reader("a price above 0", 0.0, above=True)),
    WithJsonSchema({"type": "number", "exclusiveMinimum": 0}),
]
Minutes = Annotated[
    float,
    BeforeValidator(_reader("minutes, above 0", 0.0, above=True)),
    WithJsonSchema({"type": "number", "exclusiveMinimum": 0}),
]
PerLength = Annotated[
    float,
    BeforeValidator(_reader("a length per length, from 0 to 0.01", 0.0, 0.01)),
    WithJsonSchema({"type": "number", "minimum": 0, "maximum": 0.01}),
]
_counted = "a whole number"
Rows = Annotated[int, *_whole(_counted, 0, 100)]
Count = Annotated[int, *_whole(_counted, 1, 100)]
OnHand = Annotated[int, *_whole(_counted, 0, 100_000)]
Year = Annotated[int, *_whole("a year", 1000, 2100)]
Pockets = Annotated[int, *_whole("a whole number", 0, 2)]
Gauge = Annotated[int, BeforeValidator(_read_gauge), WithJsonSchema({"enum": list(NAIL_DIAMETERS_IN)})]
"""Steel wire gauge of a nail."""
