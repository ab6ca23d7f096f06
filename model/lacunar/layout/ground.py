"""What a pattern of slats starts from: one cell, and all that is said of slats in it."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from lacunar.config import Config, SlatsOfCoffer
from lacunar.geometry import Line, Plane, Point
from lacunar.layout.faces import coffer_plane
from lacunar.layout.fill import Rule
from lacunar.layout.member import of_base
from lacunar.layout.squaring import EndRule
from lacunar.layout.types import Cell, Coffer, CutOut, JoistLines, Slat
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


def ground_of(room: Room, config: Config, cell: Cell, joists: JoistLines, holes: tuple[CutOut, ...]) -> Ground:
    """What the config wishes of all slats and of this coffer's."""
    slats, trim = config.slats, config.trim
    own = slats.coffer.get(cell.id, SlatsOfCoffer())
    run, angle = (slats.run, slats.run_angle) if own.run is None else (own.run, own.run_angle)
    start = slats.from_ if own.from_ is None else own.from_
    hidden = trim.width - trim.least_overlap
    rule = Rule(
        width=slats.width,
        gap=slats.gap,
        edge_gap=slats.edge_gap,
        least_edge_gap=slats.least_edge_gap,
        narrowest_rip=min(slats.narrowest_rip, slats.width / 2.0),
        kerf=config.shop.kerf,
        hidden=hidden,
        wedge=slats.wedge,
        centred=start == ("centre",),
    )
    return Ground(
        room=room,
        cell=cell,
        run=run,
        run_angle=angle,
        start=start,
        joists=room.wall_line(joists.along),
        rule=rule,
        ends=EndRule(end_gap=slats.end_gap, least_end_gap=slats.least_end_gap, hidden=hidden, mark=config.read_to),
        ceiling=coffer_plane(room, cell.outline),
        trim_width=trim.width,
        holes=holes,
    )


Pattern = Callable[[Ground], tuple[Coffer, tuple[Slat, ...]]]
"""Covers a cell: what it says of itself stands in the coffer (is it cut to shape?) and in its slats (an interval?)."""
