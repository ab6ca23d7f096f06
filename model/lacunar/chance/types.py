"""What a trial of chances says."""

import math
from dataclasses import dataclass

from lacunar.chance.errors import Errors


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceChance:
    """One slat or strip of trim, and the share of trials in which it fits the first time."""

    part: str
    kind: str
    fits: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Chance:
    """Shares of trials, and averages.

    Attributes:
        all_fit: share of trials in which every slat and every strip of trim fits the first time.
        all_slats: in which every slat does.
        all_trim: in which every strip does.
        slat_misfits: slats that do not fit the first time, on average.
        trim_misfits: strips that do not.
        pieces: every slat and strip, coffer by coffer.
    """

    trials: int
    errors: Errors
    all_fit: float
    all_slats: float
    all_trim: float
    slat_misfits: float
    trim_misfits: float
    pieces: tuple[PieceChance, ...]

    def risks(self, below: float) -> tuple[PieceChance, ...]:
        """Slats that fit less often, the riskiest first."""
        found = [piece for piece in self.pieces if piece.kind == "slat" and piece.fits < below]
        return tuple(sorted(found, key=lambda piece: piece.fits))


def percent(share: float, trials: int) -> str:
    """A share of trials in whole percents, near none and all as a bound that so many trials allow.

    Source: a share is off by two standard deviations at most, one of none or all by 3 / trials (rule of three).
    """
    off = max(2.0 * math.sqrt(share * (1.0 - share) / trials), 3.0 / trials)
    if share >= 0.995:
        return f"more than {min(99, math.floor(100.0 * max(share - off, 0.0)))} %"
    if share <= 0.005:
        return f"less than {max(1, math.ceil(100.0 * min(share + off, 1.0)))} %"
    return f"{100.0 * share:.0f} %"
