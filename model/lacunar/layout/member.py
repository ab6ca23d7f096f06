"""One piece of wood in the plan: the size that a saw gives it, and its shape. Rings run counter-clockwise."""

import math
import string
from dataclasses import dataclass, fields
from typing import Any, Literal

from lacunar.geometry import Point, Ring

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

    mitre_deg: float = 0.0
    bevel_deg: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutaway:
    """What a fixture takes out of a piece: the cut-out's part inside the piece as it would be whole.

    Attributes:
        fixture: name.
        outline: plan ring of what is cut away.
        along: from where to where along the piece's axis, from its first end, mm.
        inside: the cut-out is a hole that touches no edge of the piece.
    """

    fixture: str
    outline: Ring
    along: tuple[float, float]
    inside: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """What the saw is set to; all that a measure taken on the wood replaces.

    Attributes:
        length: as cut from stock, long point to long point along the axis.
        width: across, in the plan; of a tapered piece at its first end.
        width_end: of a tapered piece at its second end, else None.
        interval: (shortest, longest) length that will do; None where there is no choice.
        ripped: narrower than its stock.
        sawn_edges: (left, right) of the axis: a ripped edge, not a factory one?
        ends: cuts, the end nearer A first.
    """

    length: float
    width: float
    width_end: float | None = None
    interval: tuple[float, float] | None = None
    ripped: bool = False
    sawn_edges: tuple[bool, bool] = (False, False)
    ends: tuple[End, End] = (End(), End())

    @property
    def widths(self) -> tuple[float, float]:
        """At the first and at the second end."""
        return self.width, self.width if self.width_end is None else self.width_end


@dataclass(frozen=True, slots=True, kw_only=True)
class Member(Size):
    """A piece with its shape, whatever it is made of.

    Attributes:
        id: the same in every product: E1, X2-1, H1, M1, C5-S03, C5-T2, C5-F1; with a letter where it is severed.
        outline: plan ring, what fixtures take out of it left out.
        holes: plan rings inside the outline, counter-clockwise.
        axis: middle of each end in the plan, the end nearer A first.
        grow: share of a change of length that each end takes.
        notches: what fixtures take out.
        nails: plan points; of furring its screws.
        joists: numbers of the joists that they catch, from 1; of slats on furring none.
        furring: ids of the strips of furring that a slat's nails catch.
    """

    id: str
    kind: PartKind
    outline: Ring
    axis: tuple[Point, Point]
    holes: tuple[Ring, ...] = ()
    grow: tuple[float, float] = (0.5, 0.5)
    notches: tuple[Cutaway, ...] = ()
    nails: tuple[Point, ...] = ()
    joists: tuple[int, ...] = ()
    furring: tuple[str, ...] = ()


def lettered(name: str, count: int) -> tuple[str, ...]:
    """The ids of the pieces that a member is severed into; its own where it is whole."""
    return (name,) if count == 1 else tuple(name + letter for letter in string.ascii_lowercase[:count])


def shares(free: tuple[bool, bool]) -> tuple[float, float]:
    """What each end takes of a change of length, if only these may move."""
    first, second = free
    return first / max(first + second, 1), second / max(first + second, 1)


def mitred(angles: tuple[float, float]) -> tuple[End, End]:
    """Ends that stand plumb, their cuts so far away from square, radians."""
    first, second = (End(mitre_deg=math.degrees(angle) + 0.0) for angle in angles)
    return first, second


def of_base(one: Any, base: type) -> dict[str, Any]:
    """What a dataclass has in the fields of one of its bases, to make another that stands on the same base."""
    return {field.name: getattr(one, field.name) for field in fields(base)}
