"""Kinds of length, angle and temperature: each has its own limits."""

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import ValidationInfo

from lacunar.config.reading import kind, reading, wrong
from lacunar.tolerances import ARITHMETIC
from lacunar.units import (
    DEGREE,
    UnitError,
    Units,
    finest_mark,
    format_length,
    nearest_mark,
    read_angle,
    read_length,
    read_temperature,
    written_mark,
)

NOT_GIVEN = math.nan
"""Stands for a number that the file does not give, until the defaults have been filled in."""

_AMOUNT = r"[0-9.½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]"
_EXAMPLES = ["12 ft 4 1/2 in", "12' 4-1/2\"", "3.76 m", "3760 mm", 12.5]


def length_schema(pattern: str = rf"^\s*\+?\s*{_AMOUNT}") -> dict[str, Any]:
    """A length as a person writes it."""
    return {"type": ["number", "string"], "pattern": pattern, "examples": _EXAMPLES}


def plain_length(mm: float, units: Units) -> str:
    """A length as a person would write it: to 1/64 in or 0.1 mm, whole feet alone ("4 ft")."""
    text = format_length(mm, units, written_mark(units), "words").replace(".0 mm", " mm")
    return text.removesuffix(" 0 in") if " ft " in text else text


def fine_length(mm: float, units: Units) -> str:
    """A length too fine for a tape, as a decimal: to a thousandth of an inch or 0.01 mm."""
    return format_length(mm, units, finest_mark(units), "words")


def safe_length(mm: float, units: Units, *, up: bool = False) -> float:
    """The length as it is written: as it is on 1/64 in, else to the next 0.001 in or 0.01 mm down, or up."""
    on_mark, finest = read_length(plain_length(mm, units)), finest_mark(units)
    if abs(on_mark - mm) <= ARITHMETIC:
        return on_mark
    by = finest / 2.0 - ARITHMETIC
    return nearest_mark(mm + by if up else mm - by, finest)


def written(value: object, units: Units) -> str:
    """What was read, with its unit: a text as it stands, a bare number in the file's units."""
    bare = not isinstance(value, str) or re.fullmatch(r"[-+ 0-9./]+", value)
    return f"{value} {units}" if bare else f"{value}"


def exact_text(mm: float) -> str:
    """A length that reads back as the same number."""
    return f"{mm!r} mm".replace(".0 mm", " mm")


def bare_number_advice(units: Units) -> str:
    """What is said where a number without a unit is out of its limits: the unit that was taken."""
    return f"a bare number is in {'inches' if units == 'in' else 'millimetres'}"


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit as an inch room and as a metric room write it; the two need not be the same length."""

    inches: str
    metric: str

    def text(self, units: Units) -> str:
        """As that room writes it."""
        return self.inches if units == "in" else self.metric

    def mm(self, units: Units) -> float:
        """Its length in that room."""
        return read_length(self.text(units))


NONE = Limit("0 in", "0 mm")
FAR = Limit("300 ft", "100 m")


def _understood(read: Callable[..., float], *value: object) -> float:
    """What is read of a value, where it is understood."""
    try:
        return read(*value)
    except UnitError as error:
        raise wrong(str(error)) from None


def limited(value: object, units: Units, least: Limit, most: Limit, *, above: bool = False) -> float:
    """Read a length within limits, mm.

    Args:
        value: as the file has it.
        units: what bare numbers are in.
        least: smallest allowed.
        most: largest allowed.
        above: `least` itself is not allowed.

    Raises:
        PydanticCustomError: it is no length, or out of its limits.
    """
    size = _understood(read_length, value, units)
    limit = ""
    if size < least.mm(units) or (above and size == least.mm(units)):
        limit = f"more than {least.text(units)}" if above else f"{least.text(units)} or more"
    elif size > most.mm(units):
        limit = f"{most.text(units)} or less"
    if limit:
        told = written(value, units)
        raise wrong(f"got {told}, must be {limit}", "" if told == str(value) else bare_number_advice(units))
    return size


def _length(least: Limit, most: Limit, *, above: bool = False) -> tuple[object, ...]:
    """What makes a float a length of the config: read, written and described as one."""

    def read(value: object, info: ValidationInfo) -> float:
        return limited(value, reading(info).units, least, most, above=above)

    return kind(read, length_schema(), exact_text)


# The limits are own judgement: past them it is a unit that was forgotten or a digit too many.
Length = Annotated[float, *_length(NONE, FAR, above=True)]
"""mm, more than 0."""
Distance = Annotated[float, *_length(NONE, FAR)]
"""mm, 0 or more."""


def _read_typed(value: object, info: ValidationInfo) -> str:
    limited(value, reading(info).units, NONE, FAR, above=True)
    return f"{value}".strip()


Typed = Annotated[str, *kind(_read_typed, length_schema())]
"""A length of more than 0 as it was typed; a bare number is in the file's units."""
Section = Annotated[float, *_length(Limit("1/16 in", "1 mm"), Limit("3 ft", "1000 mm"))]
"""mm, a side of a piece of wood."""
Small = Annotated[float, *_length(NONE, Limit("2 ft", "600 mm"))]
"""mm, a gap, a clearance, a thickness: 0 or more."""
Fine = Annotated[float, *_length(Limit("1/256 in", "0.1 mm"), Limit("1 in", "25 mm"))]
"""mm, what can be read, or how far readings spread."""
Height = Annotated[float, *_length(Limit("4 ft", "1200 mm"), Limit("20 ft", "6 m"))]
"""mm, of a ceiling above the floor."""
LOW, HIGH = Limit("6 ft", "1800 mm"), Limit("14 ft", "4300 mm")
"""Ceilings of rooms that people live in are seldom lower or higher. Own judgement."""


def unusual_height(mm: float, units: Units) -> str:
    """What is unusual about the height of a ceiling; "" where nothing is."""
    if LOW.mm(units) <= mm <= HIGH.mm(units):
        return ""
    rare = f"few ceilings are lower than {LOW.text(units)} or higher than {HIGH.text(units)}"
    return f"{plain_length(mm, units)} from floor to ceiling: {rare}"


LONGEST_BOARD = Limit("60 ft", "20 m")
"""Nothing longer is sold. Own judgement."""

Board = Annotated[float, *_length(Limit("1 ft", "300 mm"), LONGEST_BOARD)]
"""mm, length of a bought board, side of a bought sheet."""


def _read_angle(value: object) -> float:
    angle = _understood(read_angle, value)
    if not 1.0 * DEGREE <= angle <= 60.0 * DEGREE:
        raise wrong(f"got {value if isinstance(value, str) else f'{value} deg'}, must be 1 deg to 60 deg")
    return angle


def _read_temperature(value: object, info: ValidationInfo) -> float:
    degrees = _understood(read_temperature, value, reading(info).units)
    if not -30.0 <= degrees <= 60.0:
        raise wrong(f"got {value}, must be -22 F to 140 F (-30 C to 60 C)")
    return degrees


ANGLE_SCHEMA: dict[str, Any] = {
    "type": ["number", "string"],
    "pattern": r"^\s*[-+−]?\s*[0-9.]+\s*(deg|degrees?|°|rad)?\.?\s*$",
    "examples": ["15 deg", "0.26 rad"],
}
Angle = Annotated[float, *kind(_read_angle, ANGLE_SCHEMA, lambda angle: f"{angle!r} rad")]
"""Radians."""
Temperature = Annotated[
    float,
    *kind(
        _read_temperature,
        {"type": ["number", "string"], "examples": ["68 F", "20 C"]},
        lambda degrees: f"{degrees!r} C",
    ),
]
"""Degrees Celsius."""
