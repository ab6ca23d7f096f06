"""The tree that every model file shows: ceiling > coffer > part, and what belongs to no coffer under `beams`."""

import unicodedata
from collections.abc import Iterable

from lacunar.parts import Part

ROOT = "ceiling"
"""Name of the whole."""

NO_COFFER = "beams"
"""Name of the group of parts that belong to no coffer."""


def groups(parts: Iterable[Part]) -> dict[str, list[Part]]:
    """Parts by group, in their order; beams first."""
    found: dict[str, list[Part]] = {NO_COFFER: []}
    for part in parts:
        found.setdefault(part.coffer or NO_COFFER, []).append(part)
    return {name: members for name, members in found.items() if members}


def pattern_names(patterns: Iterable[Part], counts: Iterable[int]) -> list[str]:
    """A name for each shape, no two alike: of the part itself where there is one, else of kind, stock and length."""
    taken: set[str] = set()
    names: list[str] = []
    for part, count in zip(patterns, counts, strict=True):
        stem = part.id if count == 1 else " ".join(f"{part.kind} {part.stock} {part.length:.1f} mm".split())
        name, number = stem, 1
        while name in taken:
            number += 1
            name = f"{stem} ({number})"
        taken.add(name)
        names.append(name)
    return names


def plain(text: str) -> str:
    """Text in ASCII, accents dropped, other signs as numbers: the readers of some formats show them as noise."""
    letters = unicodedata.normalize("NFKD", text).replace("\N{FRACTION SLASH}", "/")
    kept = "".join(letter for letter in letters if not unicodedata.combining(letter))
    return kept.encode("ascii", "xmlcharrefreplace").decode("ascii")
