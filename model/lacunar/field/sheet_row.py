"""One measurement to take: what it is called, what the design says, and where it runs."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from lacunar.config import plain_length
from lacunar.geometry import Point
from lacunar.parts import Part
from lacunar.tolerances import ARITHMETIC
from lacunar.units import Units, format_length, read_length, told_mark

Stage = Literal["room", "openings", "coffers", "last", "trim"]
STAGES: Final[tuple[Stage, ...]] = ("room", "openings", "coffers", "last", "trim")
"""In the order of the work."""

Parts = Mapping[str, Part]
"""As designed, by id."""

Values = Mapping[str, float]
"""What was measured, mm, by the name of its row."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One line of a sheet.

    Attributes:
        card: coffer or piece that it belongs to; on the room's sheet the sort of measure.
        short: as it stands beside its box, where the card says which coffer or piece.
        design: mm; what it is expected to be.
        ends: plan points of the two ends of the tape; the same twice for a height.
        note: what to hold the tape to.
        optional: good to have, and nothing waits for it.
        limit: mm; how far off the design it may be before it is to be measured again; None for its stage's.
        number: from 1, in the order of the stage's sheet.
        formerly: its name on sheets that were printed before; "" where it has not changed.
        called: its name, where that is not card and short.
    """

    stage: Stage
    card: str
    short: str
    design: float
    ends: tuple[Point, Point]
    note: str = ""
    optional: bool = False
    limit: float | None = None
    number: int = 0
    formerly: str = ""
    called: str = ""

    @property
    def name(self) -> str:
        """Unique on its stage's sheet, and the same in the CSV ("C5 length at S01")."""
        return self.called or (self.short if self.stage == "room" else f"{self.card} {self.short}")


def length_text(mm: float, units: Units) -> str:
    """As a person would write it, where that says it exactly to 1/64 in or 0.1 mm; else in exact mm."""
    plain = plain_length(mm, units)
    return plain if abs(read_length(plain, units) - mm) <= ARITHMETIC else f"{mm!r} mm".replace(".0 mm", " mm")


def shown(mm: float, units: Units) -> str:
    """For messages and sheets."""
    return format_length(mm, units, told_mark(units), "words")
