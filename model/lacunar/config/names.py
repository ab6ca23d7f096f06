"""Kinds of word: choices, names, walls, corners, species, stock, colours."""

import contextlib
import re
from collections.abc import Callable, Mapping, Sequence
from datetime import date, datetime
from functools import partial
from typing import Annotated, Any, Literal, get_args

from pydantic import AfterValidator, BeforeValidator, ValidationInfo, WithJsonSchema
from pydantic_core import PydanticCustomError

from lacunar.config.lengths import NONE, Distance, Limit, exact_text, length_schema, limited
from lacunar.config.raw import is_list
from lacunar.config.reading import did_you_mean, kind, listed, reading, shown, wrong
from lacunar.materials import (
    OLD_CEILINGS,
    SPECIES,
    find_old_ceiling,
    find_species,
    nearest_old_ceiling,
    nearest_species,
    plain_stock,
)


def _text(value: object, wanted: str) -> str:
    if not isinstance(value, str) or not value.strip() or len(value) > 200 or not value.isprintable():
        raise wrong(f"got {shown(value)}, must be {wanted}")
    return value.strip()


def one_of(choice: object) -> BeforeValidator:
    """Reads one of the words of a Literal, and names the nearest one where it is another."""
    words: tuple[str, ...] = get_args(choice)

    def read(value: object) -> object:
        if value not in words:
            advice = did_you_mean(value, words) if isinstance(value, str) else ""
            raise wrong(f"got {shown(value)}, must be {listed(words)}", advice)
        return value

    return BeforeValidator(read)


def _must(be: Callable[[object], bool], wanted: str) -> Callable[[object], object]:
    """Reads a value as it stands, where it is what is wanted."""

    def read(value: object) -> object:
        if not be(value):
            raise wrong(f"got {shown(value)}, must be {wanted}")
        return value

    return read


def _named(pattern: str, wanted: str) -> tuple[object, ...]:
    read = _must(lambda value: isinstance(value, str) and re.fullmatch(pattern, value) is not None, wanted)
    return kind(read, {"type": "string", "pattern": f"^{pattern}$"})


_is_yes_or_no = _must(lambda value: isinstance(value, bool), "true or false, without quotes")
_is_any = _must(lambda value: isinstance(value, bool) or value == "auto", 'true or false without quotes, or "auto"')

YesNoAuto = Annotated[bool | Literal["auto"], *kind(_is_any, {"anyOf": [{"type": "boolean"}, {"const": "auto"}]})]
YesNo = Annotated[bool, *kind(_is_yes_or_no, {"type": "boolean"})]
Text = Annotated[
    str,
    *kind(
        partial(_text, wanted="a text of 1 to 200 characters on one line"),
        {"type": "string", "minLength": 1, "maxLength": 200},
    ),
]
"""One line of text."""
Currency = Annotated[str, *_named(r"[A-Z]{3}", 'a currency of three capital letters, like "USD" or "EUR"')]


def _day(value: object) -> date:
    """A day as TOML or ISO 8601 has it."""
    with contextlib.suppress(ValueError):
        if isinstance(value, date) and not isinstance(value, datetime):
            return value
        if isinstance(value, str):
            return date.fromisoformat(value)
    raise wrong(f"got {shown(value)}, must be a day, like 2026-03-14")


Day = Annotated[date, *kind(_day, {"type": "string", "pattern": r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}, date.isoformat)]


def _when(value: object) -> date | str:
    with contextlib.suppress(PydanticCustomError):
        return _day(value)
    return _text(value, "a day, like 2026-03-14, or a text of 1 to 200 characters on one line")


When = Annotated[date | str, *kind(_when, {"type": "string", "minLength": 1, "maxLength": 200}, str)]
"""A day, or words that say when."""
Colour = Annotated[
    str,
    *_named(
        r"#[0-9a-fA-F]{6}|lab\(\s*[0-9.]+\s*,\s*-?[0-9.]+\s*,\s*-?[0-9.]+\s*\)",
        'a colour like "#4a3020" or "lab(24, 9, 14)"',
    ),
]
CofferName = Annotated[str, *_named(r"C[1-9][0-9]*", "a coffer, like C5")]
PartName = Annotated[str, *_named(r"[A-Z][A-Za-z0-9_-]*", "a part, like C5-S03")]
PieceName = Annotated[str, *_named(r"[A-Za-z0-9][A-Za-z0-9_-]*", "a part, like C5-S03")]
MarkName = Annotated[
    str,
    *_named(
        r"(?!centre$)[A-Za-z_][A-Za-z0-9_]+",
        'a mark\'s name: letters, digits and _, two or more, no digit first, and not "centre"',
    ),
]


def _not(*words: str, end: str = "$") -> str:
    """A pattern that rules words out, however they are spelt: a file of that name may be another's, or none at all.

    Args:
        words: in small letters.
        end: what follows them; "" rules out whatever begins like that.
    """
    spelt = ("".join(f"[{one.upper()}{one}]" if one.isalpha() else one for one in word) for word in words)
    return f"(?!(?:{'|'.join(spelt)}){end})"


_DEVICES = ("con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10)))
"""No files on Windows, whatever follows the dot. Source: from memory."""

STANDING_VIEWS = (
    *("door", "seat", "up", "corner", "exploded", "section", "hidden"),
    *("today", "evening", "overlap", "steps", "compare"),
)
"""Names of pictures that every job has or will have; a camera of one's own cannot bear them."""

BeamName = Annotated[
    str,
    *_named(
        rf"(?![CcXxHhMmFf][0-9]){_not('ceiling', *_DEVICES)}[A-Za-z0-9][A-Za-z0-9_-]{{0,39}}",
        "a name of letters, digits, - and _, a letter or digit first, that is not like C1, X1, H1, M1 or F1 (those are "
        'given to other parts), and not "ceiling" or the name of a device ("con")',
    ),
]
CameraName = Annotated[
    str,
    *_named(
        rf"{_not(*STANDING_VIEWS, *_DEVICES)}{_not('today-', 'evening-', 'alternative-', end='')}"
        r"[A-Za-z0-9][A-Za-z0-9_-]{0,39}",
        "a name of letters, digits, - and _, a letter or digit first, that is not "
        f'{listed(STANDING_VIEWS)} or the name of a device ("con"), and begins with no "today-", "evening-" or '
        '"alternative-"',
    ),
]
_CORNERS = r"(?:([A-Z])(?!.*\1)){3,26}"
Corners = Annotated[str, *_named(_CORNERS, "three or more different capital letters, clockwise seen from above")]


def is_corners(value: object) -> bool:
    """Whether a value names corners: three or more different capital letters."""
    return isinstance(value, str) and re.fullmatch(_CORNERS, value) is not None


# --- walls, corners and marks --------------------------------------------------------------------------------------


def read_wall(value: object, info: ValidationInfo) -> str:
    """A wall of the room, named as the corners run.

    Raises:
        PydanticCustomError: the room has no such wall.
    """
    known = reading(info)
    wall = known.wall(value.upper()) if isinstance(value, str) and re.fullmatch("[A-Za-z]{2}", value) else None
    if wall is None:
        raise wrong(f"got {shown(value)}, must be a wall of the room: {listed(known.walls, '') or 'two letters'}")
    return wall


def _read_corner(value: object, info: ValidationInfo) -> str:
    known = reading(info).corners
    letter = value.upper() if isinstance(value, str) else ""
    if not re.fullmatch("[A-Z]", letter) or (known and letter not in known):
        raise wrong(f"got {shown(value)}, must be a corner of the room: {listed(known, '') or 'one letter'}")
    return letter


_BEAM_END = r"[A-Za-z0-9_-]+\.[A-Z]{2}"
_DASHED = re.compile(rf"({_BEAM_END}|[^.-]*)-(.+)")


def beam_mark(beam: str, wall: str) -> str:
    """What a distance calls the place where a beam's near face meets a wall: "E1.AB"."""
    return f"{beam}.{wall}"


def distance_ends(key: str) -> tuple[str, str]:
    """The two corners, marks or beam ends that a key of `room.measured` names: "AC", "m1-C", "E1.AB-C".

    Beams' names may hold dashes and still no key can be read in two ways: marks have none, and a beam's end has the
    one dot, two letters before the end or the next dash.
    """
    dashed = _DASHED.fullmatch(key)
    return (dashed[1], dashed[2]) if dashed else (key[:1], key[1:])


def known_end(end: str, beam_ends: Sequence[str]) -> str:
    """An end of a distance as the beam's own end is named ("E1.BA" may stand for "E1.AB"); any other as it is."""
    beam, _, wall = end.rpartition(".")
    turned = beam_mark(beam, wall[::-1])
    return turned if beam and turned in beam_ends else end


def _read_ends(value: object, info: ValidationInfo) -> str:
    known = reading(info)
    beam_ends = known.beam_ends or ()
    ends = [known_end(end, beam_ends) for end in distance_ends(value)] if isinstance(value, str) else ["", ""]
    all_known = known.corners and known.marks is not None and known.beam_ends is not None
    if ends[0] == ends[1] or (all_known and not set(ends) <= {*known.corners, *(known.marks or ()), *beam_ends}):
        kinds = (("corners", known.corners), ("marks", known.marks or ()), ("beam ends", beam_ends))
        there = [f"{kind} {', '.join(names)}" for kind, names in kinds if names]
        beams = ""
        if beam_ends:
            beams = f', a beam\'s end in quotes as "{beam_ends[0]}-C"'
        elif isinstance(value, str) and "." in value:
            beams = "; beams' ends can be measured to where [[beam]] gives each beam"
        raise wrong(
            f"got {shown(value)}, must be two of the {listed(there, '') or 'corners'}",
            f'write two corners as "AC", and a mark with a dash as "m1-C"{beams}',
        )
    assert isinstance(value, str)
    return value


def _read_height_place(value: object, info: ValidationInfo) -> str:
    known = reading(info)
    all_known = known.corners and known.marks is not None
    if not isinstance(value, str) or (all_known and value not in (*known.corners, *(known.marks or ()), "centre")):
        marks = f", a mark ({', '.join(known.marks)})" if known.marks else ""
        raise wrong(f'got {shown(value)}, must be a corner ({", ".join(known.corners)}){marks} or "centre"')
    return value


WALL = "^[A-Za-z]{2}$"
"""Pattern of a wall's name."""
_END = rf"({_BEAM_END}|[A-Za-z0-9_]+)"


def _matching(pattern: str, *examples: str) -> dict[str, Any]:
    """The schema of a text."""
    return {
        "type": "string",
        **({"pattern": pattern} if pattern else {}),
        **({"examples": list(examples)} if examples else {}),
    }


Wall = Annotated[str, *kind(read_wall, _matching(WALL, "AB", "BC"))]
Corner = Annotated[str, *kind(_read_corner, _matching("^[A-Za-z]$", "A"))]
Ends = Annotated[str, *kind(_read_ends, _matching(f"^([A-Z]{{2}}|{_END}-{_END})$"))]
HeightPlace = Annotated[str, *kind(_read_height_place, _matching("^([A-Z]|centre|[A-Za-z0-9_]+)$"))]


def _two_walls(value: Mapping[str, float]) -> Mapping[str, float]:
    if len(value) != 2:
        count = "1 wall" if len(value) == 1 else f"{len(value)} walls"
        raise wrong(f"got {count}, must be distances from two walls", "write { AB = ..., DA = ... }")
    return value


Place = Annotated[
    Mapping[Wall, Distance],
    AfterValidator(_two_walls),
    WithJsonSchema(
        {"type": "object", "patternProperties": {WALL: length_schema()}, "minProperties": 2, "maxProperties": 2}
    ),
]
"""Distances from two walls: a place in the plan."""


# --- wood ----------------------------------------------------------------------------------------------------------


def _read_species(value: object) -> str:
    name = _text(value, "a species")
    species = find_species(name)
    if species is None:
        raise wrong(
            f"got {shown(value)}, must be a known species: {', '.join(SPECIES)}",
            f'did you mean "{nearest_species(name)}"?',
        )
    return species.name


def _read_stock(value: object) -> str:
    return plain_stock(_text(value, 'a nominal size like "1x4"'))


def _read_old_ceiling(value: object) -> str:
    name = _text(value, "a kind of ceiling")
    ceiling = find_old_ceiling(name)
    if ceiling is None:
        raise wrong(
            f"got {shown(value)}, must be {listed(OLD_CEILINGS)}", f'did you mean "{nearest_old_ceiling(name)}"?'
        )
    return ceiling.kind


SpeciesName = Annotated[str, *kind(_read_species, _matching("", *SPECIES))]
StockName = Annotated[str, *kind(_read_stock, _matching("", "1x4", "4x8"))]
"""Nominal size, or a name of one's own where width and thickness are given."""
CeilingKind = Annotated[str, *kind(_read_old_ceiling, _matching("", *OLD_CEILINGS))]


# --- words that carry a number -------------------------------------------------------------------------------------


def _read_bottom(value: object, info: ValidationInfo) -> float:
    if value == "flush":
        return 0.0
    match = re.fullmatch(r"up\s+(.+)", value.strip()) if isinstance(value, str) else None
    if match is None:
        raise wrong(f'got {shown(value)}, must be "flush" or "up" and a length, like "up 1/2 in"')
    return limited(match[1], reading(info).units, NONE, Limit("2 ft", "600 mm"), above=True)


Bottom = Annotated[
    float,
    *kind(
        _read_bottom,
        _matching(r"^(flush|up\s+[0-9].*)$", "flush", "up 1/2 in"),
        lambda up: f"up {exact_text(up)}" if up else "flush",
    ),
]
"""mm that a cross beam's bottom lies above flush."""


_SIZES = (Limit("1/4 in", "5 mm"), Limit("30 ft", "10 m"))


def _read_size(value: object, info: ValidationInfo) -> tuple[float, float]:
    units = reading(info).units
    if is_list(value):
        if len(value) != 2:
            raise wrong(f"got a list of {len(value)}, must be one length or a list of two (along AB, away from AB)")
        return limited(value[0], units, *_SIZES), limited(value[1], units, *_SIZES)
    side = limited(value, units, *_SIZES)
    return side, side


_ONE = length_schema()
Size = Annotated[
    tuple[float, float],
    *kind(
        _read_size,
        {"anyOf": [_ONE, {"type": "array", "items": _ONE, "minItems": 2, "maxItems": 2}]},
        lambda size: [exact_text(side) for side in size],
    ),
]
"""mm along AB and away from it."""
