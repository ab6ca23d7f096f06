"""Old ceilings that the slats are nailed through."""

import difflib
from dataclasses import dataclass

from lacunar.units import INCH


@dataclass(frozen=True, slots=True, kw_only=True)
class OldCeiling:
    """One kind of ceiling finish.

    Attributes:
        kind: as the config writes it.
        thickness: usual, mm.
        thickness_source: of `thickness`.
        load_psf: dead load in pounds per square foot at the usual thickness; None where the table has no row.
        load_source: of `load_psf`.
        brittle: it cracks or falls when nailed through, so somebody has to look at it first.
    """

    kind: str
    thickness: float
    thickness_source: str
    load_psf: float | None
    load_source: str
    brittle: bool


_PRACTICE = "common practice, no source: measure it at a hole for a lamp"
_ASCE = "ASCE 7, Table C3-1"


def _ceiling(kind: str, inches: float, load: float | None, brittle: bool) -> OldCeiling:
    return OldCeiling(
        kind=kind,
        thickness=inches * INCH,
        thickness_source=_PRACTICE,
        load_psf=load,
        load_source=_ASCE if load is not None else "no row of its own in " + _ASCE,
        brittle=brittle,
    )


OLD_CEILINGS: dict[str, OldCeiling] = {
    ceiling.kind: ceiling
    for ceiling in (
        _ceiling("plaster on wood lath", 0.875, 8.0, True),
        _ceiling("plaster on metal lath", 0.875, 10.0, True),
        _ceiling("plaster on gypsum lath", 0.875, None, True),
        _ceiling("plasterboard", 0.5, 4 * 0.55, False),
        _ceiling("boards", 0.75, None, False),
        _ceiling("fibreboard", 0.5, 1.0, False),
        _ceiling("bare joists", 0.0, 0.0, False),
    )
}
"""Every kind by its name. A plasterboard of 1/2 in weighs four eighths of 0.55 psf each."""

_ALSO = {"drywall": "plasterboard", "gypsum board": "plasterboard", "gypsum": "plasterboard", "none": "bare joists"}

DEFAULT_OLD_CEILING = OLD_CEILINGS["plasterboard"]
"""What is taken where nobody has looked. Source: common practice, no source."""


def find_old_ceiling(kind: str) -> OldCeiling | None:
    """The kind by its name or another name it has; None where there is none."""
    plain = " ".join(kind.lower().split())
    return OLD_CEILINGS.get(_ALSO.get(plain, plain))


def nearest_old_ceiling(kind: str) -> str:
    """The known kind most like this one."""
    return difflib.get_close_matches(kind.lower(), [*OLD_CEILINGS, *_ALSO], n=1, cutoff=0.0)[0]
