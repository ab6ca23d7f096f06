"""Where slats at an angle lie across their coffer: so that trim hides what is left in its two outermost corners."""

import math
from dataclasses import dataclass

from lacunar.geometry import Line, Point, Ring
from lacunar.layout.bands import SlatBand
from lacunar.layout.fill import Rule
from lacunar.layout.ground import Ground
from lacunar.layout.polygons import inset
from lacunar.layout.sided import nearest_parallel
from lacunar.layout.slats import hang_slats
from lacunar.layout.types import Coffer, Slat
from lacunar.tolerances import ARITHMETIC

TIP = 0.1
"""mm. A tip that shows no more is no sure tip: what `POLYGON_AREA` calls noise may stand 0.08 mm out of the trim in a
corner of 20 degrees, and less in any wider one."""


def lay_angled(ground: Ground) -> tuple[Coffer, tuple[Slat, ...]]:
    """Slats at an angle to the sides: every end follows the side that it meets."""
    outline, rule, end_gap = ground.cell.outline, ground.rule, ground.ends.end_gap
    direction = ground.room.wall_line(ground.room.walls[0]).turned(ground.run_angle or 0.0).direction
    covered = inset(outline, end_gap)
    along = _with_corner_on_left(Line(covered[0], direction), ground.corner, covered)
    corners = Corners.of(covered, inset(outline, ground.trim_width), along)
    place = place_slats(corners, rule, ground.trim_width - rule.hidden, end_gap)
    slats = hang_slats(ground, angled_bands(corners, place, along, rule), covered)
    coffer = ground.coffer(
        run="angle",
        cut_to_shape=True,
        direction=along.direction,
        start_side=nearest_parallel(ground.cell.sides, direction),
        gap=rule.gap,
        gap_end=rule.gap,
        n_full=sum(not slat.ripped for slat in slats),
        rips=tuple(slat.width for slat in slats if slat.ripped),
        edge_gaps=(end_gap, end_gap),
    )
    return coffer, slats


def _with_corner_on_left(line: Line, corner: Point, ring: Ring) -> Line:
    middle = sum(line.offset(p) for p in ring) / len(ring)
    return line if line.offset(corner) >= middle else line.reversed()


@dataclass(frozen=True, slots=True, kw_only=True)
class Corners:
    """A coffer across slats at an angle, from the corner where slat 1 lies to the one where the last lies.

    Attributes:
        top: where it begins: offset from a line along the slats, with slat 1 on its left.
        depth: from the one outermost point that slats may cover to the other.
        shown: how much deeper than each of them what the trim leaves in view begins.
    """

    top: float
    depth: float
    shown: tuple[float, float]

    @staticmethod
    def of(covered: Ring, opening: Ring, along: Line) -> "Corners":
        """Of what slats may cover and what the trim leaves in view, across a line."""
        low, high = _offsets(covered, along)
        seen_low, seen_high = _offsets(opening, along)
        return Corners(top=high, depth=high - low, shown=(high - seen_high, seen_low - low))


def _offsets(ring: Ring, along: Line) -> tuple[float, float]:
    offsets = [along.offset(point) for point in ring]
    return min(offsets), max(offsets)


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where the set of slats lies.

    Attributes:
        start: slat 1's edge, so much deeper than the corner: less than 0 where the corner cuts into the slat.
        count: slats.
    """

    start: float
    count: int


def place_slats(corners: Corners, rule: Rule, overlap: float, end_gap: float) -> Place:
    """Slat 1 a full one with its edge through the corner, if both corners are then hidden.

    Else the whole set lies elsewhere: in the middle of the widest range of places that hide both. A slat that a corner
    cuts into keeps the narrowest rip, measured from that corner, and as much of it in view as of a rip beside a side,
    or less where nothing else hides both. Where nothing does, slat 1 lies at its corner all the same.

    Args:
        corners: of the coffer.
        rule: widths and gaps.
        overlap: how far trim must reach past an outer edge.
        end_gap: between the sides and what slats may cover.
    """
    # Beside a side so narrow an end gap is no edge gap: only slats that their corners cut into have no outer edge.
    covers = overlap if end_gap >= min(rule.edge_gap, rule.least_edge_gap) - ARITHMETIC else math.inf
    in_view = rule.narrowest_rip - max(rule.hidden + overlap - rule.edge_gap, 0.0)
    for least in (max(in_view, TIP), TIP):
        first, last = (_edges(shown, rule, covers, least) for shown in corners.shown)
        place = _hidden_place(first, last, corners.depth, rule)
        if place is not None:
            return place
    return Place(start=0.0, count=max(1, math.ceil((corners.depth - rule.gap) / (rule.width + rule.gap) - 1e-9)))


def _edges(shown: float, rule: Rule, overlap: float, least: float) -> tuple[float, float]:
    """How deep beyond its corner the edge of an outermost slat may lie, from and to, if so much of it is in view."""
    return max(rule.narrowest_rip, shown + least) - rule.width, max(shown - overlap, 0.0)


def _hidden_place(first: tuple[float, float], last: tuple[float, float], depth: float, rule: Rule) -> Place | None:
    """A place of slat 1 within `first` that has the last slat within `last`, deep from the other corner."""
    pitch = rule.width + rule.gap
    # The last slat's outer edge as slat 1's, were they the same slat.
    low, high = (depth - rule.width - edge for edge in reversed(last))
    counts = range(max(1, math.ceil((low - first[1]) / pitch) + 1), math.floor((high - first[0]) / pitch) + 2)
    steps = [(count, (count - 1) * pitch) for count in counts]
    ranges = [(max(first[0], low - step), min(first[1], high - step), count) for count, step in steps]
    kept = [count for a, b, count in ranges if a <= 0.0 <= b]
    if kept:
        return Place(start=0.0, count=kept[0])
    a, b, count = max(ranges, key=lambda found: found[1] - found[0], default=(1.0, 0.0, 0))
    return Place(start=(a + b) / 2.0, count=count) if a <= b else None


def angled_bands(corners: Corners, place: Place, along: Line, rule: Rule) -> tuple[SlatBand, ...]:
    """Bands as wide as a board; what a corner cuts off them is found with their ends."""
    bands: list[SlatBand] = []
    for i in range(place.count):
        start = place.start + i * (rule.width + rule.gap)
        near = along.shifted(corners.top - start)
        bands.append(
            SlatBand(
                near=near,
                far=near.shifted(-rule.width),
                axis_line=near,
                width=rule.width,
                to_shape=start < -ARITHMETIC or start + rule.width > corners.depth + ARITHMETIC,
            )
        )
    return tuple(bands)
