"""How beams stand in their openings: both long sides, from end to end, against what the ends come up to."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from lacunar.checks.shapes import Floats, first_hit, ring_edges
from lacunar.checks.subject import Subject
from lacunar.geometry import Line, Point
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

    part: Part
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


def side_fits(subject: Subject) -> tuple[SideFit, ...]:
    """Left and right side of every beam that still goes up, in order."""
    hanging = subject.hanging
    room = ring_edges([subject.room.points])
    found: list[SideFit] = []
    for part in subject.new_beams:
        others = ring_edges([other.outline for other in hanging if other.id != part.id])
        edges = np.concatenate((room, others))
        found += [_fit(part, side, edges) for side in ("left", "right")]
    return tuple(found)


def _fit(part: Part, side: str, edges: Floats) -> SideFit:
    axis = Line.through(*part.axis)
    start, end = side_corners(part, side)
    middle = (start + end) / 2.0
    offset = axis.offset(_corner(part, side))
    # A hair inside the side, or a wall that it stands along would stop the ray.
    inside = axis.at(middle, offset - math.copysign(CONTACT, offset))
    ahead = first_hit(inside, axis.direction, edges)
    back = first_hit(inside, (-axis.direction[0], -axis.direction[1]), edges)
    return SideFit(part=part, side=side, length=end - start, gaps=(back - (middle - start), ahead - (end - middle)))


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


def worst_of(fits: Sequence[SideFit], part: Part) -> SideFit:
    """The tighter side of a part."""
    return min((fit for fit in fits if fit.part.id == part.id), key=lambda fit: fit.play)
