"""Rows of report.json that no stage holds as they are told; the others are the stages' own classes.

Lengths in mm, areas in m2, volumes in mm3, masses in kg at 12 % moisture, angles in degrees, money in the config's
currency, all unrounded.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, ClassVar, Final

from pydantic import ConfigDict, Field

from lacunar.analysis import Analysis
from lacunar.checks import Finding
from lacunar.config import GoodFor, Sheet, SheetState, SheetTrust
from lacunar.cost import Cost, FinishItem, Item, Load, Mover, SheetItem
from lacunar.done import DoneSoFar
from lacunar.geometry import Point, Point3, Ring
from lacunar.layout import Cutaway, End, OpenGap, PartKind, RunningMark
from lacunar.parts import Part, PocketHole
from lacunar.plan import Board, Buy, Plan, Section, Setting, StopChoice, Turn, Unserved
from lacunar.reports.changes import Change
from lacunar.schedule import Calendar
from lacunar.survey import Heights, Measured, Room
from lacunar.units import Units

Count = Annotated[int, Field(ge=0)]

OPTIONAL: Final = frozenset({"holes", "rings", "sha256"})
"""Keys that a row has only where there is something to tell."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetRow:
    """Whether the parts of one sheet may be cut."""

    sheet: Sheet
    state: SheetState
    wanted: int
    cut: int
    missing: tuple[str, ...]
    wrong: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SurveyRow:
    """Corners, heights, and every measurement with its misfit.

    Attributes:
        heights: ceiling above the floor at each corner and at the centre.
        chi2_limit: 95 %; null where nothing is measured twice.
        sd: of each corner along x and y.
    """

    corners: Mapping[str, Point]
    heights: Mapping[str, float]
    dof: Count
    chi2: float
    chi2_limit: float | None
    w_limit: float
    sd: Mapping[str, Point]
    ceiling: Heights
    measured: tuple[Measured, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StepRow:
    """The coffer across a beam.

    Attributes:
        lower: how much lower slats and trim hang here than there, at most; negative where higher.
    """

    bar: str
    coffer: str
    lower: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CofferRow:
    """One coffer.

    Attributes:
        outline: plan, counter-clockwise, first point not repeated.
        sides: lengths, in the order of its trim T1, T2, ...
        plane: z0, sx, sy of what its slats or furring lie against: z = z0 + sx x + sy y, nowhere above the old ceiling.
        running: from the start side to each slat's near edge, at the start side's two corners.
    """

    id: str
    outline: Ring
    sides: tuple[float, ...]
    area: float
    run: str
    slats: Count
    ripped: Count
    gap: float
    plane: Point3
    above: OpenGap
    steps: tuple[StepRow, ...]
    running: tuple[RunningMark, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PartRow:
    """One piece of wood.

    Attributes:
        outline: plan, counter-clockwise, first point not repeated.
        holes: only where it has some.
        z: lowest, highest.
        rings: bottom, top; only where a face is not level.
        mass: null where the species is unknown.
        setting: the stop it is cut at; fences and mitres are in plan.settings.
        price: its share, by area, of the price of the board that it is cut from, before spares and tax: an estimate;
            null where nothing is bought or the board has no price.
    """

    id: str
    kind: PartKind
    coffer: str | None
    stock: str
    species: str
    outline: Ring
    holes: tuple[Ring, ...] = ()
    z: tuple[float, float]
    rings: tuple[tuple[Point3, ...], tuple[Point3, ...]] | None = None
    length: float
    width: float
    width_end: float | None
    thickness: float
    ends: tuple[End, End]
    ripped: bool
    interval: tuple[float, float] | None
    nails: tuple[Point, ...]
    joists: tuple[int, ...]
    furring: tuple[str, ...]
    notches: tuple[Cutaway, ...]
    pockets: tuple[PocketHole, ...]
    volume: float
    mass: float | None
    setting: str | None
    board: str | None
    price: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class MoneyRow:
    """The whole cost, an estimate; boards, sheets, fasteners and finish are goods."""

    currency: str
    boards: float | int
    sheets: float | int
    fasteners: float | int
    finish: float | int
    goods: float
    tax: float
    contingency: float
    delivery: float
    total: float
    low: float
    high: float
    movers: tuple[Mover, ...]
    is_complete: bool
    has_price: bool
    lacking: tuple[str, ...]
    ceiling_area: float
    per_m2: float
    load: Load
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanRow:
    """Everything of a plan but its certificates, and what it costs.

    Attributes:
        code: on every product of this plan.
        slots: part to the place where it waits.
    """

    code: str
    distinct_lengths: Count
    settings: tuple[Setting, ...]
    boards: tuple[Board, ...]
    turns: tuple[Turn, ...]
    sections: tuple[Section, ...]
    buy: tuple[Buy, ...]
    unserved: tuple[Unserved, ...]
    slots: Mapping[str, int]
    cost: float | None
    lower_bound: float | None
    gap: float | None
    proven: bool
    waste: float = field(metadata={"ge": 0.0, "le": 1.0})
    by_stops: tuple[StopChoice, ...]
    sheets: tuple[SheetItem, ...]
    fasteners: tuple[Item, ...]
    finish: tuple[FinishItem, ...]
    money: MoneyRow
    calendar: Calendar


@dataclass(frozen=True, slots=True, kw_only=True)
class FileRow:
    """A file of the build; there is no hash of STEP, which carries its date."""

    path: str
    bytes: Count
    sha256: str | None = field(default=None, metadata={"pattern": "^[0-9a-f]{64}$"})


@dataclass(frozen=True, slots=True, kw_only=True)
class ChoiceRow:
    """What one chooses a design by.

    Attributes:
        code: of its plan.
        run: of its slats.
        gap: between its slats.
        species: of its slats.
        cost: of the whole job, an estimate; null where nothing has a price.
        low: with the best of what was assumed; null likewise.
        high: with the worst; null likewise.
        is_complete: everything in the cost has a price.
        days: from the first to the last, low and high.
        room_days: of them, those for which the room cannot be used.
        boards: to be bought, spares included.
        board_length: to be cut, without spares.
        waste: share of it that ends in no part.
        rips: how many of the slats are ripped.
        stops: lengths that the saw is set to.
        against: sentences: what fails, and what there is to know.
    """

    code: str
    good_for: GoodFor
    run: str
    gap: float
    species: str
    cost: float | None
    low: float | None
    high: float | None
    is_complete: bool
    days: tuple[int, int]
    room_days: tuple[int, int]
    boards: Count
    board_length: float
    waste: float = field(metadata={"ge": 0.0, "le": 1.0})
    slats: Count
    rips: Count
    stops: Count
    against: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class AlternativeRow:
    """A design of the room.

    Attributes:
        set: keys of the config, and what they are set to in it.
        refused: why it cannot be laid out; empty where it can.
        choice: null where it cannot be laid out.
    """

    name: str
    set: Mapping[str, str]
    refused: tuple[str, ...]
    choice: ChoiceRow | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """Every number of a ceiling: what report.json holds.

    Attributes:
        lacunar: version.
        units: what a person reads; numbers here are mm.
        missing: what the next level of trust needs; first what is wrong, where something is.
        alternatives: designs to choose from, the one of this report first; empty where it is the only one.
        done: null where nothing is said to be done.
        change: from the plan of the design alone; null where nothing is measured on the wood and nothing done.
        files: empty until they are written.
    """

    __pydantic_config__: ClassVar[ConfigDict] = ConfigDict(
        extra="forbid", strict=True, allow_inf_nan=False, json_schema_serialization_defaults_required=True
    )

    lacunar: str
    title: str
    units: Units
    good_for: GoodFor
    missing: tuple[str, ...]
    sheets: tuple[SheetRow, ...]
    assumed: tuple[str, ...]
    survey: SurveyRow
    coffers: tuple[CofferRow, ...]
    parts: tuple[PartRow, ...]
    checks: tuple[Finding, ...]
    analysis: Analysis
    plan: PlanRow
    alternatives: tuple[AlternativeRow, ...] = ()
    done: DoneSoFar | None = None
    change: Change | None = None
    files: tuple[FileRow, ...] = ()


DOCUMENTED: Final[Mapping[type, type]] = {
    SheetRow: SheetTrust,
    SurveyRow: Room,
    PartRow: Part,
    MoneyRow: Cost,
    PlanRow: Plan,
}
"""The class whose docstring says what fields of the same name are."""
