"""Every pattern that slats can lie in, by the word for it in the config: a pattern is one entry here."""

from functools import partial

from lacunar.layout.angled import lay_angled
from lacunar.layout.ground import Ground, Pattern
from lacunar.layout.sided import lay_across_joists, lay_along_wall, lay_alternate, lay_sided
from lacunar.layout.types import Coffer, Slat

PATTERNS: dict[str, Pattern] = {
    "with": partial(lay_sided, run="with"),
    "across": partial(lay_sided, run="across"),
    "alternate": lay_alternate,
    "joists": lay_across_joists,
    "angle": lay_angled,
}


def lay_slats(ground: Ground) -> tuple[Coffer, tuple[Slat, ...]]:
    """Cover one cell; a word that names no pattern is a wall's, and slats run along it."""
    return PATTERNS.get(ground.run, lay_along_wall)(ground)
