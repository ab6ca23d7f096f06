"""How far apart what holds a board may be, and how far the board may reach past it."""

from dataclasses import dataclass
from typing import NamedTuple

from lacunar.analysis import Grip, NailedSlat, ScrewedStrip, Subject, nailed_slats, screwed_strips
from lacunar.checks.finding import Level
from lacunar.layout import ENOUGH
from lacunar.tolerances import CONTACT
from lacunar.units import INCH


class Limits(NamedTuple):
    """Up to `usual` is good, up to `most` is a warning, more fails."""

    usual: float
    most: float


APART = Limits(25.0 * INCH, 32.0 * INCH)
"""mm. Between two nails along a board: joists 24 in or 625 mm apart; a joist of 16 in spacing that is missed.

Source: boards of 3/4 in on joists up to 24 in apart, IRC Table R503.1, from memory; the rest common practice, no
source.
"""

END = Limits(18.0 * INCH, 26.0 * INCH)
"""mm. Past the last nail: joists 16 in apart, or 24 in, and the next one too near the end to be nailed into.

Source: common practice, no source.
"""

ALONE_END = Limits(8.0 * INCH, 12.0 * INCH)
"""mm. The same where one joist alone holds a board: half as much. Source: common practice, no source."""

THICK = 0.75 * INCH
"""mm. Thickness that the limits hold for; a thicker strip sags alike, for its span, over a span greater likewise."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Weak:
    """What is wrong with how a board is held.

    Attributes:
        kind: what there is too little of, or too much: "hold" (a count), "apart", "end" (mm).
        limit: that it misses: the greatest for a failure.
    """

    kind: str
    level: Level
    value: float
    limit: float


def weak_slat(slat: NailedSlat) -> tuple[Weak, ...]:
    """What is wrong with how a slat is held."""
    count, grip = len(slat.caught), slat.grip
    if count == 0:
        return (Weak(kind="hold", level="fail", value=0.0, limit=ENOUGH),)
    if count == 1:
        ends = _weak("end", grip.free, ALONE_END)
        single = Weak(kind="hold", level="warn", value=1.0, limit=ENOUGH)
        return ends or (() if grip.nails > 1 else (single,))
    return _weak_grip(grip, 1.0)


def weak_strip(strip: ScrewedStrip) -> tuple[Weak, ...]:
    """What is wrong with how a strip of furring is held."""
    if strip.holds < ENOUGH:
        return (Weak(kind="hold", level="fail", value=strip.holds, limit=ENOUGH),)
    return _weak_grip(strip.grip, max(1.0, strip.thickness / THICK))


def is_held(subject: Subject) -> bool:
    """Nothing is wrong with how any slat or strip of furring is held."""
    return not any(map(weak_slat, nailed_slats(subject))) and not any(map(weak_strip, screwed_strips(subject)))


def _weak_grip(grip: Grip, factor: float) -> tuple[Weak, ...]:
    return (*_weak("apart", grip.apart, APART, factor), *_weak("end", grip.free, END, factor))


def _weak(kind: str, value: float, limits: Limits, factor: float = 1.0) -> tuple[Weak, ...]:
    usual, most = limits.usual * factor, limits.most * factor
    if value > most + CONTACT:
        return (Weak(kind=kind, level="fail", value=value, limit=most),)
    return (Weak(kind=kind, level="warn", value=value, limit=usual),) if value > usual + CONTACT else ()
