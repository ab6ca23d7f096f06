"""Boards that run wider than they are sold as, or narrower, over the coffer that takes most of them."""

from dataclasses import dataclass

from lacunar.analysis.subject import Subject
from lacunar.units import INCH

SLIGHT = {"in": INCH / 64.0, "mm": 0.5}
"""mm. A board so much under looks like a nominal one: what boards nobody has measured are tried with. Own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bundle:
    """What one board is off, and all of them together, mm.

    Attributes:
        coffer: id of the one that has most full slats.
        slats: its full ones.
        off: how much wider a board is than it is sold as, negative for narrower; SLIGHT where nobody has measured ten.
        total: what that comes to over these slats, wider or narrower.
    """

    coffer: str
    slats: int
    off: float
    total: float


def bundle_of(subject: Subject) -> Bundle:
    """Of the boards as bought."""
    slats, most = subject.config.slats, max(subject.layout.coffers, key=lambda coffer: coffer.n_full)
    off = SLIGHT[subject.config.units] if slats.ten is None else slats.width - slats.nominal_width
    return Bundle(coffer=most.id, slats=most.n_full, off=off, total=most.n_full * abs(off))
