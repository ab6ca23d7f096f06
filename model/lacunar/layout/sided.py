"""Slats along a side of their coffer: which side that is, and the filling from there: rules 5 to 8."""

import math

from lacunar.geometry import Line, Point
from lacunar.layout.bands import lay_bands, measure_across
from lacunar.layout.grid import QUARTER
from lacunar.layout.ground import Ground
from lacunar.layout.polygons import inset_each
from lacunar.layout.slats import hang_slats
from lacunar.layout.types import Cell, Coffer, Side, Slat


def lay_sided(ground: Ground, run: str) -> tuple[Coffer, tuple[Slat, ...]]:
    """Slats "with" or "across" the beams, from their start side to the one opposite."""
    cell = ground.cell
    start = _start_side(ground, run)
    across = measure_across(cell.sides, start)
    filling, bands = lay_bands(across, ground.rule)
    along = bands[0].axis_line if bands else across.base
    gaps = [0.0 if along.lean_to(side.line) < QUARTER else ground.ends.end_gap for side in reversed(cell.sides)]
    # The coffer's ring runs the other way round than its sides, from the same first corner.
    slats = hang_slats(ground, bands, inset_each(cell.outline, gaps))
    coffer = ground.coffer(
        run=run,
        direction=across.base.direction,
        start_side=start,
        gap=filling.gap,
        gap_end=filling.gap_end,
        wedge=filling.wedge,
        change=across.change,
        n_full=filling.n_full,
        rips=tuple(width for width, ripped in zip(filling.widths, filling.ripped, strict=True) if ripped),
        edge_gaps=filling.edge_gaps,
    )
    return coffer, slats


def lay_alternate(ground: Ground) -> tuple[Coffer, tuple[Slat, ...]]:
    """One way in the first coffer, the other in those beside it."""
    return lay_sided(ground, "across" if (ground.cell.row + ground.cell.column) % 2 == 0 else "with")


def lay_across_joists(ground: Ground) -> tuple[Coffer, tuple[Slat, ...]]:
    """Along the pair of sides that cross the joists more nearly square."""
    along, across = _leans(ground.cell, ground.joists)
    return lay_sided(ground, "with" if along > across else "across")


def lay_along_wall(ground: Ground) -> tuple[Coffer, tuple[Slat, ...]]:
    """Along the pair of sides that leans less to the wall named."""
    along, across = _leans(ground.cell, ground.room.wall_line(ground.run))
    return lay_sided(ground, "with" if along < across else "across")


def _leans(cell: Cell, line: Line) -> tuple[float, float]:
    """To a line: of the sides along the beams, and of those across them."""
    sides = [[side.line.lean_to(line) for side in cell.sides if side.along_beams == along] for along in (True, False)]
    along, across = (sum(leans) / len(leans) if leans else math.pi / 4.0 for leans in sides)
    return along, across


def _start_side(ground: Ground, run: str) -> int:
    """Of the pair along the slats the side nearest to a named wall, else the one nearer A; the longest of equals."""
    room, sides = ground.room, ground.cell.sides
    family = [i for i, side in enumerate(sides) if side.along_beams == (run == "with")]
    # A coffer may have sides of one kind only.
    family = family or [nearest_parallel(sides, sides[0].line.left)]
    line = sides[family[0]].line
    named = () if ground.rule.centred else ground.start
    fitting = [wall for wall in named if room.wall_line(wall).lean_to(line) < QUARTER]

    def distance(i: int) -> float:
        at = sides[i].middle
        return abs(room.wall_line(fitting[0]).offset(at)) if fitting else math.dist(at, ground.corner)

    return min(family, key=lambda i: (round(distance(i), 6), -sides[i].length))


def nearest_parallel(sides: tuple[Side, ...], direction: Point) -> int:
    """The side that leans least to a direction; the longest of equals."""
    line = Line((0.0, 0.0), direction)
    return min(range(len(sides)), key=lambda i: (round(sides[i].line.lean_to(line), 9), -sides[i].length))
