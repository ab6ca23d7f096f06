"""One piece of wood: an upright prism between two planes, less its pockets."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from lacunar.geometry import Plane, Point, Point3
from lacunar.layout import Member, Size

Hand = Literal["left", "right"]
"""Of the axis, from end 0 to end 1; for reckoning only, a person has no place to stand for it."""

BEAM_PIECES = frozenset({"main beam", "half beam", "cross beam"})
"""Kinds of beam that are bought and cut."""


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
    side: Hand
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
class Part(Member):
    """One piece as it hangs between two planes, of its stock.

    Attributes:
        face: ceiling face in whose frame it is drawn.
        coffer: id, or None for what belongs to the ceiling as a whole.
        stock: nominal size that it is cut from; "" where nothing is bought.
        bottom: underside.
        top: upper side.
        thickness: the section's other size: a board's thickness, a beam's greatest depth.
        pockets: stepped holes.
        meets: what each end stands against or looks at: a part's id, a wall's name, a fixture; numbered if alike.
        beside: the same of the long sides, left and right of the axis.
        bought: it must be bought and cut (existing beams and mouldings are not).
        drawn: where it was measured on the wood: the size that its shape has, which is the design's as it was planned;
            beams as drawn do not move, so only the design's shapes fit each other. Else None.
    """

    face: str
    coffer: str | None
    stock: str
    species: str
    bottom: Plane
    top: Plane
    thickness: float
    pockets: tuple[Pocket, ...] = ()
    meets: tuple[str, ...]
    beside: tuple[str, str] = ("", "")
    bought: bool
    drawn: Size | None = None


def lift(ring: Iterable[Point], plane: Plane) -> tuple[Point3, ...]:
    """A plan ring lifted onto a plane."""
    return tuple((x, y, plane.at((x, y))) for x, y in ring)


def rings(part: Part) -> tuple[tuple[Point3, ...], tuple[Point3, ...]]:
    """Outer bottom and top rings, counter-clockwise seen from above; holes are not in them."""
    return lift(part.outline, part.bottom), lift(part.outline, part.top)
