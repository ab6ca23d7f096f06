"""What a layout is made of: frozen values in the plan of one ceiling face. Rings run counter-clockwise."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from lacunar.geometry import Line, Plane, Point, Ring

BarKind = Literal["existing beam", "main beam", "cross beam", "half beam", "moulding"]
Wedge = Literal["none", "leave", "fan", "taper"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """A straight beam, beam piece or moulding: an upright prism between two planes.

    Attributes:
        id: E1, X2-1, H1, M1.
        outline: plan ring.
        axis: centre line's two ends, the end nearer A first.
        width: across, in the plan.
        stock: nominal size, or "" where nothing is bought.
        stock_depth: depth of the bought section (of the beam as it hangs for existing ones).
        bottom: underside; level across the axis.
        top: upper side; level across the axis.
        scribed: the top is cut to the ceiling instead of left as bought.
        meets: what each end stands against: a bar's id or a wall's name.
        clear: the opening along the axis between what the ends meet: (shortest, longest over the width).
        keep: an existing surface that stays as it is.
        made: "solid", "hollow" or "unknown".
        shell: thickness of a hollow beam's boards, 0 where solid.
    """

    id: str
    kind: BarKind
    outline: Ring
    axis: tuple[Point, Point]
    width: float
    stock: str
    stock_depth: float
    species: str
    bottom: Plane
    top: Plane
    scribed: bool
    meets: tuple[str, str]
    clear: tuple[float, float]
    keep: bool = False
    made: str = "solid"
    shell: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One side of a coffer, run clockwise round the coffer: the coffer lies to its right.

    Attributes:
        start: first corner.
        end: second corner.
        against: id of the bar, or name of the wall, that the side lies on.
        along_beams: it is one of the pair along the existing beams (the first pair).
    """

    start: Point
    end: Point
    against: str
    along_beams: bool

    @property
    def line(self) -> Line:
        """The side as a line; the coffer lies to its right."""
        return Line.through(self.start, self.end)


@dataclass(frozen=True, slots=True, kw_only=True)
class Coffer:
    """One cell between beams and walls.

    Attributes:
        id: C1, C2, ...
        row: from 0, away from AB.
        column: from 0, along AB from A.
        sides: clockwise; sides[0] is the one on or facing AB and carries trim T1.
        run: "with", "across" or "angle", as resolved.
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

    id: str
    row: int
    column: int
    sides: tuple[Side, ...]
    run: str
    direction: Point
    start_side: int
    gap: float
    gap_end: float
    wedge: Wedge
    change: float
    n_full: int
    rips: tuple[float, ...]
    edge_gaps: tuple[float, float]
    ceiling: Plane

    @property
    def outline(self) -> Ring:
        """Corners, counter-clockwise, from the start of the first side."""
        points = tuple(side.start for side in self.sides)
        return points[:1] + points[:0:-1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Notch:
    """What a fixture takes out of a slat: the cut-out's part inside the slat as it would be whole.

    Attributes:
        fixture: name.
        outline: plan ring of what is cut away.
        along: from where to where along the slat's axis, from its first end, mm.
        inside: the cut-out is a hole that touches no edge of the slat.
    """

    fixture: str
    outline: Ring
    along: tuple[float, float]
    inside: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Slat:
    """One slat as it hangs.

    Attributes:
        id: C5-S03, or C5-S03a where a cut-out severs it.
        number: from 1, counted from the start side.
        outline: plan ring, notches cut out.
        holes: plan rings of cut-outs that touch no edge, counter-clockwise.
        axis: middle of each end, the end nearer A first.
        width: of the slat; of a tapered one at its first end.
        width_end: of a tapered slat at its second end, else None.
        length: designed, as cut from stock, long point to long point.
        interval: (shortest, longest) length that hides its gaps; None where the ends are cut to the sides' angle.
        grow: share of a change of length that each end takes.
        tight: between the innermost points that the coffer's sides reach; along the slat, true length.
        lean: outermost less innermost of the side at each end.
        mitres: angle of each end's cut away from square, radians, signed by the design's rule.
        ripped: narrower than the stock.
        edges: (first, second): a sawn edge? The first edge is the one towards the start side.
        notches: what fixtures take out.
        nails: plan points.
        joists: numbers of the joists that they catch, from 1; none where they go into furring.
        furring: ids of the strips that they catch.
    """

    id: str
    coffer: str
    number: int
    outline: Ring
    holes: tuple[Ring, ...]
    axis: tuple[Point, Point]
    width: float
    width_end: float | None
    length: float
    interval: tuple[float, float] | None
    grow: tuple[float, float]
    tight: float
    lean: tuple[float, float]
    mitres: tuple[float, float]
    ripped: bool
    edges: tuple[bool, bool]
    notches: tuple[Notch, ...]
    nails: tuple[Point, ...] = ()
    joists: tuple[int, ...] = ()
    furring: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Trim:
    """One strip along one side of a coffer.

    Attributes:
        id: C5-T2.
        side: index into the coffer's sides.
        outline: plan ring.
        axis: along the side, the end nearer A first.
        length: long point to long point.
        mitres: angle of each end's cut away from square, radians.
    """

    id: str
    coffer: str
    side: int
    outline: Ring
    axis: tuple[Point, Point]
    length: float
    mitres: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Furring:
    """One strip of furring, its upper side in its coffer's plane.

    Attributes:
        id: C5-F1, or C5-F1a where a fixture or the coffer's shape cuts it.
        number: from 1, counted from the end nearer A.
        outline: plan ring.
        axis: middle of each end, the end nearer A first.
        length: designed; both ends are square.
        interval: (shortest, longest) length that will do; None where neither end may move.
        grow: share of a change of length that each end takes.
        screws: plan points, on joists' centre lines.
        joists: numbers of the joists that they catch, from 1.
        under_joist: it lies along a joist, under it, rather than across joists.
    """

    id: str
    coffer: str
    number: int
    outline: Ring
    axis: tuple[Point, Point]
    length: float
    interval: tuple[float, float] | None
    grow: tuple[float, float]
    screws: tuple[Point, ...]
    joists: tuple[int, ...]
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
class Joists:
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
class Pocketing:
    """How pockets are drilled: rule 13. Lengths in mm, angle in radians."""

    high: int
    low: int
    angle: float
    clearance: float
    bore: float
    pilot: float
    offset: float
    drop: float
    screw: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """Stock and species of slats or trim, with the section across."""

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

    strip: Material
    strips: tuple[Furring, ...]
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
        pocketing: None where there are no cross beams.
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
    slat: Material
    trim_strip: Material
    slats: tuple[Slat, ...]
    trim: tuple[Trim, ...]
    cut_outs: tuple[CutOut, ...]
    joists: Joists
    pocketing: Pocketing | None
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
    def furring_strips(self) -> tuple[Furring, ...]:
        """Every strip of furring, by coffer, then number."""
        return () if self.furring is None else self.furring.strips
