"""The new ceiling: cross beams, slats, trim."""

import re
from collections.abc import Mapping
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, ValidationInfo, WithJsonSchema

from lacunar.config.lengths import NOT_GIVEN, Angle, Distance, Length, Section, Small
from lacunar.config.numbers import Pockets, Rows, Share
from lacunar.config.raw import is_list
from lacunar.config.reading import did_you_mean, reading, shown, wrong
from lacunar.config.table import Table
from lacunar.config.words import Bottom, CofferName, SpeciesName, StockName, Text, one_of, read_wall
from lacunar.materials import POCKET_PRACTICE
from lacunar.units import UnitError, read_angle

AtWalls = Literal["trim", "half beam"]
WallEnd = Literal["unknown", "ledger", "stud"]
Wedging = Literal["auto", "leave", "fan", "taper"]
Profile = Literal["square"]
CornerJoint = Literal["mitre", "butt"]

RUNS = ("with", "across", "alternate", "joists")


class Joint(Table):
    """How a cross-beam piece is screwed in at each end (pocket screws)."""

    high: Pockets = Field(default=POCKET_PRACTICE.high, description="Pockets per end near the ceiling.")
    low: Pockets = Field(default=POCKET_PRACTICE.low, description="Pockets per end near the bottom; they are plugged.")
    angle: Angle = Field(default=POCKET_PRACTICE.angle, description="Between the screw and the piece; 15 deg.")
    clearance: Small = Field(
        default=POCKET_PRACTICE.clearance, description="Taken off the length as a whole, half at each end; 1/32 in."
    )
    bore: Section = Field(default=POCKET_PRACTICE.bore, description="Diameter of the pocket; 3/8 in.")
    pilot: Section = Field(default=POCKET_PRACTICE.pilot, description="Diameter of the hole to the end grain; 1/8 in.")
    offset: Section = Field(
        default=POCKET_PRACTICE.offset, description="Where the screw leaves the end grain, from the side face; 3/4 in."
    )
    drop: Section = Field(
        default=POCKET_PRACTICE.drop, description="Screw below the piece's top; low ones: above its bottom; 1 1/8 in."
    )
    screw: Section = Field(default=POCKET_PRACTICE.screw, description="Length of the screw; 2 1/2 in.")


class CrossBeams(Table):
    """Beams fitted between the existing ones to make a grid."""

    stock: StockName = Field(default="", description='Nominal size, like "4x8"; or give width and depth.')
    width: Section = Field(default=NOT_GIVEN, description="Across, dressed. Default: from the stock.")
    depth: Section = Field(default=NOT_GIVEN, description="Dressed. Default: from the stock.")
    species: SpeciesName = Field(default="", description="Kind of wood. Default: as the slats.")
    rows: Rows | None = Field(default=None, description="Number of rows, placed for equal coffers; 0 for none.")
    at: tuple[Distance, ...] = Field(
        default=(), description="Instead of rows: distances of the centre lines from the wall nearer A."
    )
    align: Text | None = Field(
        default=None,
        description='The rows moved so that a coffer\'s centre lies on "window", "fixture", or a fixture by name.',
    )
    bottom: Bottom = Field(
        default=0.0, description='"flush" with the beams they join, or "up 1/2 in": a step hides what flush shows.'
    )
    walls: Annotated[AtWalls, one_of(AtWalls)] = Field(
        default="trim", description="Along the walls: trim alone, or half beams."
    )
    wall_end: Annotated[WallEnd, one_of(WallEnd)] = Field(
        default="unknown", description="What a piece's end at a wall screws into."
    )
    joint: Joint = Field(default=Joint(), description="Pocket screws at each end.")
    moisture: Share = Field(default=0.19, description="Of the timber when it goes up, 0 to 1; from a meter.")


def _read_run(value: object, info: ValidationInfo) -> str:
    if isinstance(value, str) and value in RUNS:
        return value
    if isinstance(value, str) and re.fullmatch("[A-Za-z]{2}", value):
        return read_wall(value, info)
    advice = did_you_mean(value, RUNS) if isinstance(value, str) else ""
    try:
        read_angle(value)
    except UnitError:
        what = (
            f'got {shown(value)}, must be "with", "across", "alternate", "joists", a wall ({_walls(info)}) or an angle'
        )
        raise wrong(what, advice) from None
    return str(value)


def _walls(info: ValidationInfo) -> str:
    return ", ".join(reading(info).walls) or "two letters"


def _read_from(value: object, info: ValidationInfo) -> tuple[str, ...]:
    if value == "centre":
        return ("centre",)
    walls: list[object] = value if is_list(value) else [value]
    if not walls or not all(isinstance(wall, str) and re.fullmatch("[A-Za-z]{2}", wall) for wall in walls):
        advice = did_you_mean(value, ("centre",)) if isinstance(value, str) else ""
        raise wrong(f'got {_shown_list(value)}, must be walls like ["AB", "BC"], or "centre"', advice)
    return tuple(read_wall(wall, info) for wall in walls)


def _shown_list(value: object) -> str:
    if is_list(value) and value:
        return "[" + ", ".join(shown(item) for item in value) + "]"
    return shown(value)


Run = Annotated[
    str,
    BeforeValidator(_read_run),
    WithJsonSchema(
        {
            "anyOf": [
                {"enum": list(RUNS)},
                {"type": "string", "pattern": "^[A-Za-z]{2}$"},
                {"type": "string", "pattern": r"^\s*[-+−]?\s*[0-9.]+\s*(deg|degrees?|°|rad)?\.?\s*$"},
                {"type": "number"},
            ]
        }
    ),
]
From = Annotated[
    tuple[str, ...],
    BeforeValidator(_read_from),
    WithJsonSchema(
        {
            "anyOf": [
                {"const": "centre"},
                {"type": "string", "pattern": "^[A-Za-z]{2}$"},
                {"type": "array", "items": {"type": "string", "pattern": "^[A-Za-z]{2}$"}, "minItems": 1},
            ]
        }
    ),
]

ANGLE_KEY = "(run angle)"
"""Stands where a TOML key would: the angle is part of `run` in the file."""

SPACER_KEY, NOMINAL_KEY = "(spacer)", "(nominal width)"
"""Stand where TOML keys would: `gap` and `width` as the file has them, before the bench has its say."""

_RUN = (
    "Which way the slats lie: with or across the existing beams, alternate, across the joists, along a wall, an angle."
)
_FROM = 'Walls that slat 1 starts from, or "centre": equal rips at both sides.'


class SlatsOfCoffer(Table):
    """What is different in one coffer."""

    run: Run | None = Field(default=None, description=_RUN)
    run_angle: float | None = Field(default=None, alias=ANGLE_KEY)
    from_: From | None = Field(default=None, alias="from", description=_FROM)


class Slats(Table):
    """The boards that cover a coffer.

    Attributes:
        width: of a full slat; from the bench, where `ten` and the spacer are given.
        nominal_width: as the file or the lumber table has it.
        gap: between two slats; from the bench, where `ten` is given alone.
        spacer: what lies between two slats as they are laid; None where `ten` alone tells of it.
    """

    stock: StockName = Field(default="", description='Nominal size, like "1x4"; or give width and thickness.')
    width: Section = Field(default=NOT_GIVEN, description="Dressed. Default: from the stock.")
    nominal_width: float = Field(default=NOT_GIVEN, alias=NOMINAL_KEY)
    thickness: Section = Field(default=NOT_GIVEN, description="Dressed. Default: from the stock.")
    species: SpeciesName = Field(default="eastern white pine", description="Kind of wood.")
    run: Run = Field(default="across", description=_RUN)
    run_angle: float | None = Field(default=None, alias=ANGLE_KEY)
    gap: Small = Field(
        default=NOT_GIVEN,
        description="Between two slats, by the spacer: 0, or at least a quarter of read_to. Default: 1/4 in, or 6 mm.",
    )
    spacer: float | None = Field(default=None, alias=SPACER_KEY)
    from_: From = Field(default=(), alias="from", description=_FROM)
    end_gap: Small = Field(default=NOT_GIVEN, description="Between a slat's end and the coffer's side.")
    least_end_gap: Small = Field(default=NOT_GIVEN, description="It may shrink to this.")
    edge_gap: Small = Field(default=NOT_GIVEN, description="Beside the first and the last slat. Default: as gap.")
    least_edge_gap: Small = Field(default=NOT_GIVEN, description="It may shrink to this.")
    margin: Small = Field(
        default=NOT_GIVEN,
        description="Kept from the shortest and the longest length that will do, where that costs nothing.",
    )
    narrowest_rip: Section = Field(
        default=NOT_GIVEN,
        description="A narrower last slat becomes two equal ones. Default: half a board, at most 1 3/4 in.",
    )
    wedge: Annotated[Wedging, one_of(Wedging)] = Field(
        default="auto", description="Where a coffer's sides are not parallel: leave it in the edge gap, fan, taper."
    )
    ten: Length | None = Field(
        default=None,
        description="Ten boards and ten spacers pushed together on the bench: gives the true pitch; with gap, which is "
        "then the spacer's own size, the boards' true width.",
    )
    coffer: Mapping[CofferName, SlatsOfCoffer] = Field(default={}, description="What is different in one coffer.")


class Trim(Table):
    """The strips along the sides of every coffer."""

    profile: Annotated[Profile, one_of(Profile)] = Field(default="square", description="Shape of the section.")
    stock: StockName = Field(default="", description="What it is bought as. Default: named after its section.")
    species: SpeciesName = Field(default="", description="Kind of wood. Default: as the slats.")
    width: Section = Field(default=NOT_GIVEN, description="How far it reaches out from the coffer's side.")
    height: Section = Field(default=NOT_GIVEN, description="How far it reaches down.")
    corners: Annotated[CornerJoint, one_of(CornerJoint)] = Field(default="mitre", description="How the strips meet.")
    least_overlap: Small = Field(
        default=NOT_GIVEN, description="How far it must reach past the gap that it hides. Default: 1/4 in, or 6 mm."
    )
