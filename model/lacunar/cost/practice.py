"""What is taken where the config says nothing of a pack. Every number: common practice, no source."""

from collections.abc import Mapping
from dataclasses import dataclass

from lacunar.config import GALLON_LITRES, PackName
from lacunar.units import FOOT, Units

CONTENTS: Mapping[PackName, float] = {
    "slat nail": 1000.0,
    "furring screw": 100.0,
    "pocket screw": 100.0,
    "plug": 50.0,
    "trim nail": 1000.0,
    "adhesive": 30.0 * FOOT,
    "putty": 500.0,
    "masking tape": 180.0 * FOOT,
}
"""Pieces in a box; mm of a bead or roll; nail holes that a tub of putty fills.

A tube of 10 fl oz gives 30 ft of bead 1/4 in thick by its volume (18.05 cubic inches over 0.049 square inches).
"""

BESIDE = 0.25
"""A pack whose content or coverage nobody has given may hold, and go, so much more or less."""

CULL_RANGE = (0.05, 0.15)
"""Share of bought boards that is not good enough, at best and at worst, where nobody has given it."""

CUT_OFF = 0.10
"""Share of an area that is bought on top of it in sheets, for what is cut off, where nobody has given it."""

CUT_OFF_RANGE = (0.0, 0.20)
"""The same at best and at worst."""

CAR_KG = 250.0
"""What a car takes besides the driver."""

WALL_COATS = 1
"""Of wall paint where the finish is put on in place: the walls are touched up."""

TRIM_FROM_END = 25.4
"""mm. The first and the last nail of a strip of trim from its ends."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CanPractice:
    """A can of paint, stain or clear finish: what it holds in litres, and how far it goes, m2 per litre.

    Attributes:
        words: the coverage as that room writes it.
    """

    finish_litres: float
    paint_litres: float
    coverage: float
    words: str


CANS: Mapping[Units, CanPractice] = {
    "in": CanPractice(
        finish_litres=GALLON_LITRES / 4.0,
        paint_litres=GALLON_LITRES,
        coverage=400.0 * (FOOT / 1000.0) ** 2 / GALLON_LITRES,
        words="400 sq ft/gal",
    ),
    "mm": CanPractice(finish_litres=1.0, paint_litres=2.5, coverage=10.0, words="10 m2/l"),
}
"""Quarts of finish and gallons of paint, or litres; coverage of planed wood or old paint in one coat."""
