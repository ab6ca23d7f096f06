"""The tape that a room is measured with: the marks that lengths are read, told and cut by, and how they are written."""

from dataclasses import dataclass
from typing import Final

from lacunar.tolerances import CONTACT
from lacunar.units import FOOT, Style, Units, format_length, nearest_mark, told_mark, written_mark

HALF_A_MILLIMETRE: Final = 0.5
"""mm. A metric room's beams, trim and rips are cut to it. Source: common practice, no source."""

FEET_FROM: Final = 4.0 * FOOT
"""mm. From here on feet are told too: nobody pictures 51 in. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tape:
    """The units that lengths are told in, and the finest mark that they are read to and slats are cut to, mm."""

    units: Units
    read_to: float

    @property
    def told(self) -> float:
        """The mark that people are told lengths by, mm: the usual one, or the one they read to where that is finer."""
        return min(self.read_to, told_mark(self.units))

    @property
    def fine(self) -> float:
        """The mark that beams, trim and rips are cut to, mm: what lengths are told by, or half a millimetre."""
        return self.told if self.units == "in" else min(self.told, HALF_A_MILLIMETRE)

    @property
    def written(self) -> float:
        """The finest mark that a length is written or counted by, mm."""
        return written_mark(self.units)

    def text(self, mm: float, style: Style = "marks", mark: float | None = None) -> str:
        """A length to the nearest mark, mm; to the one that is read to where none is named."""
        return format_length(mm, self.units, self.read_to if mark is None else mark, style)

    def words(self, mm: float, mark: float | None = None) -> str:
        """The same as a person says it: whole feet have no inches."""
        return self.text(mm, "words", mark).removesuffix(" 0 in")

    def cut_text(self, mm: float, style: Style = "marks") -> str:
        """A length that is cut, on the coarsest mark of the tape that it stands on."""
        on = (mark for mark in (self.read_to, self.fine) if abs(nearest_mark(mm, mark) - mm) <= CONTACT)
        return self.text(mm, style, next(on, min(self.fine, self.written)))

    def stop_text(self, mm: float) -> str:
        """Where a stop is set, as its rule reads it; with feet beside it where it is long."""
        text = self.cut_text(mm, "inches")
        if self.units == "mm":
            return text
        feet = self.cut_text(mm, "words").removesuffix(" in").removesuffix(" 0")
        short = text.removesuffix(" in")
        return f"{short} ({feet})" if mm >= FEET_FROM - CONTACT else short
