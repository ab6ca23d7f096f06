"""Kinds of wood: weight and movement. How they look stands in `scene`.

Two specific gravities, never to be mixed: `gravity` is oven-dry mass over volume at 12 % moisture (Wood Handbook; its
withdrawal formula wants this one), `gravity_dry` is oven-dry mass over oven-dry volume (NDS; its connection formulas
want that one). Mixing them overstates a nail's hold by up to 20 %.

Movement coefficients are stored, not derived from total shrinkage: western red cedar and redwood do not follow the rule
for 30 % fibre saturation (theirs is near 22 %).
"""

import difflib
from dataclasses import dataclass

TABLE_5_3 = "Wood Handbook, FPL-GTR-190 (2010), Table 5-3"
TABLES_4_3_13_5 = "Wood Handbook, FPL-GTR-190 (2010), Tables 4-3 and 13-5"
NDS = "NDS 2018 (ANSI/AWC), Table 12.3.3A"
MEMORY = ", from memory"


@dataclass(frozen=True, slots=True, kw_only=True)
class Species:
    """One kind of wood.

    Attributes:
        name: as the config writes it.
        also: other names that are understood.
        gravity: specific gravity, oven-dry mass, volume at 12 % moisture.
        gravity_source: of `gravity` and of what is derived from it.
        gravity_dry: specific gravity, oven-dry mass and volume; None where the table has no row for it.
        gravity_dry_source: of `gravity_dry`.
        radial: change of a quarter-sawn width per percent of moisture, as a share of the width (6 to 14 %).
        tangential: the same of a flat-sawn width.
        movement_source: of `radial` and `tangential`.
    """

    name: str
    also: tuple[str, ...] = ()
    gravity: float
    gravity_source: str
    gravity_dry: float | None
    gravity_dry_source: str
    radial: float
    tangential: float
    movement_source: str

    @property
    def density(self) -> float:
        """kg/m3 at 12 % moisture: 1000 G (1 + 12/100). Source: Wood Handbook, FPL-GTR-190 (2010), Table 5-3."""
        return 1000.0 * self.gravity * 1.12


def _species(
    name: str,
    gravity: tuple[float, str],
    dry: tuple[float, str] | None,
    movement: tuple[float, float, str],
    also: tuple[str, ...] = (),
) -> Species:
    return Species(
        name=name,
        also=also,
        gravity=gravity[0],
        gravity_source=gravity[1],
        gravity_dry=dry[0] if dry else None,
        gravity_dry_source=dry[1] if dry else "no row of its own in " + NDS,
        radial=movement[0],
        tangential=movement[1],
        movement_source=movement[2],
    )


_G = TABLE_5_3
_GM = TABLE_5_3 + MEMORY
_C = TABLES_4_3_13_5
_CM = TABLES_4_3_13_5 + MEMORY
_NM = NDS + MEMORY

_ALL = (
    _species(
        "eastern white pine", (0.35, _GM), (0.36, NDS), (0.00071, 0.00212, _CM),
        ("white pine",),
    ),
    _species(
        "european spruce", (0.41, "EN 350 (2016), mean density 460 kg/m3 at 12 %" + MEMORY), (0.42, _NM),
        (0.0013, 0.00274, "general literature" + MEMORY), ("norway spruce",),
    ),
    _species(
        "douglas fir", (0.48, _GM), (0.50, NDS), (0.00165, 0.00267, _CM),
        ("douglas-fir",),
    ),
    _species(
        "red oak", (0.63, _GM), (0.67, NDS), (0.00158, 0.00369, _C),
        ("northern red oak",),
    ),
    _species("white oak", (0.68, _GM), (0.73, NDS), (0.0018, 0.00365, _C)),
    _species(
        "yellow poplar", (0.42, _GM), (0.43, NDS), (0.00158, 0.00289, _CM),
        ("poplar", "yellow-poplar", "tulip poplar", "tulipwood"),
    ),
    _species(
        "western red cedar", (0.32, _GM), (0.36, NDS), (0.00111, 0.00234, _CM),
        ("western redcedar", "red cedar"),
    ),
    _species(
        "sugar maple", (0.63, _GM), None, (0.00165, 0.00353, _C),
        ("hard maple", "maple"),
    ),
    _species("black walnut", (0.55, _GM), None, (0.0019, 0.00274, _C), ("walnut",)),
    _species(
        "black cherry", (0.50, _GM), None, (0.00126, 0.00248, _C), ("cherry",),
    ),
    _species(
        "southern pine", (0.51, _GM), (0.55, NDS), (0.00165, 0.00259, _CM),
        ("loblolly pine", "southern yellow pine"),
    ),
    _species("ponderosa pine", (0.40, _G), (0.43, NDS), (0.00133, 0.00216, _CM)),
    _species("sitka spruce", (0.40, _GM), (0.43, NDS), (0.00148, 0.00263, _CM)),
    _species(
        "western hemlock", (0.45, _GM), (0.47, NDS), (0.00144, 0.00274, _CM),
        ("hemlock",),
    ),
    _species("redwood", (0.35, _G), (0.37, NDS), (0.00101, 0.00229, _CM)),
    _species(
        "baldcypress", (0.46, _GM), None, (0.0013, 0.00216, _CM),
        ("cypress", "bald cypress"),
    ),
    _species("white ash", (0.60, _GM), None, (0.00169, 0.00274, _C), ("ash",)),
    _species("yellow birch", (0.62, _GM), None, (0.00256, 0.00338, _C), ("birch",)),
    _species("red alder", (0.41, _GM), None, (0.00151, 0.00256, _C), ("alder",)),
    _species("basswood", (0.37, _GM), None, (0.0023, 0.0033, _C), ("lime", "linden")),
)  # fmt: skip

SPECIES: dict[str, Species] = {species.name: species for species in _ALL}
"""Every species by its name."""

_BY_ANY_NAME = {name: species for species in _ALL for name in (species.name, *species.also)}


def find_species(name: str) -> Species | None:
    """The species by its name or another name it has, in any case; None where there is none."""
    return _BY_ANY_NAME.get(" ".join(name.lower().split()))


def nearest_species(name: str) -> str:
    """The known name most like this one."""
    return difflib.get_close_matches(name.lower(), _BY_ANY_NAME, n=1, cutoff=0.0)[0]
