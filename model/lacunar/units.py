"""Lengths, angles and temperatures as people write them, and lengths printed to the nearest mark.

Inside, everything is millimetres, radians and degrees Celsius. Reading is exact: a text becomes a fraction first and is
rounded once, to the nearest double, so that what was printed on a mark reads back as the same number.
"""

import math
import re
import unicodedata
from fractions import Fraction
from typing import Literal

Units = Literal["in", "mm"]
Style = Literal["marks", "words", "inches"]

INCH = 25.4
"""mm. Source: international yard and pound agreement, 1959: one inch is 25.4 mm exactly."""
FOOT = 12.0 * INCH
DEGREE = math.pi / 180.0

_TOLD_BY: dict[Units, float] = {"in": INCH / 32.0, "mm": 1.0}
_WRITTEN_BY: dict[Units, float] = {"in": INCH / 64.0, "mm": 0.1}
_FINEST: dict[Units, float] = {"in": INCH / 1000.0, "mm": 0.01}

LENGTH_FORMS = "12 ft 4 1/2 in, 12' 4-1/2\", 148.5 in, 3.76 m, 3760 mm"
ANGLE_FORMS = "15 deg, 15°, 0.26 rad"
TEMPERATURE_FORMS = "68 F, 20 C"

_MM: dict[str, Fraction] = {
    "ft": Fraction(1524, 5),
    "in": Fraction(127, 5),
    "m": Fraction(1000),
    "cm": Fraction(10),
    "mm": Fraction(1),
}
_NAMES = {
    **dict.fromkeys(("ft", "feet", "foot", "'"), "ft"),
    **dict.fromkeys(("in", "inch", "inches", '"'), "in"),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), "cm"),
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
}
_PART_OF = {("ft", "in"): 12, ("m", "cm"): 100, ("m", "mm"): 1000, ("cm", "mm"): 10}

_VULGAR_SIGNS = "½ ⅓ ⅔ ¼ ¾ ⅕ ⅖ ⅗ ⅘ ⅙ ⅚ ⅛ ⅜ ⅝ ⅞"
"""Fractions that are one sign each."""
_SAME = str.maketrans(
    {
        **dict.fromkeys("′’‘ʹ´`", "'"),
        **dict.fromkeys("″”“ʺ", '"'),
        **dict.fromkeys("−–‐‑", "-"),
        **dict.fromkeys("\u00a0\u2009\u202f\u2007", " "),
        **dict.fromkeys("⁄∕", "/"),
        **{sign: " " + unicodedata.normalize("NFKC", sign).replace("⁄", "/") for sign in _VULGAR_SIGNS.split()},
    }
)

_NUMBER = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:e[+-]?[0-9]{1,2})?"
_AMOUNT = rf"(?:(?P<whole>[0-9]+)(?: +|-))?(?P<top>[0-9]+) ?/ ?(?P<bottom>[0-9]+)|(?P<number>{_NUMBER})"
_QUANTITY = re.compile(rf"(?:{_AMOUNT}) ?(?P<unit>[a-z]+|['\"]|)\.?", re.ASCII)
_BETWEEN = re.compile(r"^ ?,? ?-? ?")
_LONGEST_TEXT = 80
_TOO_LARGE = 1e15
"""No number of a room is as large; whole numbers of thousands of digits would not fit a double."""


class UnitError(ValueError):
    """A text that is no length, angle or temperature; the message has what was read and what is understood."""


def read_length(value: object, units: Units = "in") -> float:
    """Read a length in mm.

    Args:
        value: a text with or without its own unit, or a bare number.
        units: what bare numbers are in.

    Raises:
        UnitError: it is no length; says which ways of writing are understood.
    """
    if isinstance(value, str):
        return float(_read_text(value, units))
    return float(_bare(value, "a length", LENGTH_FORMS) * _MM[units])


def read_angle(value: object) -> float:
    """Read an angle in radians; bare numbers are degrees.

    Raises:
        UnitError: it is no angle.
    """
    if not isinstance(value, str):
        return float(_bare(value, "an angle", ANGLE_FORMS)) * DEGREE
    text = _plain(value)
    match = re.fullmatch(rf"(?P<sign>[+-]?) ?(?P<n>{_NUMBER}) ?(?P<unit>deg|degree|degrees|°|rad|)\.?", text, re.ASCII)
    if match is None:
        raise _not_understood(value, "an angle", ANGLE_FORMS)
    size = float(match["n"]) * (1.0 if match["unit"] == "rad" else DEGREE)
    return -size if match["sign"] == "-" else size


def read_temperature(value: object, units: Units = "in") -> float:
    """Read a temperature in degrees Celsius; bare numbers are Fahrenheit where `units` is "in".

    Raises:
        UnitError: it is no temperature.
    """
    scale = "f" if units == "in" else "c"
    if isinstance(value, str):
        pattern = rf"(?P<sign>[+-]?) ?(?P<n>{_NUMBER}) ?°? ?(?:deg )?(?P<unit>f|c|fahrenheit|celsius|)\.?"
        match = re.fullmatch(pattern, _plain(value), re.ASCII)
        if match is None:
            raise _not_understood(value, "a temperature", TEMPERATURE_FORMS)
        degrees = float(match["n"]) * (-1.0 if match["sign"] == "-" else 1.0)
        scale = match["unit"][:1] or scale
    else:
        degrees = float(_bare(value, "a temperature", TEMPERATURE_FORMS))
    return (degrees - 32.0) / 1.8 if scale == "f" else degrees


def format_length(mm: float, units: Units, mark: float, style: Style = "marks") -> str:
    """Print a length to the nearest mark.

    Args:
        mm: any finite length.
        units: "in" prints feet, inches and a fraction; "mm" prints millimetres.
        mark: finest mark, mm. In inches, one that is no fraction of a tape is printed as a decimal.
        style: "marks" gives `12' 4 1/2"`, "words" `12 ft 4 1/2 in`, "inches" `148 1/2 in`, as a stop rule reads.
    """
    steps = _steps(mm, mark)
    sign = "-" if steps < 0 else ""
    size = abs(steps) * _mark_fraction(mark, units)
    if units == "mm":
        return f"{sign}{_decimal(size, _mark_fraction(mark, 'mm'))} mm"
    foot, inch = ("'", '"') if style == "marks" else (" ft", " in")
    feet, rest = (0, size) if style == "inches" else divmod(size, 12)
    head = f"{feet}{foot} " if feet else ""
    return f"{sign}{head}{_inches(rest, _mark_fraction(mark, 'in'), after_feet=feet > 0)}{inch}"


def told_mark(units: Units) -> float:
    """The mark that people are told lengths by, mm: 1/32 in or 1 mm.

    Source: common practice, no source.
    """
    return _TOLD_BY[units]


def written_mark(units: Units) -> float:
    """The finest mark that a length is written or counted by, mm: 1/64 in or 0.1 mm, finer than anybody cuts.

    Source: common practice, no source.
    """
    return _WRITTEN_BY[units]


def finest_mark(units: Units) -> float:
    """What a length too fine for a tape is written by, as a decimal, mm: 0.001 in or 0.01 mm.

    Source: common practice, no source.
    """
    return _FINEST[units]


def nearest_mark(mm: float, mark: float) -> float:
    """The length on the nearest mark, as `read_length` would read it; half a mark goes away from zero."""
    on_tape = _mark_fraction(mark, "in")
    exact = on_tape * _MM["in"] if _is_tape_fraction(on_tape) else _mark_fraction(mark, "mm")
    return float(_steps(mm, mark) * exact)


def _steps(mm: float, mark: float) -> int:
    steps = math.floor(abs(mm) / mark + 0.5)
    return -steps if mm < 0.0 else steps


def _mark_fraction(mark: float, units: Units) -> Fraction:
    """The mark in `units`, exactly as a person would name it: 1.5875 mm is 1/16 in."""
    in_units = mark / INCH if units == "in" else mark
    near = Fraction(in_units).limit_denominator(10_000)
    return near if near > 0 else Fraction(in_units)


def _is_tape_fraction(mark: Fraction) -> bool:
    bottom = mark.denominator
    return bottom <= 256 and bottom & (bottom - 1) == 0


def _inches(size: Fraction, mark: Fraction, *, after_feet: bool) -> str:
    if not _is_tape_fraction(mark):
        return _decimal(size, mark)
    whole, rest = divmod(size, 1)
    if not rest:
        return str(whole)
    fraction = f"{rest.numerator}/{rest.denominator}"
    # 12' 1/2" could be read as twelve and a half feet, so the 0 stays after feet
    return f"{whole} {fraction}" if whole or after_feet else fraction


def _decimal(size: Fraction, mark: Fraction) -> str:
    """As many digits as the mark itself needs, four at most."""
    places = next((n for n in range(4) if (mark * 10**n).denominator == 1), 4)
    return f"{float(size):.{places}f}"


def _read_text(value: str, units: Units) -> Fraction:
    text = _plain(value)
    if len(text) > _LONGEST_TEXT:
        raise _not_understood(value, "a length", LENGTH_FORMS)
    if re.search(r"[0-9],[0-9]", text):
        raise UnitError(
            f'got "{value}", a comma inside a number; write a point: "{re.sub(r"(?<=[0-9]),(?=[0-9])", ".", text)}"'
        )
    size = text[1:].strip() if text[:1] in ("+", "-") else text
    total = _sum(_quantities(size, value), value, units)
    return -total if text[:1] == "-" else total


def _quantities(text: str, value: str) -> list[tuple[Fraction, str]]:
    """The amounts with their units, in order ("" where none is written)."""
    found: list[tuple[Fraction, str]] = []
    rest = text
    while rest or not found:
        match = _QUANTITY.match(rest)
        if match is None or match["unit"] not in (*_NAMES, ""):
            raise _not_understood(value, "a length", LENGTH_FORMS)
        found.append((_amount(match, value), _NAMES.get(match["unit"], "")))
        rest = rest[match.end() :]
        after = _BETWEEN.sub("", rest, count=1)
        rest = after or rest.strip()
    return found


def _amount(match: re.Match[str], value: str) -> Fraction:
    if match["number"]:
        return Fraction(match["number"])
    top, bottom = int(match["top"]), int(match["bottom"])
    if bottom == 0:
        raise UnitError(f'got "{value}", a fraction over 0')
    if match["whole"] and top >= bottom:
        raise UnitError(f'got "{value}", but {top}/{bottom} after a whole number is 1 or more; write the sum')
    return int(match["whole"] or 0) + Fraction(top, bottom)


def _sum(quantities: list[tuple[Fraction, str]], value: str, units: Units) -> Fraction:
    """Exact millimetres of the amounts together."""
    if quantities[-1][1] == "" and len(quantities) == 2 and quantities[0][1] == "ft":
        quantities[1] = (quantities[1][0], "in")  # 12' 4 can only mean inches
    if len(quantities) == 1 and quantities[0][1] == "":
        if units == "mm" and quantities[0][0].denominator > 1 and "." not in value:
            raise UnitError(f'got "{value}", a fraction without its unit; write "{value} in", or millimetres')
        return quantities[0][0] * _MM[units]
    total = Fraction(0)
    for number, (amount, unit) in enumerate(quantities):
        if unit == "":
            raise _not_understood(value, "a length", LENGTH_FORMS)
        if number:
            _check_part(quantities[number - 1], (amount, unit), value)
        total += amount * _MM[unit]
    return total


def _check_part(before: tuple[Fraction, str], part: tuple[Fraction, str], value: str) -> None:
    """Refuse 5.5 ft 3 in, 5 ft 14 in, 3 in 5 ft and 5 ft 30 cm."""
    limit = _PART_OF.get((before[1], part[1]))
    if limit is None:
        raise _not_understood(value, "a length", LENGTH_FORMS)
    if before[0].denominator != 1:
        raise UnitError(f'got "{value}": {before[1]} must be a whole number where {part[1]} follow')
    if part[0] >= limit:
        raise UnitError(f'got "{value}": after {before[1]} there must be fewer than {limit} {part[1]}')


def _plain(value: str) -> str:
    """Lower case, one kind of prime, dash, slash and space, vulgar fractions written out."""
    text = value.translate(_SAME).replace("''", '"').lower()
    return " ".join(text.split())


def _bare(value: object, wanted: str, forms: str) -> Fraction:
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < _TOO_LARGE:
        raise _not_understood(value, wanted, forms)
    return Fraction(repr(value)) if isinstance(value, float) else Fraction(value)


def _not_understood(value: object, wanted: str, forms: str) -> UnitError:
    shown = f'"{value}"' if isinstance(value, str) else f"{value}".lower() if isinstance(value, bool) else f"{value}"
    shown = shown if len(shown) <= _LONGEST_TEXT else shown[:_LONGEST_TEXT] + "..."
    kind = _kind(value) if isinstance(value, str) else ""
    other = f" ({kind})" if kind and kind != wanted else ""
    return UnitError(f"got {shown}{other}, must be {wanted}, written like {forms}")


def _kind(value: str) -> str:
    """What a text seems to be, by its ending."""
    text = _plain(value)
    if re.search(r"[0-9] ?(deg|degrees?|°|rad)\.?$", text):
        return "an angle"
    if re.search(r"[0-9] ?°? ?[fc]$", text):
        return "a temperature"
    return "a length" if re.search(r"[0-9] ?(ft|in|mm|cm|m|'|\")\.?$", text) else ""


def area_text(m2: float, units: Units) -> str:
    """An area, m2, as a shop tells it."""
    return f"{m2 / (FOOT / 1000.0) ** 2:,.0f} sq ft" if units == "in" else f"{m2:,.0f} m2"
