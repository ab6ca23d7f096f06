"""One piece of wood: an upright prism between two planes, less its pockets."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from lacunar.geometry import Plane, Point, Point3, Ring

PartKind = Literal[
    "existing beam",
    "main beam",
    "cross beam",
    "half beam",
    "moulding",
    "slat",
    "trim",
    "furring",
    "ledger",
    "plug",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class End:
    """One end's cut: away from square in the plan, and away from plumb, degrees."""

    mitre_deg: float
    bevel_deg: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PocketHole:
    """A stepped hole for a screw: bore from the mouth to the shoulder, pilot on to the end grain.

    Attributes:
        end: 0 or 1, the end that the screw leaves.
        side: "left" or "right" of the axis from end 0 to end 1: the side face with the mouth.
        level: "high" (near the ceiling) or "low" (plugged).
        mouth: centre of the ellipse on the side face.
        direction: unit vector of the axis, from the mouth to the end.
        bore: diameter from the mouth to the shoulder.
        pilot: diameter from the shoulder to the end grain.
        bore_length: along the axis, mouth centre to shoulder.
        pilot_length: along the axis, shoulder to end grain.
        screw: length of the screw, head at the shoulder.
    """

    end: int
    side: Literal["left", "right"]
    level: Literal["high", "low"]
    mouth: Point3
    direction: Point3
    bore: float
    pilot: float
    bore_length: float
    pilot_length: float
    screw: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Pocket(PocketHole):
    """With the outward unit normal (level) of the side face that it opens in."""

    normal: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutaway:
    """What a fixture takes out of a part (see `lacunar.layout.Notch`)."""

    fixture: str
    outline: Ring
    along: tuple[float, float]
    inside: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One piece, exactly as it will be.

    Attributes:
        id: the same in every product.
        face: ceiling face in whose frame it is drawn.
        coffer: id, or None for what belongs to the ceiling as a whole.
        stock: nominal size that it is cut from; "" where nothing is bought.
        outline: plan ring, counter-clockwise.
        holes: plan rings inside the outline, counter-clockwise.
        bottom: underside.
        top: upper side.
        axis: middle of each end in the plan, the end nearer A first.
        length: as cut from stock, long point to long point along the axis.
        width: across, in the plan; of a tapered part at its first end.
        width_end: of a tapered part at its second end, else None.
        thickness: the section's other size: a board's thickness, a beam's greatest depth.
        ends: cuts, the end nearer A first.
        ripped: narrower than its stock.
        sawn_edges: (left, right) of the axis: a ripped edge, not a factory one?
        interval: (shortest, longest) length that will do; None where there is no choice.
        grow: share of a change of length that each end takes.
        nails: plan points; of furring its screws.
        joists: numbers of the joists that they catch, from 1; of slats on furring none.
        furring: ids of the strips of furring that a slat's nails catch.
        notches: what fixtures take out.
        pockets: stepped holes.
        meets: what each end stands against or looks at: a part's id, a wall's name, a fixture; numbered if alike.
        beside: the same of the long sides, left and right of the axis.
        bought: it must be bought and cut (existing beams and mouldings are not).
    """

    id: str
    kind: PartKind
    face: str
    coffer: str | None
    stock: str
    species: str
    outline: Ring
    holes: tuple[Ring, ...]
    bottom: Plane
    top: Plane
    axis: tuple[Point, Point]
    length: float
    width: float
    width_end: float | None
    thickness: float
    ends: tuple[End, End]
    ripped: bool
    sawn_edges: tuple[bool, bool]
    interval: tuple[float, float] | None
    grow: tuple[float, float]
    nails: tuple[Point, ...]
    joists: tuple[int, ...]
    furring: tuple[str, ...]
    notches: tuple[Cutaway, ...]
    pockets: tuple[Pocket, ...]
    meets: tuple[str, ...]
    bought: bool
    beside: tuple[str, str] = ("", "")


def lift(ring: Iterable[Point], plane: Plane) -> tuple[Point3, ...]:
    """A plan ring lifted onto a plane."""
    return tuple((x, y, plane.at((x, y))) for x, y in ring)


def rings(part: Part) -> tuple[tuple[Point3, ...], tuple[Point3, ...]]:
    """Outer bottom and top rings, counter-clockwise seen from above; holes are not in them."""
    return lift(part.outline, part.bottom), lift(part.outline, part.top)
