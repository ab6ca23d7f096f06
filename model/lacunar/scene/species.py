"""How each wood looks: colours of its parts and what draws its figure.

Source: from memory of planed boards of each wood; no measurement. A measured colour in the config overrules them.
"""

from collections.abc import Mapping
from dataclasses import KW_ONLY, dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Figure:
    """What draws the figure of a wood.

    Attributes:
        pale: earlywood, "#rrggbb".
        deep: latewood, "#rrggbb".
        dark: pores, streaks and knots, "#rrggbb".
        ring: a year's growth, mm.
        late: share of a ring.
        contrast: how far latewood stands from earlywood, 0 to 1.
        fibre: strength of the fine streaks along the grain.
        cloud: strength of slow changes over a board.
        rift: share of boards whose rings run straight.
        pores: strength of open pores; 0 in softwoods.
        pore_length: mm.
        ring_porous: the pores crowd in the earlywood.
        streaks: strength of dark mineral streaks.
        knots_per_m2: number of knots; those of one whorl count as one.
        knot: their middling radius, mm.
        whorl: branches that leave the trunk at one height.
        rise: how far branches grow upward, degrees off level.
        spread: how much whole boards differ in lightness.
    """

    pale: str
    deep: str
    dark: str
    ring: float
    late: float
    contrast: float
    _: KW_ONLY
    fibre: float = 0.035
    cloud: float = 0.03
    rift: float = 0.4
    pores: float = 0.0
    pore_length: float = 9.0
    ring_porous: bool = False
    streaks: float = 0.0
    knots_per_m2: float = 0.0
    knot: float = 6.0
    whorl: int = 1
    rise: float = 25.0
    spread: float = 0.06


FIGURES: Final[Mapping[str, Figure]] = {
    "yellow pine": Figure("#e8c288", "#b26e38", "#683618", 3.8, 0.42, 0.6, knots_per_m2=3, knot=9, whorl=3),
    "pine": Figure("#e6c08e", "#bc824a", "#683a1c", 3.4, 0.3, 0.42, knots_per_m2=4.5, knot=7, whorl=5),
    "spruce": Figure("#eac89a", "#c28e58", "#6c4224", 2.6, 0.26, 0.4, knots_per_m2=11, knot=5, whorl=3, rise=12),
    "hemlock": Figure("#e0c096", "#b88a60", "#68442a", 2.0, 0.3, 0.4, rift=0.6, knots_per_m2=1.5, knot=5),
    "douglas fir": Figure(
        "#e0ae7a", "#a86036", "#60301a", 2.4, 0.4, 0.58, rift=0.55, knots_per_m2=1.2, knot=8, rise=15
    ),
    "fir": Figure("#e8cca0", "#be8c5c", "#684226", 2.6, 0.32, 0.45, knots_per_m2=6, knot=5.5, whorl=4, rise=12),
    "larch": Figure("#deaa74", "#a26034", "#5c3018", 2.4, 0.42, 0.58, knots_per_m2=5, knot=4.5),
    "cedar": Figure(
        "#ce8e62", "#945436", "#542c1c", 2.0, 0.25, 0.45, cloud=0.06, spread=0.1, knots_per_m2=2.5, knot=4.5, rise=10
    ),
    "red oak": Figure(
        "#daac82",
        "#bc845c",
        "#70442c",
        2.8,
        0.55,
        0.26,
        fibre=0.04,
        pores=0.55,
        pore_length=13,
        ring_porous=True,
        rift=0.45,
    ),
    "oak": Figure(
        "#d0aa7a",
        "#ae8254",
        "#624228",
        2.6,
        0.55,
        0.26,
        fibre=0.04,
        pores=0.5,
        pore_length=12,
        ring_porous=True,
        rift=0.45,
        knots_per_m2=0.5,
        knot=8,
        rise=45,
    ),
    "ash": Figure("#e4caa2", "#c29e72", "#805c3c", 3.2, 0.5, 0.32, pores=0.5, pore_length=12, ring_porous=True),
    "chestnut": Figure("#c69868", "#9e6e46", "#5c3a22", 3.4, 0.5, 0.28, pores=0.5, pore_length=12, ring_porous=True),
    "poplar": Figure(
        "#e4cda8", "#c8b088", "#827054", 4.5, 0.3, 0.2, cloud=0.06, pores=0.1, pore_length=6, streaks=0.12, spread=0.07
    ),
    "maple": Figure("#ead0aa", "#cea87c", "#966c46", 3.0, 0.22, 0.22, pores=0.08, pore_length=5, fibre=0.03),
    "birch": Figure("#e6c89e", "#c89e70", "#885e3a", 3.2, 0.24, 0.22, pores=0.08, pore_length=6),
    "beech": Figure("#deb48c", "#c29068", "#8a5c3e", 3.0, 0.25, 0.22, pores=0.22, pore_length=4),
    "cherry": Figure(
        "#c68458",
        "#a05c38",
        "#60321e",
        3.2,
        0.25,
        0.28,
        pores=0.12,
        pore_length=6,
        cloud=0.05,
        knots_per_m2=0.8,
        knot=2.5,
    ),
    "walnut": Figure(
        "#866046", "#5c3e2c", "#342218", 3.4, 0.35, 0.4, pores=0.3, pore_length=11, cloud=0.08, streaks=0.14, spread=0.1
    ),
    "southern pine": Figure("#e8be7e", "#b8763e", "#683618", 4.0, 0.42, 0.6, knots_per_m2=3, knot=9, whorl=3),
    "redwood": Figure("#ac664a", "#7a402c", "#4a241a", 3.0, 0.25, 0.45, rift=0.5),
    "cypress": Figure("#dcb278", "#b2804c", "#684022", 2.5, 0.3, 0.4, cloud=0.05),
    "alder": Figure("#d8ac84", "#be8c66", "#82583c", 3.0, 0.2, 0.18, cloud=0.04),
    "basswood": Figure("#e8d6b4", "#d4ba92", "#967a58", 2.5, 0.2, 0.14),
    "mahogany": Figure("#ac6240", "#84442a", "#482416", 4.0, 0.3, 0.25, pores=0.4, pore_length=10, cloud=0.06),
}
"""Of each wood pale, deep, dark, ring, late and contrast, and what else draws it."""


def figure_of(species: str) -> Figure:
    """The figure of a species by the longest known name in it ("eastern white pine"); pine where none fits."""
    words = species.lower()
    known = [name for name in FIGURES if name in words]
    return FIGURES[max(known, key=len, default="pine")]
