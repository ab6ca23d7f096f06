"""A slat ripped to another width: its sawn edge moves, the factory edge and every cut-out stay."""

import math
from collections.abc import Sequence
from dataclasses import replace

from lacunar.geometry import Line, Point, Ring, extent, moved
from lacunar.layout import Size
from lacunar.parts.part import Hand, Part
from lacunar.tolerances import ARITHMETIC

ON_EDGE = 1e-3
"""mm. A corner so near the edge's line lies on it: a thousand times the arithmetic, for edges that lean to the axis."""

MOST_TAPER = math.radians(10.0)
"""A side that leans less to the axis is a long edge: a tapered slat's lean 2 degrees at most, end cuts 30 or more."""


def rip_to(part: Part, width: float, width_end: float, edge: Hand, ripped: bool) -> Part:
    """The part with its sawn edge moved.

    Args:
        part: a slat.
        width: at its first end.
        width_end: at its second end.
        edge: which one the saw cuts.
        ripped: it is then narrower than its stock.
    """
    axis = Line.through(*part.axis)
    more = (width - part.widths[0], width_end - part.widths[1])
    sawn = _edge_line(part.outline, axis, edge)
    out = sawn.left if edge == "left" else (-sawn.left[0], -sawn.left[1])
    ends = [sawn.at(sawn.along(point)) for point in part.axis]
    new = Line.through(*(moved(point, out, by) for point, by in zip(ends, more, strict=True)))
    outline = _with_edge(part.outline, sawn, new)
    middles = tuple(moved(point, out, by / 2.0) for point, by in zip(part.axis, more, strict=True))
    stretch = part.top.stretch(axis.direction)
    mitred = any(end.mitre_deg for end in part.ends)
    return replace(
        part,
        outline=outline,
        axis=(middles[0], middles[1]),
        # The long point of a mitred end moves with the edge that it stands on.
        length=part.length + (_reach(outline, axis) - _reach(part.outline, axis)) * stretch if mitred else part.length,
        width=width,
        width_end=None if abs(width_end - width) <= ARITHMETIC else width_end,
        ripped=ripped,
        sawn_edges=(ripped and edge == "left", ripped and edge == "right"),
    )


def sawn_side(size: Size) -> Hand | None:
    """The edge that is sawn, where one is."""
    left, right = size.sawn_edges
    return None if left == right else "left" if left else "right"


def sawn_edge(part: Part, others: Sequence[Part]) -> Hand | None:
    """The edge that a rip is sawn on: the sawn one, else the one with no slat beyond it; None where neither is.

    Args:
        part: a slat.
        others: all slats of its coffer.
    """
    sawn = sawn_side(part)
    if sawn is not None or part.ripped:
        return sawn
    axis = Line.through(*part.axis)
    apart = [axis.offset(_middle(other.outline)) for other in others if other.id != part.id]
    # A slat that a cut-out severs has its other half on its own axis.
    beside = [offset for offset in apart if abs(offset) > part.width / 2.0]
    if beside and min(beside) < 0.0 < max(beside):
        return None
    return "left" if beside and beside[0] < 0.0 else "right"


def _reach(ring: Ring, axis: Line) -> float:
    low, high = extent(ring, axis)
    return high - low


def _middle(ring: Ring) -> Point:
    return (sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring))


def _edge_line(ring: Ring, axis: Line, edge: Hand) -> Line:
    """The outermost line on this side of the axis that a side of the outline lies on, run along the axis."""
    sign = 1.0 if edge == "left" else -1.0
    sides = [pair for pair in zip(ring, ring[1:] + ring[:1], strict=True) if math.dist(*pair) > ARITHMETIC]
    along = [(a, b) for a, b in sides if axis.lean_to(Line.through(a, b)) < MOST_TAPER]
    a, b = max(along, key=lambda pair: sign * (axis.offset(pair[0]) + axis.offset(pair[1])))
    return Line.through(a, b) if axis.along(b) > axis.along(a) else Line.through(b, a)


def _with_edge(ring: Ring, old: Line, new: Line) -> Ring:
    """Every corner on the old line slides to the new one, along the side of the outline that leads away from it."""
    on = [abs(old.offset(point)) <= ON_EDGE for point in ring]
    count = len(ring)
    found: list[Point] = []
    for i, point in enumerate(ring):
        if not on[i]:
            found.append(point)
            continue
        away = next((ring[j % count] for j in (i - 1, i + 1) if not on[j % count]), None)
        upright = Line(point, old.left) if away is None else Line.through(away, point)
        found.append(new.crossing(upright))
    return tuple(found)
