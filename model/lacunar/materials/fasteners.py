"""Nails, screws and pocket joints."""

from dataclasses import dataclass

from lacunar.tolerances import ARITHMETIC
from lacunar.units import DEGREE, INCH, Units

NAIL_DIAMETERS_IN: dict[int, float] = {15: 0.072, 16: 0.0625, 18: 0.0475, 23: 0.025}
"""Wire diameter by steel wire gauge.

Source: steel wire (Washburn and Moen) gauge, ASTM F1667; 23 gauge from memory. The electrical gauge, which gives
18 gauge as 0.040 in, is not meant.
"""

LEAST_PENETRATION = 6.0
"""Nail and screw penetration into the holding member, in diameters. Source: NDS 2018, 12.1.6 and 12.5, from memory."""

NAIL_FROM_END = 1.0 * INCH
"""A nail's least distance from a slat's end. Source: common practice, no source."""


def nail_diameter(gauge: int) -> float:
    """Wire diameter in mm of a nail's steel wire gauge (a key of `NAIL_DIAMETERS_IN`)."""
    return NAIL_DIAMETERS_IN[gauge] * INCH


def screw_diameter(number: int) -> float:
    """Shank diameter in mm of a wood screw, 0.060 + 0.013 N in. Source: ASME B18.6.1."""
    return (0.060 + 0.013 * number) * INCH


@dataclass(frozen=True, slots=True, kw_only=True)
class PocketPractice:
    """Usual numbers of a pocket-screwed end. Lengths in mm, angle in radians. Source: common practice, no source.

    Attributes:
        high: pockets near the ceiling at each end: one on each side face.
        low: plugged pockets near the bottom.
        angle: between the screw and the piece's axis.
        clearance: taken off a piece's length as a whole.
        bore: diameter of the stepped hole up to the shoulder.
        pilot: diameter of the rest.
        offset: where the axis leaves the end grain, from the side face.
        drop: of the axis below the top (low ones: above the bottom).
        screw: length.
    """

    high: int = 2
    low: int = 1
    angle: float = 15.0 * DEGREE
    clearance: float = INCH / 32.0
    bore: float = 0.375 * INCH
    pilot: float = 0.125 * INCH
    offset: float = 0.75 * INCH
    drop: float = 1.125 * INCH
    screw: float = 2.5 * INCH


POCKET_PRACTICE = PocketPractice()

NAIL_LENGTHS_MM = (19.0, 25.0, 32.0, 38.0, 45.0, 50.0, 57.0, 64.0)
"""Lengths of finish nails as metric shops have them. Source: common practice, no source."""

NAIL_STEP = INCH / 4.0
"""mm. Finish nails go by it where shops sell inches. Source: common practice, no source."""

SCREW_LENGTHS: dict[Units, tuple[float, ...]] = {
    "in": tuple(size * INCH for size in (2.0, 2.5, 3.0, 3.5, 4.0)),
    "mm": (50.0, 64.0, 75.0, 90.0, 100.0),
}
"""mm. Of screws that furring is hung with. Source: common practice, no source."""

LEAST_IN_JOIST = INCH
"""mm. Of a screw that furring hangs on, in the joist. Source: common practice, no source."""

FURRING_SCREW = 8
"""Number of a screw that furring is hung with. Source: common practice, no source."""

POCKET_SCREW = 8
"""Number of a pocket screw in wood of 3/4 in and more. Source: common practice, no source."""


def longest_nail_within(depth: float, units: Units) -> float:
    """The longest nail that is sold and no longer than a depth, mm; the depth itself where none is."""
    sizes = NAIL_LENGTHS_MM
    if units == "in":
        sizes = tuple(k * NAIL_STEP for k in range(3, 11))
    return max((size for size in sizes if size <= depth + ARITHMETIC), default=depth)


def shortest_screw_over(depth: float, units: Units) -> float:
    """The shortest screw that is sold and no shorter than a depth, mm; the longest where none is."""
    sizes = SCREW_LENGTHS[units]
    return min((size for size in sizes if size >= depth - ARITHMETIC), default=max(sizes))
