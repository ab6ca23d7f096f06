"""Lengths as whole numbers: a board either holds its pieces or it does not."""

import math
from dataclasses import dataclass

from lacunar.config import Config
from lacunar.tolerances import ARITHMETIC
from lacunar.units import written_mark


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Ticks of length.

    Attributes:
        tick: mm.
        read: ticks between two marks that slats are cut to.
        margin: ticks that are kept from both ends of an interval, or a quarter of it where that is less.
    """

    tick: float
    read: int
    margin: int = 0

    def up(self, mm: float) -> int:
        """Whole ticks that are no shorter."""
        return math.ceil((mm - ARITHMETIC) / self.tick)

    def down(self, mm: float) -> int:
        """Whole ticks that are no longer."""
        return math.floor((mm + ARITHMETIC) / self.tick)

    def near(self, mm: float) -> int:
        """The nearest tick."""
        return math.floor(mm / self.tick + 0.5)

    def mm(self, ticks: int) -> float:
        """Back again."""
        return ticks * self.tick


def make_grid(config: Config) -> Grid:
    """The longest tick up to 1/64 in or 0.1 mm that goes a whole number of times into the mark slats are cut to."""
    read = math.ceil(config.read_to / written_mark(config.units) - ARITHMETIC)
    tick = config.read_to / read
    return Grid(tick=tick, read=read, margin=math.ceil((config.slats.margin - ARITHMETIC) / tick))
