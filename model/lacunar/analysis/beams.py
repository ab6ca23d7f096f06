"""How beams stand in their openings, and how high beside the trim of the coffers along them.

Both long sides of a beam that goes up are measured from end to end against what the ends come up to.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from lacunar.analysis.overlap import plan_depth
from lacunar.analysis.shapes import Floats, first_hit, ring_edges
from lacunar.analysis.subject import NEW_BEAMS, Subject, trim_along
from lacunar.geometry import Line, middle
from lacunar.layout import Bar
from lacunar.parts import Part
from lacunar.survey import Room, ceiling_height
from lacunar.tolerances import CONTACT


@dataclass(frozen=True, slots=True, kw_only=True)
class SideFit:
    """One long side of a beam in its opening, in the plan.

    Attributes:
        side: "left" or "right" of the axis.
        length: of the side, corner to corner.
        gaps: from each corner to what stands before it along the side; negative where it is too long.
    """

    side: str
    length: float
    gaps: tuple[float, float]

    @property
    def play(self) -> float:
        """Both gaps together: how much shorter the side is than its opening."""
        return self.gaps[0] + self.gaps[1]

    @property
    def clear(self) -> float:
        """The opening along this side."""
        return self.length + self.play


@dataclass(frozen=True, slots=True, kw_only=True)
class BeamFit:
    """One beam or piece.

    Attributes:
        part: id.
        sides: left and right side of one that still goes up; none of one that hangs there already.
        depths: least and greatest height between its two planes, over its corners.
        stock_depth: of the section that it is bought in; None of one that hangs there already.
        above: from the top of that section, bottom in place, to the old ceiling: at one end, half way and at the other;
            negative where that much is scribed off; none of one that hangs there already.
        shows: how far it hangs below the trim beside it, at the worst place; None where no trim lies beside it.
        hidden: how far trim, or what slats lie against, reaches down past its top; None where no coffer lies beside it.
        under: ids of what hangs below the place of one that still goes up, and keeps it from being lifted in.
    """

    part: str
    sides: tuple[SideFit, ...]
    depths: tuple[float, float]
    stock_depth: float | None
    above: tuple[float, ...]
    shows: float | None
    hidden: float | None
    under: tuple[str, ...]

    @property
    def tighter(self) -> SideFit:
        """The side with less play."""
        return min(self.sides, key=lambda fit: fit.play)

    @property
    def looser(self) -> SideFit:
        """The side with more play."""
        return max(self.sides, key=lambda fit: fit.play)

    @property
    def longer_by(self) -> float:
        """How much longer its longer side is corner to corner, as one end goes up first, than its shorter opening."""
        longest, clear = max(fit.length for fit in self.sides), min(fit.clear for fit in self.sides)
        return math.hypot(longest, self.depths[1]) - clear

    @property
    def is_sunk(self) -> bool:
        """Its bottom is not below the trim beside it."""
        return self.shows is not None and self.shows <= CONTACT


def beam_fits(subject: Subject) -> tuple[BeamFit, ...]:
    """Every beam and piece in order."""
    hanging, room, layout = subject.hanging, ring_edges([subject.room.points]), subject.layout
    bought = {bar.id: bar for bar in (*layout.beams, *layout.half_beams, *layout.pieces) if bar.kind in NEW_BEAMS}
    found: list[BeamFit] = []
    for part in hanging:
        if part.kind == "moulding":
            continue
        sides: list[SideFit] = []
        if part.kind in NEW_BEAMS:
            others = ring_edges([other.outline for other in hanging if other.id != part.id])
            sides = [_fit(part, side, np.concatenate((room, others))) for side in ("left", "right")]
        under = [other.id for other in hanging if _is_under(subject, other, part)] if sides else []
        found.append(_beam_fit(subject, part, bought.get(part.id), sides, under))
    return tuple(found)


def _beam_fit(
    subject: Subject, part: Part, bar: Bar | None = None, sides: Sequence[SideFit] = (), under: Sequence[str] = ()
) -> BeamFit:
    heights = [part.top.at(point) - part.bottom.at(point) for point in part.outline]
    shows: list[float] = []
    hidden: list[float] = []
    for coffer in subject.layout.coffers:
        for index, side in enumerate(coffer.sides):
            if side.against != part.id:
                continue
            trim, ends = trim_along(subject, coffer, index), (side.start, side.end)
            above = trim.bottom if trim is not None else subject.layout.backing(coffer)
            hidden += [part.top.at(point) - above.at(point) for point in ends]
            shows += [above.at(point) - part.bottom.at(point) for point in ends if trim is not None]
    return BeamFit(
        part=part.id,
        sides=tuple(sides),
        depths=(min(heights), max(heights)),
        stock_depth=None if bar is None else bar.stock_depth,
        above=() if bar is None else _above(subject.room, bar),
        shows=min(shows, default=None),
        hidden=min(hidden, default=None),
        under=tuple(under),
    )


def _above(room: Room, bar: Bar) -> tuple[float, ...]:
    places = (bar.axis[0], middle(*bar.axis), bar.axis[1])
    return tuple(ceiling_height(room, point) - bar.bottom.at(point) - bar.stock_depth for point in places)


def sunk_beams(subject: Subject) -> int:
    """How many beams slats and trim hide."""
    return sum(_beam_fit(subject, part).is_sunk for part in subject.hanging if part.kind != "moulding")


def _is_under(subject: Subject, one: Part, other: Part) -> bool:
    lower = max(map(one.top.at, one.outline)) <= min(map(other.bottom.at, other.outline)) + CONTACT
    return lower and plan_depth(subject.polygon(one.id), subject.polygon(other.id)) > CONTACT


def _fit(part: Part, side: str, edges: Floats) -> SideFit:
    axis = Line.through(*part.axis)
    offset = (max if side == "left" else min)(map(axis.offset, part.outline))
    along = [axis.along(point) for point in part.outline if abs(axis.offset(point) - offset) <= CONTACT]
    start, end = min(along), max(along)
    half = (start + end) / 2.0
    # A hair inside the side, or a wall that it stands along would stop the ray.
    inside = axis.at(half, offset - math.copysign(CONTACT, offset))
    ahead = first_hit(inside, axis.direction, edges)
    back = first_hit(inside, (-axis.direction[0], -axis.direction[1]), edges)
    return SideFit(side=side, length=end - start, gaps=(back - (half - start), ahead - (end - half)))
