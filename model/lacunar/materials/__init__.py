"""Wood, lumber, fasteners and old ceilings: data with a source beside every number."""

from lacunar.materials.ceiling import (
    DEFAULT_OLD_CEILING,
    OLD_CEILINGS,
    OldCeiling,
    find_old_ceiling,
    nearest_old_ceiling,
)
from lacunar.materials.fasteners import (
    FURRING_SCREW,
    LEAST_IN_JOIST,
    LEAST_PENETRATION,
    NAIL_DIAMETERS_IN,
    NAIL_FROM_END,
    POCKET_PRACTICE,
    POCKET_SCREW,
    PocketPractice,
    longest_nail_within,
    nail_diameter,
    screw_diameter,
    shortest_screw_over,
)
from lacunar.materials.lumber import (
    LUMBER,
    Lumber,
    find_lumber,
    lumber_of_section,
    nearest_stock,
    plain_stock,
    sides_of,
)
from lacunar.materials.species import SPECIES, Species, find_species, nearest_species

__all__ = [
    "DEFAULT_OLD_CEILING",
    "FURRING_SCREW",
    "LEAST_IN_JOIST",
    "LEAST_PENETRATION",
    "LUMBER",
    "NAIL_DIAMETERS_IN",
    "NAIL_FROM_END",
    "OLD_CEILINGS",
    "POCKET_PRACTICE",
    "POCKET_SCREW",
    "SPECIES",
    "Lumber",
    "OldCeiling",
    "PocketPractice",
    "Species",
    "find_lumber",
    "find_old_ceiling",
    "find_species",
    "longest_nail_within",
    "lumber_of_section",
    "nail_diameter",
    "nearest_old_ceiling",
    "nearest_species",
    "nearest_stock",
    "plain_stock",
    "screw_diameter",
    "shortest_screw_over",
    "sides_of",
]
