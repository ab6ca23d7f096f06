"""Trim along every side of a coffer: rules 9 and 10."""

from lacunar.geometry import Line, Point, Ring, counter_clockwise, end_mitres, extent
from lacunar.layout.bars import nearer_first
from lacunar.layout.member import mitred
from lacunar.layout.polygons import inset
from lacunar.layout.types import Coffer, CofferStrip


def lay_trim(coffer: Coffer, width: float, corners: str, corner: Point) -> tuple[CofferStrip, ...]:
    """One strip a side, corner to corner.

    Args:
        coffer: its strips lie along its own plane.
        width: of the strip in the plan.
        corners: "mitre"; or "butt": T1 and T3 run through, the others fit between.
        corner: the room's corner A; a strip's first end is the one nearer to it.
    """
    outer = tuple(side.start for side in coffer.sides)
    inner = tuple(reversed(inset(tuple(reversed(outer)), width)))
    return tuple(_strip(coffer, i, outer, inner, width, corners, corner) for i in range(len(outer)))


def _strip(coffer: Coffer, i: int, outer: Ring, inner: Ring, width: float, corners: str, corner: Point) -> CofferStrip:
    n = len(outer)
    quad = counter_clockwise(_mitred(i, outer, inner, n) if corners == "mitre" else _butted(i, outer, inner, n))
    start, end = nearer_first((outer[i], outer[(i + 1) % n]), corner)
    axis = Line.through(start, end)
    low, high = extent(quad, axis)
    mitres = (_half(outer, i, n), _half(outer, (i + 1) % n, n)) if corners == "mitre" else end_mitres(quad, axis)
    if corners == "mitre" and start != outer[i]:
        mitres = (mitres[1], mitres[0])
    return CofferStrip(
        kind="trim",
        id=f"{coffer.id}-T{i + 1}",
        coffer=coffer.id,
        number=i + 1,
        outline=quad,
        axis=(axis.at(low), axis.at(high)),
        length=(high - low) * coffer.ceiling.stretch(axis.direction),
        width=width,
        ends=mitred(mitres),
    )


def _half(outer: Ring, i: int, n: int) -> float:
    """Rule 9: (180 - interior corner) / 2, in radians; negative at a corner that juts into the coffer."""
    before, after = Line.through(outer[i - 1], outer[i]), Line.through(outer[i], outer[(i + 1) % n])
    return -before.angle_to(after) / 2.0


def _mitred(i: int, outer: Ring, inner: Ring, n: int) -> Ring:
    j = (i + 1) % n
    return (outer[i], outer[j], inner[j], inner[i])


def _butted(i: int, outer: Ring, inner: Ring, n: int) -> Ring:
    """T1, T3, ... run from side to side, the others stand between their inner faces.

    Where the number of sides is odd the last strip meets T1's face, and a mitre joins it to the one before.
    """
    j = (i + 1) % n
    side, face = Line.through(outer[i], outer[j]), Line.through(inner[i], inner[j])
    start, end = _butt_line(i, (i - 1) % n, outer, inner, n), _butt_line(i, j, outer, inner, n)
    return (
        outer[i] if start is None else side.crossing(start),
        outer[j] if end is None else side.crossing(end),
        inner[j] if end is None else face.crossing(end),
        inner[i] if start is None else face.crossing(start),
    )


def _butt_line(i: int, neighbour: int, outer: Ring, inner: Ring, n: int) -> Line | None:
    """The line that a strip ends on beside a neighbour; None where the two are mitred."""
    mine, theirs = _runs_through(i, n), _runs_through(neighbour, n)
    if not mine and not theirs:
        return None
    ring = outer if mine else inner
    return Line.through(ring[neighbour], ring[(neighbour + 1) % n])


def _runs_through(i: int, n: int) -> bool:
    return i % 2 == 0 and not (n % 2 == 1 and i == n - 1)
