"""How each wood looks: colours of its parts and what draws its figure.

Source: from memory of planed boards of each wood; no measurement. A measured colour in the config overrules them.
"""

from dataclasses import dataclass

RGB = tuple[int, int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """What draws the figure of a wood.

    Attributes:
        early: earlywood, sRGB.
        late: latewood, sRGB.
        dark: pores, streaks and knots, sRGB.
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
        knots_per_m2: number of knots.
        knot: their middling radius, mm.
        spread: how much whole boards differ in lightness.
    """

    pale: RGB
    deep: RGB
    dark: RGB
    ring: float
    late: float
    contrast: float
    fibre: float = 0.035
    cloud: float = 0.03
    rift: float = 0.4
    pores: float = 0.0
    pore_length: float = 9.0
    ring_porous: bool = False
    streaks: float = 0.0
    knots_per_m2: float = 0.0
    knot: float = 6.0
    spread: float = 0.06


PINE = Figure(
    pale=(230, 192, 142),
    deep=(188, 130, 74),
    dark=(104, 58, 28),
    ring=3.4,
    late=0.3,
    contrast=0.42,
    knots_per_m2=4.5,
    knot=6,
)

FIGURES: dict[str, Figure] = {
    "white pine": PINE,
    "yellow pine": Figure(
        pale=(232, 194, 136), deep=(178, 110, 56), dark=(104, 54, 24), ring=3.8, late=0.42, contrast=0.6, knots_per_m2=3
    ),
    "pine": PINE,
    "spruce": Figure(
        pale=(234, 200, 154),
        deep=(194, 142, 88),
        dark=(108, 66, 36),
        ring=2.6,
        late=0.26,
        contrast=0.4,
        knots_per_m2=11,
        knot=5,
    ),
    "hemlock": Figure(
        pale=(224, 192, 150), deep=(184, 138, 96), dark=(104, 68, 42), ring=2.0, late=0.3, contrast=0.4, rift=0.6
    ),
    "douglas fir": Figure(
        pale=(224, 174, 122), deep=(168, 96, 54), dark=(96, 48, 26), ring=2.4, late=0.4, contrast=0.58, rift=0.55
    ),
    "fir": Figure(
        pale=(232, 204, 160),
        deep=(190, 140, 92),
        dark=(104, 66, 38),
        ring=2.6,
        late=0.32,
        contrast=0.45,
        knots_per_m2=6,
    ),
    "larch": Figure(
        pale=(222, 170, 116), deep=(162, 96, 52), dark=(92, 48, 24), ring=2.4, late=0.42, contrast=0.58, knots_per_m2=5
    ),
    "cedar": Figure(
        pale=(206, 142, 98),
        deep=(148, 84, 54),
        dark=(84, 44, 28),
        ring=2.0,
        late=0.25,
        contrast=0.45,
        cloud=0.06,
        spread=0.1,
    ),
    "red oak": Figure(
        pale=(218, 172, 130),
        deep=(188, 132, 92),
        dark=(112, 68, 44),
        ring=2.8,
        late=0.55,
        contrast=0.26,
        fibre=0.04,
        pores=0.55,
        pore_length=13,
        ring_porous=True,
        rift=0.45,
    ),
    "oak": Figure(
        pale=(208, 170, 122),
        deep=(174, 130, 84),
        dark=(98, 66, 40),
        ring=2.6,
        late=0.55,
        contrast=0.26,
        fibre=0.04,
        pores=0.5,
        pore_length=12,
        ring_porous=True,
        rift=0.45,
    ),
    "ash": Figure(
        pale=(228, 202, 162),
        deep=(194, 158, 114),
        dark=(128, 92, 60),
        ring=3.2,
        late=0.5,
        contrast=0.32,
        pores=0.5,
        pore_length=12,
        ring_porous=True,
    ),
    "chestnut": Figure(
        pale=(198, 152, 104),
        deep=(158, 110, 70),
        dark=(92, 58, 34),
        ring=3.4,
        late=0.5,
        contrast=0.28,
        pores=0.5,
        pore_length=12,
        ring_porous=True,
    ),
    "poplar": Figure(
        pale=(228, 205, 168),
        deep=(200, 176, 136),
        dark=(130, 112, 84),
        ring=4.5,
        late=0.3,
        contrast=0.2,
        cloud=0.06,
        pores=0.1,
        pore_length=6,
        streaks=0.12,
        spread=0.07,
    ),
    "maple": Figure(
        pale=(234, 208, 170),
        deep=(206, 168, 124),
        dark=(150, 108, 70),
        ring=3.0,
        late=0.22,
        contrast=0.22,
        pores=0.08,
        pore_length=5,
        fibre=0.03,
    ),
    "birch": Figure(
        pale=(230, 200, 158),
        deep=(200, 158, 112),
        dark=(136, 94, 58),
        ring=3.2,
        late=0.24,
        contrast=0.22,
        pores=0.08,
        pore_length=6,
    ),
    "beech": Figure(
        pale=(222, 180, 140),
        deep=(194, 144, 104),
        dark=(138, 92, 62),
        ring=3.0,
        late=0.25,
        contrast=0.22,
        pores=0.22,
        pore_length=4,
    ),
    "cherry": Figure(
        pale=(198, 132, 88),
        deep=(160, 92, 56),
        dark=(96, 50, 30),
        ring=3.2,
        late=0.25,
        contrast=0.28,
        pores=0.12,
        pore_length=6,
        cloud=0.05,
    ),
    "walnut": Figure(
        pale=(134, 96, 70),
        deep=(92, 62, 44),
        dark=(52, 34, 24),
        ring=3.4,
        late=0.35,
        contrast=0.4,
        pores=0.3,
        pore_length=11,
        cloud=0.08,
        streaks=0.14,
        spread=0.1,
    ),
    "southern pine": Figure(
        pale=(232, 190, 126), deep=(184, 118, 62), dark=(104, 54, 24), ring=4.0, late=0.42, contrast=0.6, knots_per_m2=3
    ),
    "redwood": Figure(
        pale=(172, 102, 74), deep=(122, 64, 44), dark=(74, 36, 26), ring=3.0, late=0.25, contrast=0.45, rift=0.5
    ),
    "cypress": Figure(
        pale=(220, 178, 120), deep=(178, 128, 76), dark=(104, 64, 34), ring=2.5, late=0.3, contrast=0.4, cloud=0.05
    ),
    "alder": Figure(
        pale=(216, 172, 132), deep=(190, 140, 102), dark=(130, 88, 60), ring=3.0, late=0.2, contrast=0.18, cloud=0.04
    ),
    "basswood": Figure(
        pale=(232, 214, 180), deep=(212, 186, 146), dark=(150, 122, 88), ring=2.5, late=0.2, contrast=0.14
    ),
    "mahogany": Figure(
        pale=(172, 98, 64),
        deep=(132, 68, 42),
        dark=(72, 36, 22),
        ring=4.0,
        late=0.3,
        contrast=0.25,
        pores=0.4,
        pore_length=10,
        cloud=0.06,
    ),
}


def figure_of(species: str) -> Figure:
    """The figure of a species by the longest known name in it ("eastern white pine"); pine where none fits."""
    words = species.lower()
    known = [name for name in FIGURES if name in words]
    return FIGURES[max(known, key=len)] if known else PINE
