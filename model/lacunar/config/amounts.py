"""Kinds of amount that are no length: what a can holds, how far it goes, what a car carries, what is in a pack."""

import re
from collections.abc import Callable, Mapping
from typing import Annotated, Literal, get_args

from pydantic import BeforeValidator, PlainSerializer, ValidationInfo, WithJsonSchema

from lacunar.config.lengths import Limit, limited
from lacunar.config.reading import reading, shown, wrong
from lacunar.units import FOOT

SQUARE_FOOT_M2 = (FOOT / 1000.0) ** 2
GALLON_LITRES = 3.785411784
"""US gallon. Source: 231 cubic inches, NIST Handbook 44, Appendix C."""
POUND_KG = 0.45359237
"""Source: international yard and pound agreement, 1959."""

PackName = Literal[
    "slat nail",
    "furring screw",
    "pocket screw",
    "plug",
    "trim nail",
    "adhesive",
    "putty",
    "behind paint",
    "masking tape",
    "wall paint",
]
"""What is bought by the box, tube, roll or can, but for the coats of the finish, which have prices of their own."""

PAINTS = frozenset({"behind paint", "wall paint"})
ROLLS = frozenset({"adhesive", "masking tape"})

_AREAS = {
    **dict.fromkeys(("sq ft", "sqft", "sq. ft", "ft2", "ft²", "square feet"), SQUARE_FOOT_M2),
    **dict.fromkeys(("sq m", "m2", "m²", "square metres", "square meters"), 1.0),
}
_VOLUMES = {
    **dict.fromkeys(("gal", "gallon", "gallons"), GALLON_LITRES),
    **dict.fromkeys(("qt", "quart", "quarts"), GALLON_LITRES / 4.0),
    **dict.fromkeys(("pt", "pint", "pints"), GALLON_LITRES / 8.0),
    **dict.fromkeys(("fl oz", "floz"), GALLON_LITRES / 128.0),
    **dict.fromkeys(("l", "litre", "litres", "liter", "liters"), 1.0),
    **dict.fromkeys(("ml",), 0.001),
}
_MASSES = {**dict.fromkeys(("kg",), 1.0), **dict.fromkeys(("lb", "lbs", "pound", "pounds"), POUND_KG)}

VOLUME_FORMS = "1 gal, 1 qt, 2.5 l, 750 ml"
COVERAGE_FORMS = "400 sq ft/gal, 100 sq ft/qt, 10 m2/l"
MASS_FORMS = "250 kg, 550 lb"
SHEET_MASS_FORMS = "8 kg, 45 lb"

_NUMBER = r"(?P<n>[0-9]+(?:\.[0-9]+)?|[0-9]+ ?/ ?[1-9][0-9]*)"


def _number(text: str) -> float:
    top, _, bottom = text.partition("/")
    return float(top) / float(bottom) if bottom else float(top)


def _unit(text: str, units: Mapping[str, float]) -> float | None:
    return units.get(" ".join(text.lower().rstrip(".").split()))


def _read(value: object, units: Mapping[str, float], what: str, forms: str) -> float:
    match = (
        re.fullmatch(rf"\s*{_NUMBER}\s*(?P<unit>[a-z][a-z. ]*?)\s*", value, re.I) if isinstance(value, str) else None
    )
    unit = _unit(match["unit"], units) if match else None
    if match is None or unit is None:
        raise wrong(f"got {shown(value)}, must be {what} with its unit, like {forms}")
    return _number(match["n"]) * unit


def _within(value: object, size: float, least: tuple[float, str], most: tuple[float, str]) -> float:
    """The size, where it lies between two limits that are given with the words for them."""
    if size < least[0]:
        raise wrong(f"got {shown(value)}, must be {least[1]} or more")
    if size > most[0]:
        raise wrong(f"got {shown(value)}, must be {most[1]} or less")
    return size


# The limits are own judgement: past them it is a unit that was forgotten or a digit too many.
def read_volume(value: object) -> float:
    """What a can holds, litres.

    Raises:
        PydanticCustomError: it is no such amount, or out of its limits.
    """
    size = _read(value, _VOLUMES, "what a can holds", VOLUME_FORMS)
    return _within(value, size, (0.02, "20 ml (1 fl oz)"), (250.0, "250 l (65 gal)"))


def read_coverage(value: object) -> float:
    """How far paint goes, m2 per litre.

    Raises:
        PydanticCustomError: it is no such amount, or out of its limits.
    """
    area, slash, volume = re.sub(r"\sper\s", "/", value).partition("/") if isinstance(value, str) else ("", "", "")
    match = re.fullmatch(rf"\s*{_NUMBER}\s*(?P<unit>[a-z][a-z0-9². ]*?)\s*", area, re.I)
    per, unit = _unit(volume.strip(), _VOLUMES), _unit(match["unit"], _AREAS) if match else None
    if not slash or match is None or per is None or unit is None:
        raise wrong(f"got {shown(value)}, must be how far it goes with its unit, like {COVERAGE_FORMS}")
    size = _number(match["n"]) * unit / per
    return _within(value, size, (0.5, "20 sq ft/gal (0.5 m2/l)"), (100.0, "4000 sq ft/gal (100 m2/l)"))


def _read_mass(value: object) -> float:
    size = _read(value, _MASSES, "a load", MASS_FORMS)
    return _within(value, size, (20.0, "20 kg (44 lb)"), (20_000.0, "20000 kg (44000 lb)"))


def _read_sheet_mass(value: object) -> float:
    size = _read(value, _MASSES, "what one sheet weighs", SHEET_MASS_FORMS)
    return _within(value, size, (0.2, "0.2 kg (1/2 lb)"), (200.0, "200 kg (440 lb)"))


def _schema(pattern: str, *examples: str) -> WithJsonSchema:
    return WithJsonSchema({"type": "string", "pattern": pattern, "examples": list(examples)})


def _amount(read: Callable[[object], float], unit: str, schema: WithJsonSchema) -> tuple[object, ...]:
    return BeforeValidator(read), PlainSerializer(lambda size: f"{size!r} {unit}", when_used="json"), schema


_STARTS = r"^\s*[0-9]"
Volume = Annotated[float, *_amount(read_volume, "l", _schema(_STARTS, "1 qt", "1 gal", "2.5 l"))]
"""Litres."""
Coverage = Annotated[
    float, *_amount(read_coverage, "m2/l", _schema(rf"{_STARTS}.*(/|\sper\s)", "400 sq ft/gal", "10 m2/l"))
]
"""m2 per litre."""
Mass = Annotated[float, *_amount(_read_mass, "kg", _schema(_STARTS, "550 lb", "250 kg"))]
"""Kilograms, of a load."""
SheetMass = Annotated[float, *_amount(_read_sheet_mass, "kg", _schema(_STARTS, "45 lb", "8 kg"))]
"""Kilograms, of one sheet."""


def _read_content(value: object, info: ValidationInfo) -> float:
    """What a pack holds, by its name: pieces, mm of bead or roll, or litres."""
    name = info.data.get("name")
    if name in PAINTS:
        return read_volume(value)
    if name in ROLLS:
        if not isinstance(value, str):
            raise wrong(f'got {shown(value)}, must be a length with its unit for "{name}", like "180 ft" or "50 m"')
        return limited(value, reading(info).units, Limit("1 ft", "300 mm"), Limit("3000 ft", "1000 m"))
    if name not in get_args(PackName):
        return 1.0  # its name is wrong, and that is told
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= 100_000:
        raise wrong(f'got {shown(value)}, must be a whole number of pieces from 1 to 100000 for "{name}"')
    return float(value)


Content = Annotated[
    float,
    BeforeValidator(_read_content),
    WithJsonSchema(
        {"type": ["integer", "string"], "pattern": _STARTS, "minimum": 1, "examples": [1000, "180 ft", "1 gal"]}
    ),
]
"""What a pack holds: pieces, mm (`ROLLS`) or litres (`PAINTS`), as its name says."""


def content_text(name: str, size: float) -> str | int:
    """What a pack holds so that it reads back as the same number."""
    if name in PAINTS:
        return f"{size!r} l"
    return f"{size!r} mm" if name in ROLLS else int(size)
