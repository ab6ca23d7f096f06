"""What stays open above the slats or the furring of each coffer, and how the planes of neighbouring coffers differ."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from lacunar.geometry import Line, Plane, Point, area, centroid, extent
from lacunar.layout.faces import surface_over
from lacunar.layout.types import Bar, Coffer, Layout
from lacunar.survey import Room, ceiling_height
from lacunar.tolerances import ARITHMETIC


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenGap:
    """Between the old ceiling and a coffer's own plane, plumb.

    Attributes:
        coffer: id.
        mean: over the coffer's area.
        largest: anywhere.
        at: where it is largest; the coffer's middle where there is no gap.
        shim: largest at the nails of slats, or the screws of furring, that lie in the plane.
    """

    coffer: str = field(default="", metadata={"exclude": True})
    mean: float
    largest: float
    at: Point
    shim: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaneStep:
    """Two coffers on both sides of one bar, and how much their planes differ under its centre line.

    Attributes:
        bar: id.
        higher: coffer whose slats and trim hang higher where the difference is largest; either where there is none.
        lower: the other.
        size: mm, plumb; 0 or more.
    """

    bar: str
    higher: str
    lower: str
    size: float


def gap_at(room: Room, plane: Plane, points: Iterable[Point]) -> float:
    """The largest gap between the old ceiling and a plane at some points; exactly 0 where it lies against it."""
    largest = max((ceiling_height(room, point) - plane.at(point) for point in points), default=0.0)
    return largest if largest > ARITHMETIC else 0.0


def ceiling_gaps(room: Room, layout: Layout) -> tuple[OpenGap, ...]:
    """One for each coffer, in their order."""
    nails: dict[str, list[Point]] = {coffer.id: [] for coffer in layout.coffers}
    for one in layout.slats if layout.furring is None else layout.furring.strips:
        nails[one.coffer] += one.nails
    return tuple(_gap(room, coffer, nails[coffer.id]) for coffer in layout.coffers)


def _gap(room: Room, coffer: Coffer, nails: Iterable[Point]) -> OpenGap:
    """Exact: over a flat piece a gap is largest at a corner, and its mean is the gap over the piece's middle."""
    pieces = surface_over(room, coffer.outline)
    plane = coffer.ceiling
    largest, at = max((face.at(point) - plane.at(point), point) for ring, face in pieces for point in ring)
    if largest <= ARITHMETIC:
        return OpenGap(coffer=coffer.id, mean=0.0, largest=0.0, at=centroid(coffer.outline), shim=0.0)
    sizes = [area(ring) for ring, _ in pieces]
    middles = [(face, centroid(ring)) for ring, face in pieces]
    total = math.fsum(
        size * (face.at(middle) - plane.at(middle)) for size, (face, middle) in zip(sizes, middles, strict=True)
    )
    return OpenGap(
        coffer=coffer.id, mean=total / math.fsum(sizes), largest=largest, at=at, shim=gap_at(room, plane, nails)
    )


def ceiling_steps(layout: Layout) -> tuple[PlaneStep, ...]:
    """One for each pair of coffers that face each other across a bar, bar by bar."""
    bars = (*layout.beams, *layout.pieces)
    return tuple(step for bar in bars for step in _across(bar, layout.coffers))


def _across(bar: Bar, coffers: Iterable[Coffer]) -> Iterator[PlaneStep]:
    """Of the coffers on its left with those on its right, where both lie along it."""
    axis = Line.through(*bar.axis)
    sides = [(coffer, side) for coffer in coffers for side in coffer.sides if side.against == bar.id]
    beside = [(coffer, *extent((side.start, side.end), axis), axis.offset(side.middle) > 0.0) for coffer, side in sides]
    for one, a, b, on_left in beside:
        for other, c, d, also_left in beside:
            low, high = max(a, c), min(b, d)
            if on_left and not also_left and high - low > ARITHMETIC:
                yield _step(bar, one, other, (axis.at(low), axis.at(high)))


def _step(bar: Bar, one: Coffer, other: Coffer, ends: Iterable[Point]) -> PlaneStep:
    """Both planes are straight along the bar, so they differ most at an end of what both lie along."""
    off = max((one.ceiling.at(point) - other.ceiling.at(point) for point in ends), key=abs)
    higher, lower = (one, other) if off >= 0.0 else (other, one)
    return PlaneStep(bar=bar.id, higher=higher.id, lower=lower.id, size=abs(off))
