"""The saw and what it cuts from, and lengths as whole numbers: a board either holds its pieces or it does not."""

import math
from dataclasses import dataclass

from lacunar.config import Config, CrossBeams, Shop, Slats, TrimTable
from lacunar.plan.cutting import RipSaw
from lacunar.tape import Tape
from lacunar.tolerances import ARITHMETIC
from lacunar.units import FOOT, INCH

LEAST_BLANK = {"in": 2.0 * FOOT, "mm": 610.0}
"""mm. No shorter board is ripped by machine. Source: common practice, no source."""

RIP_SPARE = {"in": INCH / 16.0, "mm": 1.5}
"""mm. Left besides two rips in one section: no edge is quite straight. Source: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Saw:
    """The saw, what it cuts from, and its ticks of length.

    Attributes:
        tape: its marks are what the saw is set by.
        tick: mm.
        read: ticks between two marks that slats are cut to.
        margin: ticks that are kept from both ends of an interval, or a quarter of it where that is less.
        rip: what ripping needs, ticks.
        most_stops: marks for slats, at most; None for any number.
    """

    tape: Tape
    shop: Shop
    slats: Slats
    trim: TrimTable
    cross: CrossBeams | None
    tick: float
    read: int
    margin: int
    rip: RipSaw
    most_stops: int | None

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


def make_saw(config: Config) -> Saw:
    """With the longest tick up to 1/64 in or 0.1 mm that goes a whole number of times into the mark of slats."""
    shop, tape = config.shop, config.tape
    read = math.ceil(tape.read_to / tape.written - ARITHMETIC)
    tick = tape.read_to / read

    def up(mm: float) -> int:
        return math.ceil((mm - ARITHMETIC) / tick)

    kerf = up(shop.kerf)
    return Saw(
        tape=tape,
        shop=shop,
        slats=config.slats,
        trim=config.trim,
        cross=config.cross_beams,
        tick=tick,
        read=read,
        margin=up(config.slats.margin),
        rip=RipSaw(rip_kerf=kerf, spare=up(RIP_SPARE[tape.units]), kerf=kerf, least_blank=up(LEAST_BLANK[tape.units])),
        most_stops=shop.stops,
    )
