"""Which reading is the misread one: by its w, and by what the others say without it."""

from dataclasses import dataclass, replace

from lacunar.survey.adjust import Adjusted, adjust
from lacunar.survey.chance import ALONE, W_CRITICAL, agree
from lacunar.survey.network import Network

LOUD = 0.5
"""Share of the largest |w| that a reading must have to be tried without: the wrong one has the largest but for chance
and for the curvature of large errors. Source: own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Blame:
    """What the readings say of a misread one.

    Attributes:
        readings: numbers of those that may be it, the likeliest first; one where the others can tell.
        off: by how much each of these is too long, mm; negative where too short.
        fits: the others agree within reading error.
    """

    readings: tuple[int, ...]
    off: tuple[float, ...]
    fits: bool


def blame(network: Network, adjusted: Adjusted) -> Blame | None:
    """The readings whose misreading would explain the misfit; None where no |w| passes its critical value."""
    rated = [abs(w) if w is not None else 0.0 for w in adjusted.w]
    loudest = max(range(len(rated)), key=lambda i: rated[i], default=None)
    if loudest is None or rated[loudest] <= W_CRITICAL:
        return None
    tried = sorted(_without(network, adjusted, i) for i in range(len(rated)) if rated[i] > LOUD * rated[loudest])
    least, likeliest, _ = tried[0]
    alike = [(number, off) for chi2, number, off in tried if chi2 - least < ALONE]
    if len(alike) == 1 and likeliest != loudest:
        # The largest w and the best fit without speak of two readings: neither is named.
        alike += [(number, off) for _, number, off in tried if number == loudest]
    readings, offs = zip(*alike, strict=True)
    return Blame(readings=readings, off=offs, fits=agree(least, adjusted.dof - 1))


def _without(network: Network, adjusted: Adjusted, number: int) -> tuple[float, int, float]:
    """Adjust without one reading: the misfit of the others, its number, and how much too long they find it, mm."""
    reading = network.readings[number]
    # It keeps a row, so that its adjusted length comes out too.
    rest = (*network.with_instead(number).readings, reading.loose)
    found = adjust(replace(network, readings=rest), adjusted.points, adjusted.marks)
    return found.chi2, number, reading.value - found.lengths[-1]


def named(found: Blame | None) -> int | None:
    """The one reading that is misread, where the others tell."""
    return found.readings[0] if found is not None and len(found.readings) == 1 else None
