"""How far readings and cuts are off."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lacunar.config import SurveyTable
from lacunar.tape import Tape

Floats = NDArray[np.float64]

STOP_CUT = 0.5
"""mm. Standard deviation of a cut against a stop block. Source: common practice, no source."""

HAND_CUT = 0.8
"""mm. Standard deviation of a cut to a pencil mark. Source: common practice, no source."""

PUT_UP = 1.0
"""mm. Standard deviation of where an end of a beam or a slat comes to hang. Source: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Errors:
    """Standard deviations and marks, mm.

    Attributes:
        reading: of one reading, whatever its length.
        per_length: what is added per length read.
        slat_mark: lengths of coffers are read, and slats cut, to this mark; 0 for exact readings.
        trim_mark: the same for sides and trim.
        slat_cut: of a slat's length, cut against a stop.
        trim_cut: of a strip's length, cut to a pencil mark.
        put_up: of where an end of a beam or a slat hangs.
    """

    reading: float
    per_length: float
    slat_mark: float
    trim_mark: float
    slat_cut: float = STOP_CUT
    trim_cut: float = HAND_CUT
    put_up: float = PUT_UP

    def sd(self, length: float) -> float:
        """Standard deviation of one reading of a length."""
        return self.reading + self.per_length * length

    def sd_on(self, length: float, mark: float) -> float:
        """Standard deviation of one reading that is put on a mark: evenly spread over it, mark / sqrt(12) more."""
        return math.hypot(self.sd(length), mark / math.sqrt(12.0))


def errors_of(survey: SurveyTable, tape: Tape) -> Errors:
    """As they are read, and by the tape's marks."""
    return Errors(
        reading=survey.sd,
        per_length=survey.sd_per_length,
        slat_mark=tape.read_to,
        trim_mark=tape.fine,
    )


def misread(length: float, noise: Floats, mark: float) -> Floats:
    """How far a length is off when it is read with these errors, to the nearest mark."""
    return on_mark(length + noise, mark) - length


def on_mark(lengths: Floats, mark: float) -> Floats:
    """The nearest marks; as they are where there is no mark."""
    return np.rint(lengths / mark) * mark if mark else lengths
