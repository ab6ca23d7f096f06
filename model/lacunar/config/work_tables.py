"""What is above, what it is made with, and what stages to come will use."""

from collections.abc import Mapping
from typing import Annotated, Literal

from pydantic import Field, field_serializer

from lacunar.config.amounts import Content, Coverage, JobName, Mass, PackName, SheetMass, Volume, content_text
from lacunar.config.lengths import NOT_GIVEN, Board, Distance, Fine, Length, Limit, Section, Small
from lacunar.config.names import (
    CameraName,
    CeilingKind,
    Colour,
    Place,
    SpeciesName,
    StockName,
    Text,
    Wall,
    YesNo,
    YesNoAuto,
    one_of,
)
from lacunar.config.numbers import Count, Gauge, Hours, Minutes, Money, OnHand, PerLength, Price, Share
from lacunar.config.table import Table, default

NailKind = Literal["finish nail", "brad", "pin", "screw"]
Paper = Literal["letter", "a4"]
When = Literal["before", "after"]
Covers = Literal["floor", "coffers", "ceiling"]


class JoistsTable(Table):
    """The joists above the old ceiling."""

    along: Wall = Field(description="Wall that they lie parallel to; the distances are taken from it.")
    at: tuple[Distance, ...] = Field(default=(), description="Centre lines as found.")
    first: Distance | None = Field(default=None, description="Instead of at: the first centre line.")
    spacing: Length | None = Field(default=None, description="With first: from one centre line to the next.")
    stock: StockName = Field(default="2x8", description="Their nominal size.")
    span: Length | None = Field(default=None, description="Between what they rest on.")


class OldCeilingTable(Table):
    """The finish that the slats are nailed through."""

    kind: CeilingKind = Field(default="", description="What it is.")
    thickness: Small = Field(default=NOT_GIVEN, description="Measure it at a hole for a lamp.")


class Framing(Table):
    """What is above the old ceiling."""

    joists: JoistsTable | None = Field(default=None, description="Where the joists are.")
    old_ceiling: OldCeilingTable | None = Field(default=None, description="The finish that is there.")


class SlatNail(Table):
    """What holds the slats."""

    kind: Annotated[NailKind, one_of(NailKind)] = Field(default="finish nail", description="What is driven.")
    gauge: Gauge = Field(default=16, description="Steel wire gauge.")
    length: Length = default("", Limit("2 1/2 in", "64 mm"), "; into furring what stays in it")
    per_joist: Count = Field(default=2, description="In each slat at each joist or strip; one in rips under 2 in.")


class TrimNail(Table):
    """What holds the trim."""

    kind: Annotated[NailKind, one_of(NailKind)] = Field(default="brad", description="What is driven.")
    gauge: Gauge = Field(default=18, description="Steel wire gauge.")
    length: Length = default("", Limit("1 1/4 in", "32 mm"), told=False)
    spacing: Length = default("At most so far apart.", Limit("12 in", "300 mm"), told=False)
    adhesive: YesNo = Field(default=True, description="A bead of adhesive behind every strip.")


class FurringScrew(Table):
    """What holds the furring."""

    length: Length = default("", Limit("2 1/2 in", "64 mm"), "; longer where the old ceiling wants it", told=False)
    per_joist: Count = Field(default=2, description="In each strip at each joist that it crosses.")


class Fasteners(Table):
    """Nails and screws."""

    slat: SlatNail = Field(default=SlatNail(), description="What holds the slats.")
    furring: FurringScrew = Field(default=FurringScrew(), description="What holds the furring.")
    trim: TrimNail = Field(default=TrimNail(), description="What holds the trim.")
    spare: Share = Field(default=0.10, description="Share bought on top, for what is bent, dropped or squeezed out.")


class ShopBoard(Table):
    """One length of one stock, as it is sold or lies at hand."""

    stock: StockName = Field(description="Nominal size.")
    length: Board = Field(description="As sold.")
    price: Price | None = Field(default=None, description="Of one, in the config's currency.")
    on_hand: OnHand = Field(default=0, description="How many are there already.")
    supply: OnHand | None = Field(default=None, description="No more than so many can be bought.")
    actual: Board | None = Field(default=None, description="What they measure, where that is not the length as sold.")


class Pack(Table):
    """A box of nails, a tube, a roll or a can of paint, as it is sold."""

    name: Annotated[PackName, one_of(PackName)] = Field(description="What is in it.")
    price: Price | None = Field(default=None, description="Of one pack, in the config's currency.")
    holds: Content | None = Field(
        default=None, description="Pieces in a box, length of a bead or roll, or what a can holds."
    )
    coverage: Coverage | None = Field(default=None, description="Of paint: how far it goes in one coat.")
    on_hand: OnHand = Field(default=0, description="How many full packs are there already.")

    @field_serializer("holds", when_used="json-unless-none")
    def _written(self, holds: float) -> str | int:
        return content_text(self.name, holds)


class ShopSheet(Table):
    """Sheets of plywood, hardboard or board, as they are sold: to protect the floor, as a layer, for a trial piece."""

    name: Text = Field(description='What it is, like "hardboard" or "thin plywood".')
    length: Board = default("Of one sheet.", Limit("8 ft", "2500 mm"))
    width: Board = default("Of one sheet.", Limit("4 ft", "1250 mm"))
    covers: Annotated[Covers, one_of(Covers)] | None = Field(
        default=None,
        description="What it is bought to cover: the floor, the coffers (between the beams, behind the slats), or the "
        "ceiling from wall to wall.",
    )
    count: Count | None = Field(default=None, description="Instead of covers: so many sheets.")
    spare: Share | None = Field(
        default=None, description="With covers: share of the area on top, for what is cut off. Default: 0.10."
    )
    price: Price | None = Field(default=None, description="Of one sheet, in the config's currency.")
    on_hand: OnHand = Field(default=0, description="How many are there already.")
    mass: SheetMass | None = Field(default=None, description="What one sheet weighs.")


class Shop(Table):
    """Saw and lumber yard."""

    kerf: Small = default("Width of the saw cut.", Limit("1/8 in", "3 mm"))
    end_waste: Small = default("Lost at each end of a bought board.", Limit("1/4 in", "6 mm"))
    cull: Share = Field(default=0.10, description="Share of bought boards that are not good enough.")
    longest: Board | None = Field(default=None, description="The longest board that fits the car.")
    heaviest: Mass | None = Field(default=None, description="The heaviest load that the car takes.")
    boards: Text | None = Field(
        default=None,
        description="A CSV file (stock,length,price,on_hand,supply,actual) beside the config, not [[shop.board]].",
    )
    tax: Share = Field(default=0.0, description="Added to the price of all goods.")
    delivery: Money = Field(default=0.0, description="Added once.")
    contingency: Share = Field(default=0.0, description="Share of goods and tax kept back for what goes wrong.")
    budget: Money | None = Field(default=None, description="The cost must stay within it.")
    flip_stops: Count = Field(default=1, description="Stops that the saw stand has.")
    stops: Count | None = Field(
        default=None,
        description="No more marks than so many for the slats of a stock, even if boards then cost more; what they do "
        "not serve is cut to measure.",
    )
    stack: Count = Field(default=1, description="Boards cut alike that the saw takes at once.")
    board: tuple[ShopBoard, ...] = Field(default=(), description="What the lumber yard sells.")
    pack: tuple[Pack, ...] = Field(default=(), description="Nails, screws, adhesive, paint: what is sold by the pack.")
    sheet: tuple[ShopSheet, ...] = Field(default=(), description="Plywood, hardboard: what is sold by the sheet.")


class CoatTable(Table):
    """One coat of finish."""

    kind: Text = Field(description='Like "gel stain" or "clear".')
    colour: Text | None = Field(default=None, description='Like "tobacco brown".')
    sheen: Text | None = Field(default=None, description='Like "satin".')
    price: Price | None = Field(default=None, description="Of one can, in the config's currency.")
    holds: Volume | None = Field(default=None, description="What one can holds.")
    coverage: Coverage | None = Field(default=None, description="How far it goes in one coat.")


class Finish(Table):
    """Paint behind the slats and what goes onto the wood."""

    behind: Text | None = Field(default=None, description="Paint on the old ceiling; it shows through every gap.")
    behind_coats: Count = Field(default=2, description="How many coats of it.")
    when: Annotated[When, one_of(When)] = Field(
        default="before", description="Boards finished before they go up, all four sides, or after, in place."
    )
    coats: tuple[CoatTable, ...] = Field(default=(), description="In the order in which they go on.")


class FurringTable(Table):
    """Strips added to nail into."""

    use: YesNoAuto = Field(default="auto", description='true, false, or "auto": when nails miss joists.')
    stock: StockName = Field(
        default="", description='Nominal size, like "1x3"; or give width and thickness. Default: "1x3", or 24 by 48 mm.'
    )
    width: Section = Field(default=NOT_GIVEN, description="Dressed. Default: from the stock.")
    thickness: Section = Field(default=NOT_GIVEN, description="Dressed. Default: from the stock.")
    species: SpeciesName = Field(default="european spruce", description="Kind of wood.")


class SurveyTable(Table):
    """How well distances are read."""

    sd: Fine = Field(default=1.5, description="Standard deviation of one reading.")
    sd_per_length: PerLength = Field(default=0.0002, description="What is added per length measured.")


class Crew(Table):
    """Who does the work."""

    people: Count = Field(default=2, description="How many.")
    hours: Hours = Field(default=7, description="That each of them works a day.")
    rates: Mapping[Annotated[JobName, one_of(JobName)], Minutes] = Field(
        default={}, description="Minutes for one piece, cut, reading or square metre of a coat."
    )


class LabelGrid(Table):
    """A sheet of labels."""

    sheet: Annotated[Paper, one_of(Paper)] | None = Field(
        default=None, description='Paper. Default: "letter" where units are inches, else "a4".'
    )
    columns: Count | None = Field(default=None, description="Across the sheet. Default: 3.")
    rows: Count | None = Field(default=None, description="Down the sheet. Default: 10, or 8 on A4.")
    width: Section = default("Of one label.", "that of the usual sheet", told=False)
    height: Section = default("Of one label.", "that of the usual sheet", told=False)
    across: Section = default("From one label to the next beside it.", "that of the usual sheet, or width", told=False)
    down: Section = default("From one label to the next below it.", "that of the usual sheet, or height", told=False)
    side: Small = default("Paper beside the first label.", "half of what the labels leave", told=False)
    top: Small = default("Paper above the first label.", "half of what the labels leave", told=False)
    skip: OnHand = Field(default=0, description="Labels of the first sheet that are used up already.")

    @property
    def shape(self) -> tuple[int, int]:
        """Columns and rows; 0 where they are not given, until the defaults have been filled in."""
        return self.columns or 0, self.rows or 0


class Labels(Table):
    """Labels for the parts."""

    grid: LabelGrid = Field(default=LabelGrid(), description="A sheet of labels.")


class CameraTable(Table):
    """A view of one's own."""

    name: CameraName = Field(description="Name of the picture.")
    at: Place = Field(description="Where it stands: distances from two walls.")
    eye: Length = Field(description="Height of the eye above the floor.")
    look_at: Text = Field(description="What it looks at: a coffer, a part, a fixture.")


class ColourSample(Table):
    """A measured sample of the finish."""

    coats: Count = Field(description="Coats on it.")
    colour: Colour = Field(description="Measured colour.")


class Colours(Table):
    """Measured colours, sRGB or Lab."""

    beams: Colour | None = Field(default=None, description="Existing beams.")
    slats: Colour | None = Field(default=None, description="Slats.")
    trim: Colour | None = Field(default=None, description="Trim.")
    walls: Colour | None = Field(default=None, description="Walls of the room.")
    floor: Colour | None = Field(default=None, description="Floor.")
    samples: tuple[ColourSample, ...] = Field(default=(), description="Samples of the finish.")


class FieldRow(Table):
    """One part as measured again on the wood."""

    length: Length | None = Field(default=None, description="As measured for it.")
    width: Section | None = Field(default=None, description="At its end nearer corner A.")
    width_end: Section | None = Field(default=None, description="At the end farther from corner A.")
    shortest: Length | None = Field(default=None, description="Of its interval.")
    longest: Length | None = Field(default=None, description="Of its interval.")
    faces: Mapping[Text, Length] | None = Field(
        default=None, description="Of a beam piece instead of its length: along both faces, by what they look at."
    )
