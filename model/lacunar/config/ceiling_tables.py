"""The new ceiling: cross beams, slats, trim."""

import re
from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import Field, PrivateAttr, ValidationInfo, field_serializer

from lacunar.config.lengths import (
    ANGLE_SCHEMA,
    NOT_GIVEN,
    Angle,
    Distance,
    Length,
    Limit,
    Section,
    Small,
    exact_text,
    plain_length,
)
from lacunar.config.names import WALL, Bottom, CofferName, SpeciesName, StockName, Text, one_of, read_wall
from lacunar.config.numbers import Pockets, Rows, Share
from lacunar.config.raw import is_list
from lacunar.config.reading import did_you_mean, kind, reading, shown, wrong
from lacunar.config.table import Table, default
from lacunar.materials import POCKET_PRACTICE
from lacunar.units import DEGREE, UnitError, read_angle

AtWalls = Literal["trim", "half beam"]
WallEnd = Literal["unknown", "ledger", "stud"]
Wedging = Literal["auto", "leave", "fan", "taper"]
Profile = Literal["square"]
CornerJoint = Literal["mitre", "butt"]

RUNS = ("with", "across", "alternate", "joists")


def _usual(mm: float, text: str) -> Any:
    """The field of a length that is the same in every room, where it is not given."""
    return Field(default=mm, description=f"{text}; {plain_length(mm, 'in')}.")


class Joint(Table):
    """How a cross-beam piece is screwed in at each end (pocket screws)."""

    high: Pockets = Field(default=POCKET_PRACTICE.high, description="Pockets per end near the ceiling.")
    low: Pockets = Field(default=POCKET_PRACTICE.low, description="Pockets per end near the bottom; they are plugged.")
    angle: Angle = Field(
        default=POCKET_PRACTICE.angle,
        description=f"Between the screw and the piece; {POCKET_PRACTICE.angle / DEGREE:.0f} deg.",
    )
    clearance: Small = _usual(POCKET_PRACTICE.clearance, "Taken off the length as a whole, half at each end")
    bore: Section = _usual(POCKET_PRACTICE.bore, "Diameter of the pocket")
    pilot: Section = _usual(POCKET_PRACTICE.pilot, "Diameter of the hole to the end grain")
    offset: Section = _usual(POCKET_PRACTICE.offset, "Where the screw leaves the end grain, from the side face")
    drop: Section = _usual(POCKET_PRACTICE.drop, "Screw below the piece's top; low ones: above its bottom")
    screw: Section = _usual(POCKET_PRACTICE.screw, "Length of the screw")


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
    try:
        read_angle(value)
    except UnitError:
        advice = did_you_mean(value, RUNS) if isinstance(value, str) else ""
        runs = ", ".join(f'"{run}"' for run in RUNS)
        walls = ", ".join(reading(info).walls) or "two letters"
        raise wrong(f"got {shown(value)}, must be {runs}, a wall ({walls}) or an angle", advice) from None
    return str(value)


def _read_from(value: object, info: ValidationInfo) -> tuple[str, ...]:
    if value == "centre":
        return ("centre",)
    walls: list[object] = value if is_list(value) else [value]
    if not walls or not all(isinstance(wall, str) and re.fullmatch("[A-Za-z]{2}", wall) for wall in walls):
        advice = did_you_mean(value, ("centre",)) if isinstance(value, str) else ""
        got = f"[{', '.join(map(shown, walls))}]" if is_list(value) and value else shown(value)
        raise wrong(f'got {got}, must be walls like ["AB", "BC"], or "centre"', advice)
    return tuple(read_wall(wall, info) for wall in walls)


_ONE_WALL = {"type": "string", "pattern": WALL}
_ANGLE = {"type": "string", "pattern": ANGLE_SCHEMA["pattern"]}
Run = Annotated[
    str,
    *kind(
        _read_run,
        {"anyOf": [{"enum": list(RUNS)}, _ONE_WALL, _ANGLE, {"type": "number"}]},
    ),
]
From = Annotated[
    tuple[str, ...],
    *kind(
        _read_from,
        {"anyOf": [{"const": "centre"}, _ONE_WALL, {"type": "array", "items": _ONE_WALL, "minItems": 1}]},
    ),
]

_RUN = (
    "Which way the slats lie: with or across the existing beams, alternate, across the joists, along a wall, an angle."
)
_FROM = 'Walls that slat 1 starts from, or "centre": equal rips at both sides.'


class _Laid(Table):
    """Which way slats lie."""

    _run_angle: float | None = PrivateAttr(default=None)

    @property
    def run_angle(self) -> float | None:
        """Of a run that is an angle, radians."""
        return self._run_angle

    @field_serializer("run", when_used="json-unless-none", check_fields=False)
    def _written_run(self, run: str) -> str:
        return run if self._run_angle is None else f"{self._run_angle!r} rad"

    @field_serializer("from_", when_used="json-unless-none", check_fields=False)
    def _written_from(self, walls: tuple[str, ...]) -> str | tuple[str, ...]:
        return "centre" if walls == ("centre",) else walls


class SlatsOfCoffer(_Laid):
    """What is different in one coffer."""

    run: Run | None = Field(default=None, description=_RUN)
    from_: From | None = Field(default=None, alias="from", description=_FROM)


class Slats(_Laid):
    """The boards that cover a coffer.

    Attributes:
        width: of a full slat; from the bench, where `ten` and the spacer are given.
        gap: between two slats; from the bench, where `ten` is given alone.
    """

    stock: StockName = Field(default="", description='Nominal size, like "1x4"; or give width and thickness.')
    width: Section = Field(default=NOT_GIVEN, description="Dressed. Default: from the stock.")
    thickness: Section = Field(default=NOT_GIVEN, description="Dressed. Default: from the stock.")
    species: SpeciesName = Field(default="eastern white pine", description="Kind of wood.")
    run: Run = Field(default="across", description=_RUN)
    gap: Small = default(
        "Between two slats, by the spacer: 0, or at least a quarter of read_to.", Limit("1/4 in", "6 mm"), told=False
    )
    from_: From = Field(default=(), alias="from", description=_FROM)
    end_gap: Small = default("Between a slat's end and the coffer's side.", Limit("1/4 in", "6 mm"))
    least_end_gap: Small = default("It may shrink to this.", Limit("1/16 in", "1.5 mm"), "; no more than end_gap")
    edge_gap: Small = default("Beside the first and the last slat.", "as gap")
    least_edge_gap: Small = default("It may shrink to this.", Limit("1/16 in", "1.5 mm"), "; no more than edge_gap")
    margin: Small = default(
        "Kept from the shortest and the longest length that will do, where that costs nothing; if it is not given, "
        "slats of measured coffers keep three standard deviations.",
        Limit("1/8 in", "3 mm"),
    )
    narrowest_rip: Section = default("A narrower last slat becomes two equal ones.", "half a board, at most 1 3/4 in")
    wedge: Annotated[Wedging, one_of(Wedging)] = Field(
        default="auto", description="Where a coffer's sides are not parallel: leave it in the edge gap, fan, taper."
    )
    ten: Length | None = Field(
        default=None,
        description="Ten boards and ten spacers pushed together on the bench: gives the true pitch; with gap, which is "
        "then the spacer's own size, the boards' true width.",
    )
    coffer: Mapping[CofferName, SlatsOfCoffer] = Field(default={}, description="What is different in one coffer.")

    _nominal_width: float = PrivateAttr(default=NOT_GIVEN)
    _spacer: float | None = PrivateAttr(default=None)

    @property
    def nominal_width(self) -> float:
        """Of a full slat, as the file or the lumber table has it."""
        return self._nominal_width

    @property
    def spacer(self) -> float | None:
        """What lies between two slats as they are laid; None where `ten` alone tells of it."""
        return self._spacer

    @field_serializer("width", when_used="json")
    def _written_width(self, _: float) -> str:
        return exact_text(self._nominal_width)


_STOCK = "; of a stock, what that measures"


class TrimTable(Table):
    """The strips along the sides of every coffer."""

    profile: Annotated[Profile, one_of(Profile)] = Field(default="square", description="Shape of the section.")
    stock: StockName = Field(default="", description="What it is bought as. Default: named after its section.")
    species: SpeciesName = Field(default="", description="Kind of wood. Default: as the slats.")
    width: Section = default("How far it reaches out from the coffer's side.", Limit("3/4 in", "20 mm"), _STOCK)
    height: Section = default("How far it reaches down.", Limit("3/4 in", "20 mm"), _STOCK)
    corners: Annotated[CornerJoint, one_of(CornerJoint)] = Field(default="mitre", description="How the strips meet.")
    least_overlap: Small = default("How far it must reach past the gap that it hides.", Limit("1/4 in", "6 mm"))

    @property
    def is_mitred(self) -> bool:
        """Its strips are, at the corners of a coffer."""
        return self.corners == "mitre"
