"""Where strips of furring lie in a coffer: the lines that they follow, and what of each line is free."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely import Polygon

from lacunar.geometry import Line, Point, Ring, centroid, dot, extent
from lacunar.layout.grid import QUARTER
from lacunar.layout.nails import BEARER_EDGE
from lacunar.layout.polygons import common, endless, pieces_of, rest, ring_of, strip
from lacunar.layout.types import Coffer, CutOut
from lacunar.tolerances import ARITHMETIC
from lacunar.units import INCH, Units

SPACING: dict[Units, float] = {"in": 16.0 * INCH, "mm": 400.0}
"""mm. Most from centre to centre of two strips, and of two screws along a joist: common practice, no source."""

FROM_SIDE = INCH / 4.0
"""mm. A strip's edge, and each of its ends, from the innermost reach of a coffer's side: common practice, no source."""

BESIDE = INCH / 8.0
"""mm. Least between the long edge of a strip under a joist and a coffer's side: common practice, no source."""

FROM_CUT_OUT = INCH / 2.0
"""mm. Between furring and the hole for a fixture: common practice, no source."""

LEAST_PIECE = 4.0 * INCH
"""mm. Shorter pieces of furring split when they are screwed: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FreeSpan:
    """What of a line is free, along it.

    Attributes:
        low: where it starts.
        high: where it ends.
        at_side: whether each end is at a side of the coffer, else it is at a cut-out.
    """

    low: float
    high: float
    at_side: tuple[bool, bool]

    @property
    def length(self) -> float:
        """What a strip there may have, less the least distances from the coffer's sides."""
        return self.high - self.low - sum(self.at_side) * FROM_SIDE


def free_spans(line: Line, width: float, ring: Ring, holes: Sequence[CutOut]) -> tuple[FreeSpan, ...]:
    """What of a band along a line lies over its whole width in a coffer and clear of cut-outs, in order.

    Args:
        line: middle of the band; its point is near the coffer.
        width: of the band.
        ring: the coffer's.
        holes: of the whole ceiling.
    """
    band = strip(line, width / 2.0, -width / 2.0, endless(ring))
    outside = [(*extent(ring_of(piece), line), True) for piece in pieces_of(rest(band, [Polygon(ring)]))]
    kept = [Polygon(_kept_clear(hole)) for hole in holes]
    taken = [(*extent(ring_of(piece), line), False) for hole in kept for piece in pieces_of(common(band, hole))]
    found: list[FreeSpan] = []
    reached, at_side = -math.inf, True
    for start, end, is_side in sorted([*outside, *taken]):
        if reached > -math.inf and start - reached > ARITHMETIC:
            found.append(FreeSpan(low=reached, high=start, at_side=(at_side, is_side)))
        if end > reached:
            reached, at_side = end, is_side
    return tuple(span for span in found if span.length >= LEAST_PIECE)


def near(line: Line, ring: Ring) -> Line:
    """The same line from a point beside the coffer."""
    return Line(line.at(line.along(centroid(ring))), line.direction)


def crossing_lines(
    along: Line, coffer: Coffer, holes: Sequence[CutOut], width: float, reach: float, most: float
) -> tuple[Line, ...]:
    """Middle lines of strips square to the slats: along the coffer's ends, beside cut-outs, and between them.

    Args:
        along: the slats' direction.
        coffer: slats that are cut to shape end along all of its sides.
        holes: in the coffer.
        width: of a strip.
        reach: from the innermost reach of an end to the strip's edge.
        most: from centre to centre.
    """
    low, high, between = _ends(along, coffer, width / 2.0 + reach)
    if high - low < width:
        places = [(low + high) / 2.0]
    else:
        beside = [at for hole in holes for at in _beside(along, hole, width)]
        places = [low, high]
        for at in (*between, *beside):
            if low < at < high and all(abs(at - other) >= width for other in places):
                places.append(at)
        places = _filled(sorted(places), width, most)
    left = Line((0.0, 0.0), along.direction).left
    return tuple(Line(along.at(at), left) for at in places)


def _ends(along: Line, coffer: Coffer, inwards: float) -> tuple[float, float, list[float]]:
    """The first and the last place, and those in between where a corner juts into the coffer."""
    corners = [along.along(side.start) for side in coffer.sides]
    places: list[float] = []
    for side in coffer.sides:
        if side.line.lean_to(along) < QUARTER:
            continue
        at = (along.along(side.start), along.along(side.end))
        # The coffer lies to the right of its side: ahead of it where that is the slats' own direction.
        ahead = dot(along.direction, side.line.left) < 0.0
        places.append(max(at) + inwards if ahead else min(at) - inwards)
    if coffer.cut_to_shape or not places:
        return min(corners) + inwards, max(corners) - inwards, []
    return min(places), max(places), places


def _kept_clear(hole: CutOut) -> Ring:
    """What no strip may come into."""
    return ring_of(Polygon(hole.outline).buffer(FROM_CUT_OUT, join_style="mitre"))


def _beside(along: Line, hole: CutOut, width: float) -> tuple[float, float]:
    """Of what is kept clear, corners and all: a strip that touched one would be cut in two there."""
    low, high = extent(_kept_clear(hole), along)
    return low - width / 2.0, high + width / 2.0


def _filled(places: Sequence[float], width: float, most: float) -> list[float]:
    """Places with more between them, evenly, so that no two are farther apart than the most."""
    filled = list(places[:1])
    for one, other in pairwise(places):
        steps = math.ceil((other - one - ARITHMETIC) / most)
        steps = max(1, min(steps, math.floor((other - one) / width)))
        filled += [one + (other - one) * k / steps for k in range(1, steps + 1)]
    return filled


def under_joist(joist: Line, width: float, ring: Ring, holes: Sequence[CutOut]) -> Line | None:
    """Middle line of a strip under a joist, moved aside as far as it must to lie in the coffer; None where it cannot.

    The joist's centre line stays inside the strip, so far from its edge that screws hold.
    """
    joist = near(joist, ring)
    most = width / 2.0 - BEARER_EDGE
    clear = width / 2.0 + BESIDE
    corners = [joist.offset(point) for point in ring]
    moves = {0.0, *(at + by for at in corners for by in (clear, -clear) if abs(at + by) <= most)}
    found = [(move, _free(joist.shifted(move), width, ring, holes)) for move in moves]
    longest = max(length for _, length in found)
    if longest <= 0.0:
        return None
    # What a move gains in length must be worth it: the joist's middle is the best place.
    good = [move for move, length in found if length >= longest - width]
    return joist.shifted(min(good, key=lambda move: (abs(move), move)))


def _free(line: Line, width: float, ring: Ring, holes: Sequence[CutOut]) -> float:
    return math.fsum(span.length for span in free_spans(line, width + 2.0 * BESIDE, ring, holes))


def from_corner(lines: Iterable[Line], across: Line, corner: Point) -> tuple[Line, ...]:
    """Parallel lines in order, the one nearer to a corner of the room first; `across` runs over them all."""
    ordered = sorted(lines, key=lambda line: across.along(line.point))
    if not ordered:
        return ()
    middle = (across.along(ordered[0].point) + across.along(ordered[-1].point)) / 2.0
    return tuple(ordered if across.along(corner) <= middle else ordered[::-1])
