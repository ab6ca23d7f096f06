"""What a pattern of slats starts from: one cell, and all that is said of slats in it."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from lacunar.geometry import Line, Plane, Point
from lacunar.layout.fill import Rule
from lacunar.layout.member import of_base
from lacunar.layout.squaring import EndRule
from lacunar.layout.types import Cell, Coffer, CutOut, Slat
from lacunar.survey import Room


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """One cell and the config's wishes for it.

    Attributes:
        run_angle: radians from wall AB, counter-clockwise on the page, where the slats run at an angle.
        start: walls named in `from`, or ("centre",).
        joists: a line along the joists.
        rule: widths and gaps.
        ends: end gaps and trim.
        ceiling: plane that the slats or their furring lie against.
        trim_width: what lies wholly behind trim is left out.
    """

    room: Room
    cell: Cell
    run: str
    run_angle: float | None
    start: tuple[str, ...]
    joists: Line
    rule: Rule
    ends: EndRule
    ceiling: Plane
    trim_width: float
    holes: tuple[CutOut, ...]

    @property
    def corner(self) -> Point:
        """The room's corner A; a slat's first end is the one nearer to it."""
        return self.room.points[0]

    def coffer(self, **covered: Any) -> Coffer:
        """The cell as a coffer, with what a pattern has made of it."""
        return Coffer(**of_base(self.cell, Cell), ceiling=self.ceiling, **covered)


Pattern = Callable[[Ground], tuple[Coffer, tuple[Slat, ...]]]
"""Covers a cell: what it says of itself stands in the coffer (is it cut to shape?) and in its slats (an interval?)."""
