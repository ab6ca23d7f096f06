"""Kinds of amount that are no length: what a can holds, how far it goes, what a car carries, what is in a pack."""

import re
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Annotated, Literal, get_args

from pydantic import ValidationInfo

from lacunar.config.lengths import Limit, limited
from lacunar.config.reading import kind, reading, shown, wrong
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

JobName = Literal[
    "board",
    "square metre",
    "furring strip",
    "reading",
    "saw setting",
    "crosscut",
    "rip",
    "pocket",
    "beam piece",
    "slat",
    "cut-out",
    "trim strip",
    "nail hole",
]
"""What time is counted for."""

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

_NUMBER = r"(?P<n>[0-9]+(?:\.[0-9]+)?|[0-9]+ ?/ ?[1-9][0-9]*)"
_STARTS = r"^\s*[0-9]"


def _number(text: str) -> float:
    top, _, bottom = text.partition("/")
    return float(top) / float(bottom) if bottom else float(top)


def _unit(text: str) -> str:
    """A unit as the tables above have it, "sq ft/gal" for "Sq Ft. per gal"."""
    parts = re.sub(r"\sper\s", "/", text.lower()).split("/")
    return "/".join(" ".join(part.split()).rstrip(".") for part in parts)


def _reader(
    units: Mapping[str, float],
    what: str,
    forms: str,
    least: tuple[float, str],
    most: tuple[float, str],
    per: Mapping[str, float] = MappingProxyType({"": 1.0}),
) -> Callable[[object], float]:
    """Reads a number and its unit, within two limits that are given with the words for them."""

    def read(value: object) -> float:
        text = value if isinstance(value, str) else ""
        match = re.fullmatch(rf"\s*{_NUMBER}\s*(?P<unit>[a-z][a-z0-9²./\s]*?)\s*", text, re.I)
        of, slash, can = _unit(match["unit"]).partition("/") if match else ("", "", "")
        if match is None or of not in units or f"{slash}{can}" not in per:
            raise wrong(f"got {shown(value)}, must be {what} with its unit, like {forms}")
        size = _number(match["n"]) * units[of] / per[f"{slash}{can}"]
        if not least[0] <= size <= most[0]:
            limit = f"{least[1]} or more" if size < least[0] else f"{most[1]} or less"
            raise wrong(f"got {shown(value)}, must be {limit}")
        return size

    return read


def _amount(read: Callable[[object], float], unit: str, *examples: str, pattern: str = _STARTS) -> tuple[object, ...]:
    schema = {"type": "string", "pattern": pattern, "examples": list(examples)}
    return kind(read, schema, lambda size: f"{size!r} {unit}")


# The limits are own judgement: past them it is a unit that was forgotten or a digit too many.
_read_volume = _reader(
    _VOLUMES,
    "what a can holds",
    "1 gal, 1 qt, 2.5 l, 750 ml",
    (0.02, "20 ml (1 fl oz)"),
    (250.0, "250 l (65 gal)"),
)
_read_coverage = _reader(
    _AREAS,
    "how far it goes",
    "400 sq ft/gal, 100 sq ft/qt, 10 m2/l",
    (0.5, "20 sq ft/gal (0.5 m2/l)"),
    (100.0, "4000 sq ft/gal (100 m2/l)"),
    {f"/{can}": litres for can, litres in _VOLUMES.items()},
)
_read_mass = _reader(_MASSES, "a load", "250 kg, 550 lb", (20.0, "20 kg (44 lb)"), (20_000.0, "20000 kg (44000 lb)"))
_read_sheet_mass = _reader(
    _MASSES, "what one sheet weighs", "8 kg, 45 lb", (0.2, "0.2 kg (1/2 lb)"), (200.0, "200 kg (440 lb)")
)

Volume = Annotated[float, *_amount(_read_volume, "l", "1 qt", "1 gal", "2.5 l")]
"""Litres."""
Coverage = Annotated[
    float, *_amount(_read_coverage, "m2/l", "400 sq ft/gal", "10 m2/l", pattern=rf"{_STARTS}.*(/|\sper\s)")
]
"""m2 per litre."""
Mass = Annotated[float, *_amount(_read_mass, "kg", "550 lb", "250 kg")]
"""Kilograms, of a load."""
SheetMass = Annotated[float, *_amount(_read_sheet_mass, "kg", "45 lb", "8 kg")]
"""Kilograms, of one sheet."""


def _read_content(value: object, info: ValidationInfo) -> float:
    """What a pack holds, by its name: pieces, mm of bead or roll, or litres."""
    name = info.data.get("name")
    if name in PAINTS:
        return _read_volume(value)
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
    *kind(
        _read_content,
        {"type": ["integer", "string"], "pattern": _STARTS, "minimum": 1, "examples": [1000, "180 ft", "1 gal"]},
    ),
]
"""What a pack holds: pieces, mm (`ROLLS`) or litres (`PAINTS`), as its name says."""


def content_text(name: str, size: float) -> str | int:
    """What a pack holds so that it reads back as the same number."""
    if name in PAINTS:
        return f"{size!r} l"
    return f"{size!r} mm" if name in ROLLS else int(size)
