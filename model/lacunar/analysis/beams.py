"""How beams stand in their openings, and how high beside the trim of the coffers along them.

Both long sides of a beam that goes up are measured from end to end against what the ends come up to.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from lacunar.analysis.overlap import plan_depth
from lacunar.analysis.shapes import Floats, first_hit, index_pairs, near_pairs, ring_edges
from lacunar.analysis.subject import NEW_BEAMS, Subject, trim_along
from lacunar.geometry import Line, Point
from lacunar.layout import Coffer, Side
from lacunar.parts import Part
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
        shows: how far it hangs below the trim beside it, at the worst place; None where no trim lies beside it.
        hidden: how far trim, or what slats lie against, reaches down past its top; None where no coffer lies beside it.
    """

    part: str
    sides: tuple[SideFit, ...]
    depths: tuple[float, float]
    shows: float | None
    hidden: float | None

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


@dataclass(frozen=True, slots=True, kw_only=True)
class Blocked:
    """A beam that cannot be lifted into its place, and what lies below that, by their ids."""

    part: str
    under: str


def beam_fits(subject: Subject) -> tuple[BeamFit, ...]:
    """Every beam and piece in order."""
    hanging, room = subject.hanging, ring_edges([subject.room.points])
    found: list[BeamFit] = []
    for part in hanging:
        if part.kind == "moulding":
            continue
        sides: list[SideFit] = []
        if part.kind in NEW_BEAMS:
            others = ring_edges([other.outline for other in hanging if other.id != part.id])
            sides = [_fit(part, side, np.concatenate((room, others))) for side in ("left", "right")]
        found.append(_beam_fit(subject, part, sides))
    return tuple(found)


def _beam_fit(subject: Subject, part: Part, sides: Sequence[SideFit]) -> BeamFit:
    heights = [part.top.at(point) - part.bottom.at(point) for point in part.outline]
    shows: list[float] = []
    hidden: list[float] = []
    for coffer, side, trim in _beside(subject, part):
        under = trim.bottom if trim is not None else subject.layout.backing(coffer)
        for point in (side.start, side.end):
            hidden.append(part.top.at(point) - under.at(point))
            if trim is not None:
                shows.append(trim.bottom.at(point) - part.bottom.at(point))
    return BeamFit(
        part=part.id,
        sides=tuple(sides),
        depths=(min(heights), max(heights)),
        shows=min(shows, default=None),
        hidden=min(hidden, default=None),
    )


def _beside(subject: Subject, part: Part) -> Iterator[tuple[Coffer, Side, Part | None]]:
    """Sides of coffers that lie on a beam, each with its trim."""
    for coffer in subject.layout.coffers:
        for index, side in enumerate(coffer.sides):
            if side.against == part.id:
                yield coffer, side, trim_along(subject, coffer, index)


def sunk_beams(subject: Subject) -> int:
    """How many beams slats and trim hide."""
    return sum(_beam_fit(subject, part, ()).is_sunk for part in subject.hanging if part.kind != "moulding")


def blocked_beams(subject: Subject) -> tuple[Blocked, ...]:
    """Beams that something below keeps from being lifted into place."""
    hanging = subject.hanging
    polygons = [subject.polygon(part.id) for part in hanging]
    found: list[Blocked] = []
    for a, b in index_pairs(*near_pairs(polygons)):
        for part, under in ((hanging[a], hanging[b]), (hanging[b], hanging[a])):
            if part.kind in NEW_BEAMS and _is_under(under, part) and plan_depth(polygons[a], polygons[b]) > CONTACT:
                found.append(Blocked(part=part.id, under=under.id))
    return tuple(found)


def _is_under(one: Part, other: Part) -> bool:
    return max(one.top.at(p) for p in one.outline) <= min(other.bottom.at(p) for p in other.outline) + CONTACT


def _fit(part: Part, side: str, edges: Floats) -> SideFit:
    axis = Line.through(*part.axis)
    start, end = side_corners(part, side)
    middle = (start + end) / 2.0
    offset = axis.offset(_corner(part, side))
    # A hair inside the side, or a wall that it stands along would stop the ray.
    inside = axis.at(middle, offset - math.copysign(CONTACT, offset))
    ahead = first_hit(inside, axis.direction, edges)
    back = first_hit(inside, (-axis.direction[0], -axis.direction[1]), edges)
    return SideFit(side=side, length=end - start, gaps=(back - (middle - start), ahead - (end - middle)))


def side_corners(part: Part, side: str) -> tuple[float, float]:
    """From where to where one long side runs, along the axis."""
    axis = Line.through(*part.axis)
    edge = axis.offset(_corner(part, side))
    along = [axis.along(point) for point in part.outline if abs(axis.offset(point) - edge) <= CONTACT]
    return min(along), max(along)


def _corner(part: Part, side: str) -> Point:
    axis = Line.through(*part.axis)
    pick = max if side == "left" else min
    return pick(part.outline, key=axis.offset)
