"""The room and what is in it: walls, heights, windows, doors, existing beams, fixtures."""

import re
from collections.abc import Mapping
from typing import Annotated, Literal

from pydantic import Field, ValidationInfo

from lacunar.config.lengths import (
    NONE,
    NOT_GIVEN,
    Distance,
    Height,
    Length,
    Limit,
    Section,
    Small,
    Temperature,
    exact_text,
    limited,
)
from lacunar.config.names import (
    BeamName,
    Corner,
    Corners,
    Ends,
    HeightPlace,
    MarkName,
    Place,
    Size,
    SpeciesName,
    StockName,
    Text,
    Wall,
    YesNo,
    distance_ends,
    one_of,
)
from lacunar.config.numbers import Count, Share, Year
from lacunar.config.reading import kind, reading, shown, walls_of, wrong
from lacunar.config.table import Table, default

Hand = Literal["left", "right"]
Swing = Literal["in", "out"]
Shape = Literal["round", "square", "rectangle"]
Shell = Literal["solid", "hollow", "unknown"]
Outcome = Literal["none", "found"]


class Mark(Table):
    """A point on a wall that distances are measured to."""

    wall: Wall = Field(description="Wall that the mark is on.")
    from_: Corner = Field(alias="from", description="Corner that the distance is taken from.")
    at: Distance = Field(description="Distance along the wall from that corner.")


class Moulding(Table):
    """A crown or picture rail that is there."""

    out: Section = Field(description="How far it stands out from the wall.")
    down: Section = Field(description="How far it reaches down from the ceiling.")
    keep: YesNo = Field(default=False, description="true: it stays, and everything stops at its face.")


class RoomTable(Table):
    """Walls and heights as measured."""

    height: Height | None = Field(default=None, description="Floor to ceiling, where it is the same everywhere.")
    heights: Mapping[HeightPlace, Height] = Field(
        default={},
        description='Floor to ceiling at every corner, at marks along the walls, and at the "centre" if it sags.',
    )
    corners: Corners = Field(
        default="ABCD", description="Letters of the corners, clockwise seen from above: stand inside, turn right."
    )
    measured: Mapping[Ends, Length] = Field(
        default={},
        description='Every distance between two corners ("AC"), marks ("m1-C") or ends of measured beams ("E1.AB-C": '
        "from where E1's near face meets wall AB to C), in any order. "
        "More than needed is good: it exposes a misread one.",
    )
    marks: Mapping[MarkName, Mark] = Field(default={}, description="More points to measure to.")
    moulding: Moulding | None = Field(default=None, description="A crown or picture rail that is there.")
    furnished: YesNo = Field(
        default=False, description="true: pictures show a plain sofa, a table and a person for scale, where they fit."
    )

    @property
    def walls(self) -> tuple[str, ...]:
        """Wall names in the order of the corners: AB, BC, ..."""
        return walls_of(self.corners)

    def wall_length(self, wall: str) -> float | None:
        """A wall's length as measured; None where it was not."""
        found = (size for key, size in self.measured.items() if set(distance_ends(key)) == set(wall))
        return next(found, None)

    @property
    def unmeasured(self) -> tuple[str, ...]:
        """Walls whose length nobody has measured."""
        return tuple(wall for wall in self.walls if self.wall_length(wall) is None)


class _InWall(Table):
    """What is in a wall, seen from inside."""

    wall: Wall = Field(description="Wall that it is in.")
    from_: Corner = Field(default="", alias="from", description="Corner that `at` is taken from; default: the first.")
    at: Distance = Field(description="Along the wall from that corner to the near jamb.")
    width: Length = Field(description="Between the jambs.")


class WindowTable(_InWall):
    """A window, seen from inside."""

    sill: Distance = default("Floor to sill.", Limit("2 ft 8 in", "800 mm"))
    head: Length = default("Floor to head.", Limit("6 ft 10 in", "2080 mm"))


class Door(_InWall):
    """A door, seen from inside."""

    height: Length = default("Floor to head.", Limit("6 ft 8 in", "2000 mm"))
    swing: Annotated[Swing, one_of(Swing)] = Field(default="in", description="Into the room or out of it.")
    hinge: Annotated[Hand, one_of(Hand)] = Field(default="left", description="Hinge side, seen from inside the room.")


class Made(Table):
    """What a screw finds in a beam.

    Attributes:
        kind: solid, hollow or unknown.
        shell: thickness of a hollow beam's boards, mm; 0 otherwise.
    """

    kind: Shell = "unknown"
    shell: float = 0.0


def _read_made(value: object, info: ValidationInfo) -> Made:
    if isinstance(value, str):
        if value in ("solid", "unknown"):
            return Made(kind=value)
        match = re.fullmatch(r"hollow\s+(.+)", value.strip())
        if match is not None:
            return Made(
                kind="hollow", shell=limited(match[1], reading(info).units, NONE, Limit("4 in", "100 mm"), above=True)
            )
    raise wrong(
        f'got {shown(value)}, must be "solid", "unknown", or "hollow" and the thickness of its boards, '
        'like "hollow 3/4 in"'
    )


MadeText = Annotated[
    Made,
    *kind(
        _read_made,
        {"type": "string", "pattern": r"^(solid|unknown|hollow\s+[0-9.½¼¾⅛⅜⅝⅞].*)$"},
        lambda made: f"hollow {exact_text(made.shell)}" if made.kind == "hollow" else made.kind,
    ),
]
_MADE = 'What a screw finds: "solid", "hollow 3/4 in" or "unknown". Knock, or drill a thin hole where none will show.'


class BeamEnd(Table):
    """Where a beam's near face meets a wall."""

    wall: Wall = Field(description="Wall that this end meets.")
    from_: Corner = Field(alias="from", description="Corner that the distance is taken from.")
    at: Distance = Field(description="Along the wall from that corner to the beam's near face.")


class Beam(Table):
    """One beam as measured, or a main beam still to go up."""

    name: BeamName = Field(default="", description="Its id everywhere. Default: E1, E2, ... in order.")
    width: Section = Field(default=NOT_GIVEN, description="Across, as it hangs.")
    depth: Section = Field(default=NOT_GIVEN, description="Ceiling to underside.")
    ends: tuple[BeamEnd, ...] = Field(
        description="Where its near face meets two walls.", json_schema_extra={"minItems": 2, "maxItems": 2}
    )
    made: MadeText = Field(default=Made(), description=_MADE)
    keep: YesNo = Field(default=True, description="Its surface stays as it is.")
    new: YesNo = Field(default=False, description="true: a main beam still to go up.")
    middle: Section | None = Field(default=None, description="Width half way, if it bows.")
    stock: StockName | None = Field(default=None, description="What a new beam is bought as; gives width and depth.")
    species: SpeciesName = Field(default="", description="Kind of wood. Default: as the cross beams.")


class Beams(Table):
    """Existing beams, evenly spread: equal clear widths on both walls."""

    count: Count = Field(description="How many there are.")
    between: tuple[Wall, ...] = Field(
        description="The two walls that they run between.", json_schema_extra={"minItems": 2, "maxItems": 2}
    )
    width: Section = Field(description="Across.")
    depth: Section = Field(description="Ceiling to underside.")
    made: MadeText = Field(default=Made(), description=_MADE)
    keep: YesNo = Field(default=True, description="Their surface stays as it is.")


class Fixture(Table):
    """A lamp, a grille, a sensor: what the slats are cut round."""

    name: Text = Field(default="", description="Its name in every product. Default: fixture 1, ...")
    kind: Text = Field(default="ceiling box", description="What it is.")
    shape: Annotated[Shape, one_of(Shape)] = Field(default="round", description="Seen from below.")
    size: Size = default(
        "Diameter or side, or two sides: along AB, away from AB.",
        Limit("4 in", "100 mm"),
        told=False,
        absent=(NOT_GIVEN, NOT_GIVEN),
    )
    canopy: Length | None = Field(default=None, description="Diameter or side of the cover that hides its hole.")
    at: Place = Field(description="Its centre: distances from two walls that are not parallel.")


class Indoor(Table):
    """Air of the room over the year, as relative humidity from 0 to 1."""

    dry: Share = Field(default=0.25, description="Relative humidity in the driest weeks, 0 to 1.")
    humid: Share = Field(default=0.60, description="Relative humidity in the most humid weeks, 0 to 1.")
    temperature: Temperature = Field(default=20.0, description='Like "68 F" or "20 C".')


class Tested(Table):
    """What tests of the old paint and of the old ceiling found; what is left out was not tested."""

    lead: Annotated[Outcome, one_of(Outcome)] | None = Field(default=None, description="In the paint.")
    asbestos: Annotated[Outcome, one_of(Outcome)] | None = Field(
        default=None, description="In plaster, texture or insulation."
    )


class House(Table):
    """The house around the room."""

    built: Year | None = Field(default=None, description="Year; decides which cautions are printed.")
    tested: Tested = Field(default=Tested(), description="What tests found; left out: not tested.")
    indoor: Indoor = Field(default=Indoor(), description="Air of the room over the year.")


class NoNail(Table):
    """A pipe or wire above the ceiling: a strip where no nail may go."""

    from_: Place = Field(alias="from", description="One end of the pipe or wire.")
    to: Place = Field(description="The other end.")
    within: Small = Field(description="How near to its line no nail may come.")
