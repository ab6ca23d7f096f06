"""Nominal lumber and its dressed sizes.

Source: American Softwood Lumber Standard PS 20, Table 3 (read in a published page). Boards and dimension lumber are
sold dry; timbers of 5 in and thicker mostly green, so theirs are the green sizes.
"""

import difflib
import math
import re
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from lacunar.units import INCH

LumberKind = Literal["board", "dimension", "timber"]

PS_20 = "American Softwood Lumber Standard PS 20, Table 3, dressed dry"
PS_20_GREEN = "American Softwood Lumber Standard PS 20, Table 3, timbers dressed green (off nominal: 1/2 in)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Lumber:
    """One size that a lumber yard sells.

    Attributes:
        nominal: as it is asked for ("1x4").
        thickness_in: dressed, exact inches: the smaller side.
        width_in: dressed, exact inches: the larger side.
        kind: board (1 in and 5/4), dimension (2 to 4 in) or timber (6 in).
        source: where the two numbers come from.
    """

    nominal: str
    thickness_in: Fraction
    width_in: Fraction
    kind: LumberKind
    source: str

    @property
    def thickness(self) -> float:
        """The smaller dressed side, mm."""
        return float(self.thickness_in * Fraction(127, 5))

    @property
    def width(self) -> float:
        """The larger dressed side, mm."""
        return float(self.width_in * Fraction(127, 5))


_THICKNESS: dict[str, tuple[Fraction, LumberKind]] = {
    "1": (Fraction(3, 4), "board"),
    "5/4": (Fraction(1), "board"),
    "2": (Fraction(3, 2), "dimension"),
    "3": (Fraction(5, 2), "dimension"),
    "4": (Fraction(7, 2), "dimension"),
}
_WIDTH = {
    2: Fraction(3, 2),
    3: Fraction(5, 2),
    4: Fraction(7, 2),
    5: Fraction(9, 2),
    6: Fraction(11, 2),
    8: Fraction(29, 4),
    10: Fraction(37, 4),
    12: Fraction(45, 4),
}
_TIMBER_OFF_GREEN = Fraction(1, 2)

_THICKEST = 6
"""Of nominal thicknesses, in."""

_NEAR = math.log(2.0)
"""A section with one side twice as large is another one: what was written is a slip of the hand. Own judgement."""


_SIZES = (
    *(
        Lumber(nominal=f"{name}x{wide}", thickness_in=thick, width_in=width, kind=kind, source=PS_20)
        for name, (thick, kind) in _THICKNESS.items()
        for wide, width in _WIDTH.items()
        if kind == "board" or wide >= int(name)
    ),
    *(
        Lumber(
            nominal=f"6x{wide}",
            thickness_in=6 - _TIMBER_OFF_GREEN,
            width_in=wide - _TIMBER_OFF_GREEN,
            kind="timber",
            source=PS_20_GREEN,
        )
        for wide in (6, 8, 10, 12)
    ),
)

LUMBER: dict[str, Lumber] = {size.nominal: size for size in _SIZES}
"""Every size by its nominal name."""


def plain_stock(name: str) -> str:
    """The nominal name as the table has it: no spaces, no units, a small x ("1 × 4" is "1x4")."""
    bare = re.sub(r"(?:in|mm|\"|″)(?=x|$)", "", re.sub(r"\s+", "", name.lower()).replace("×", "x"))
    return bare.replace("1.25x", "5/4x")


def find_lumber(name: str) -> Lumber | None:
    """The size by its nominal name, or None."""
    return LUMBER.get(plain_stock(name))


def sides_of(name: str) -> tuple[Fraction, Fraction] | None:
    """The numbers of a section's name ("5/4x4", "18x95"), the smaller first; None where it has not two above 0."""
    sides = [side for text in plain_stock(name).split("x") if (side := _number(text))]
    return (min(sides), max(sides)) if len(sides) == 2 == len(plain_stock(name).split("x")) else None


def _number(text: str) -> Fraction | None:
    """A number as a section's name has it; None where it is none."""
    if not re.fullmatch(r"[0-9]+(\.[0-9]+)?|([0-9]+-)?[0-9]+/[1-9][0-9]*", text, re.ASCII):
        return None
    return sum((Fraction(part) for part in text.split("-")), start=Fraction(0))


def nearest_stock(name: str, known: Iterable[str] = ()) -> str:
    """The nominal size, or other known name, whose section is most like this one, whichever side comes first.

    Sides that are both larger than any nominal thickness are millimetres. Where no section is near, the name that is
    written most like it.
    """
    names = (*known, *LUMBER)
    wanted = sides_of(name)
    if wanted is not None:
        nearest = min(names, key=lambda other: _unlike(wanted, other))
        if _unlike(wanted, nearest) < _NEAR:
            return nearest
    return difflib.get_close_matches(plain_stock(name), names, n=1, cutoff=0.0)[0]


def _unlike(wanted: tuple[Fraction, Fraction], name: str) -> float:
    """How far a known section is from the one that is wanted: 0 for the same, each side by its ratio."""
    sides = sides_of(name)
    if sides is None:
        return math.inf
    size = LUMBER.get(name)
    if size is not None and wanted[0] > _THICKEST:
        sides = (Fraction(size.thickness), Fraction(size.width))
    return sum(abs(math.log(one / other)) for one, other in zip(wanted, sides, strict=True))


def lumber_of_section(width: float, depth: float) -> Lumber | None:
    """The size whose dressed section is this one, laid either way; within 1/64 in, as read on a tape."""
    small, large = sorted((width, depth))
    near = INCH / 64.0
    for size in LUMBER.values():
        if abs(size.thickness - small) <= near and abs(size.width - large) <= near:
            return size
    return None
