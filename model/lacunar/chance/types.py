"""What a trial of chances says."""

from dataclasses import dataclass

from lacunar.chance.errors import Errors


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceChance:
    """One slat or strip of trim, and the share of trials in which it fits the first time."""

    part: str
    kind: str
    fits: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeChance:
    """One key of the config changed, everything else and every error the same.

    Attributes:
        key: "slats.end_gap" or "trim.width".
        value: what it would be, mm.
        all_slats: share of trials in which every slat fits.
        misfits: slats that do not fit, on average.
    """

    key: str
    value: float
    all_slats: float
    misfits: float


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
        changes: what was tried.
        best: the change that saves most slats; None where none saves any worth telling.
    """

    trials: int
    errors: Errors
    all_fit: float
    all_slats: float
    all_trim: float
    slat_misfits: float
    trim_misfits: float
    pieces: tuple[PieceChance, ...]
    changes: tuple[ChangeChance, ...]
    best: ChangeChance | None

    def risks(self, below: float) -> tuple[PieceChance, ...]:
        """Slats that fit less often, the riskiest first."""
        found = [piece for piece in self.pieces if piece.kind == "slat" and piece.fits < below]
        return tuple(sorted(found, key=lambda piece: piece.fits))
