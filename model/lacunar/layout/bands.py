"""From a filling to bands of the plan: each slat between two lines across its coffer."""

import math
from dataclasses import dataclass

from lacunar.geometry import Line, Point, dot
from lacunar.layout.fill import Filling, Rule, fill
from lacunar.layout.types import Side


@dataclass(frozen=True, slots=True, kw_only=True)
class SlatBand:
    """One slat before its ends are cut. Lines run along the start side; the coffer lies to their right.

    Attributes:
        near: edge towards the start side.
        far: the other edge.
        axis_line: the factory edge that it is squared from.
        width: across the factory edge; of a tapered one at the narrower end.
        ripped: narrower than the board.
        sawn: (near, far) a sawn edge?
        tapered: edges not parallel.
        to_shape: its ends are cut along the sides, as where a corner of the coffer cuts into its outer edge.
    """

    near: Line
    far: Line
    axis_line: Line
    width: float
    ripped: bool = False
    sawn: tuple[bool, bool] = (False, False)
    tapered: bool = False
    to_shape: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Across:
    """A coffer measured across its start side.

    Attributes:
        base: the start side, the coffer to its right.
        clear: width at the narrower end.
        change: how much wider the other end is.
        narrow_at: place of the narrower end along the base.
        wide_at: place of the wider end along the base.
    """

    base: Line
    clear: float
    change: float
    narrow_at: float
    wide_at: float


def measure_across(sides: tuple[Side, ...], start: int) -> Across:
    """Clear width perpendicular to the start side at the two ends of the side opposite to it.

    The opposite side is the furthest that runs back along the start side; in a coffer that has none, its deepest.
    """
    base = sides[start].line
    back = [side for i, side in enumerate(sides) if i != start and math.cos(base.angle_to(side.line)) < -math.sqrt(0.5)]
    if not back:
        depths = [(-base.offset(side.start), base.along(side.start)) for side in sides]
        deepest = max(depths)
        return Across(base=base, clear=deepest[0], change=0.0, narrow_at=deepest[1], wide_at=deepest[1])
    opposite = max(back, key=lambda side: -(base.offset(side.start) + base.offset(side.end)))
    ends = sorted((-base.offset(p), base.along(p)) for p in (opposite.start, opposite.end))
    return Across(base=base, clear=ends[0][0], change=ends[1][0] - ends[0][0], narrow_at=ends[0][1], wide_at=ends[1][1])


def lay_bands(across: Across, rule: Rule) -> tuple[Filling, tuple[SlatBand, ...]]:
    """Fill a coffer and draw the slats' edges, slat 1 first."""
    filling = fill(across.clear, across.change, rule, abs(across.wide_at - across.narrow_at))
    bands: list[SlatBand] = []
    near = across.base.shifted(-filling.edge_gaps[0])
    last = len(filling.widths) - 1
    for i, (narrow, wide, ripped) in enumerate(zip(filling.widths, filling.widths_end, filling.ripped, strict=True)):
        far = _beyond(across, near, narrow, wide)
        first_half = i == 0 and last > 0
        bands.append(
            SlatBand(
                near=near,
                far=far,
                axis_line=far if ripped and first_half else near,
                ripped=ripped,
                sawn=(ripped and first_half, ripped and not first_half),
                tapered=narrow != wide,
                width=narrow,
            )
        )
        near = _beyond(across, far, filling.gap, filling.gap_end)
    return filling, tuple(bands)


def _beyond(across: Across, line: Line, narrow: float, wide: float) -> Line:
    """The line that is so far beyond another at the narrower end and so far at the wider end."""
    if narrow == wide:
        return line.shifted(-narrow)
    points: list[Point] = []
    for at, by in sorted(((across.narrow_at, narrow), (across.wide_at, wide))):
        upright = Line(across.base.at(at), across.base.left)
        points.append(upright.at(upright.along(upright.crossing(line)) - by))
    drawn = Line.through(*points)
    return drawn if dot(drawn.direction, across.base.direction) > 0.0 else drawn.reversed()
