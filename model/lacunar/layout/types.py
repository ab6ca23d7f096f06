"""What a layout is made of: frozen values in the plan of one ceiling face. Rings run counter-clockwise."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from lacunar.config import Joint
from lacunar.geometry import Line, Plane, Point, Ring, Segment
from lacunar.layout.member import Member

Wedge = Literal["none", "leave", "fan", "taper"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar(Member):
    """A straight beam, beam piece or moulding: an upright prism between two planes.

    Attributes:
        stock: nominal size, or "" where nothing is bought.
        stock_depth: depth of the bought section (of the beam as it hangs for existing ones).
        bottom: underside; level across the axis.
        top: upper side; level across the axis.
        meets: what each end stands against: a bar's id or a wall's name.
        clear: the opening along the axis between what the ends meet: (shortest, longest over the width).
        keep: an existing surface that stays as it is.
        made: "solid", "hollow" or "unknown".
        shell: thickness of a hollow beam's boards, 0 where solid.
    """

    stock: str = ""
    stock_depth: float
    species: str = ""
    bottom: Plane
    top: Plane
    meets: tuple[str, str]
    clear: tuple[float, float]
    keep: bool = False
    made: str = "solid"
    shell: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Side(Segment):
    """One side of a coffer, run clockwise round the coffer: the coffer lies to its right.

    Attributes:
        against: id of the bar, or name of the wall, that the side lies on.
        along_beams: it is one of the pair along the existing beams (the first pair).
    """

    against: str
    along_beams: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """A coffer before its slats: one cell between beams and walls.

    Attributes:
        id: C1, C2, ...
        row: from 0, away from AB.
        column: from 0, along AB from A.
        sides: clockwise; sides[0] is the one on or facing AB and carries trim T1.
    """

    id: str
    row: int
    column: int
    sides: tuple[Side, ...]

    @property
    def outline(self) -> Ring:
        """Corners, counter-clockwise, from the start of the first side."""
        points = tuple(side.start for side in self.sides)
        return points[:1] + points[:0:-1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Coffer(Cell):
    """A cell with the pattern that covers it.

    Attributes:
        run: "with", "across" or "angle", as resolved.
        cut_to_shape: each slat is cut to the shape of its place and measured along its own middle line; else it ends
            square at two sides, and the last one is ripped to what is left beside it.
        direction: unit vector along the slats (of the first slat where they fan).
        start_side: index of the side along which slat 1 lies.
        gap: between slats, at the narrower end.
        gap_end: between slats at the wider end (differs where they fan).
        wedge: what is done where the sides are not parallel.
        change: how much wider the other end is.
        n_full: full slats.
        rips: width of each ripped slat at the narrower end.
        edge_gaps: beside the first and the last slat, at the narrower end.
        ceiling: plane that its furring or its slats lie against: the highest under the old ceiling over it.
    """

    run: str
    cut_to_shape: bool = False
    direction: Point
    start_side: int
    gap: float
    gap_end: float
    wedge: Wedge = "none"
    change: float = 0.0
    n_full: int
    rips: tuple[float, ...]
    edge_gaps: tuple[float, float]
    ceiling: Plane


@dataclass(frozen=True, slots=True, kw_only=True)
class CofferStrip(Member):
    """What lies in a coffer: of trim one along each of its sides, of furring from the end nearer A.

    Attributes:
        number: from 1.
    """

    coffer: str
    number: int

    @property
    def side(self) -> int:
        """Of trim: index into the coffer's sides."""
        return self.number - 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Slat(CofferStrip):
    """One slat as it hangs; counted from the start side.

    Attributes:
        tight: between the innermost points that the coffer's sides reach; along the slat, true length.
    """

    tight: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FurringStrip(CofferStrip):
    """One strip of furring, its upper side in its coffer's plane.

    Attributes:
        under_joist: it lies along a joist, under it, rather than across joists.
    """

    under_joist: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CutOut:
    """A fixture and the hole left for it.

    Attributes:
        name: the fixture's.
        centre: plan point.
        fixture: plan ring of the fixture itself.
        outline: plan ring of the hole; round ones are 64-gons outside the circle.
        cover: plan ring of its canopy, or None.
        coffer: id of the coffer that holds its centre, or None.
    """

    name: str
    centre: Point
    fixture: Ring
    outline: Ring
    cover: Ring | None
    coffer: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class JoistLines:
    """Centre lines of the joists above, 1 nearest to the wall that they are counted from.

    Attributes:
        lines: in order.
        width: of one joist.
        height: of one joist.
        assumed: nobody has looked; findings that rest on them are `ask`.
        along: the wall they lie parallel to.
    """

    lines: tuple[Line, ...]
    width: float
    height: float
    assumed: bool
    along: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DressedStock:
    """Stock and species of slats, trim or furring, with the section across; it lies flat, its wider side up."""

    stock: str
    species: str
    width: float
    thickness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Nailing:
    """How slats are nailed.

    Attributes:
        per_joist: nails in a slat at each joist or strip of furring.
        from_end: least distance of a nail from a slat's end.
        length: of a nail: as the config has it; where it leaves it open, one that stays in the furring.
    """

    per_joist: int
    from_end: float
    length: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FurringLayer:
    """Strips between the old ceiling and the slats, in every coffer, so that all slats hang lower by as much.

    Attributes:
        strip: what they are made of.
        strips: by coffer, then number.
        screw: length of the screws: as the config has it; where it leaves it open, longer by the largest gap at one.
        missed: coffers whose slats catch too few joists, where that decided for furring; empty where the config does.
    """

    strip: DressedStock
    strips: tuple[FurringStrip, ...]
    screw: float
    missed: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """One ceiling face, arranged.

    Attributes:
        face: name of the face ("F1").
        outline: the room, counter-clockwise.
        inner: the room less a moulding that stays, counter-clockwise.
        beams: existing and main beams.
        pieces: cross-beam pieces.
        half_beams: along the walls.
        mouldings: that stay.
        slat: what slats are made of.
        trim_strip: what trim is made of.
        slats: by coffer, then number.
        trim: by coffer, then side.
        pocketing: how pockets are drilled; None where there are no cross beams.
        rows: centre line of each row of cross beams.
        furring: None where slats lie against the old ceiling itself.
    """

    face: str
    outline: Ring
    inner: Ring
    beams: tuple[Bar, ...]
    pieces: tuple[Bar, ...]
    half_beams: tuple[Bar, ...]
    mouldings: tuple[Bar, ...]
    coffers: tuple[Coffer, ...]
    slat: DressedStock
    trim_strip: DressedStock
    slats: tuple[Slat, ...]
    trim: tuple[CofferStrip, ...]
    cut_outs: tuple[CutOut, ...]
    joists: JoistLines
    pocketing: Joint | None
    nailing: Nailing
    rows: tuple[Line, ...]
    furring: FurringLayer | None

    def backing(self, coffer: Coffer) -> Plane:
        """Plane that a coffer's slats lie against: its own under the old ceiling, or the underside of the furring."""
        return coffer.ceiling.lifted(-self.furring_thickness * coffer.ceiling.plumb)

    def coffer(self, name: str) -> Coffer:
        """The coffer of this id."""
        return next(coffer for coffer in self.coffers if coffer.id == name)

    @property
    def furring_thickness(self) -> float:
        """How much lower furring makes the slats hang, square to their coffer's plane; 0 without any."""
        return 0.0 if self.furring is None else self.furring.strip.thickness

    def coffers_named(self, coffers: Sequence[str]) -> str:
        """Some coffers in words."""
        return "every coffer" if len(coffers) == len(self.coffers) else ", ".join(coffers)

    @property
    def furring_strips(self) -> tuple[FurringStrip, ...]:
        """Every strip of furring, by coffer, then number."""
        return () if self.furring is None else self.furring.strips
