"""Mitred strips laid alternately turned, so that two share a cut.

A strip with a rectangular section may be rolled over: whichever face is up, it is the same strip. So each can be
laid with its slanted end along the slanted end of the one before, and takes of the board its middle length and one
slanted kerf instead of its long side. Ends at another angle than the usual one leave a wedge.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from lacunar.parts import Part
from lacunar.plan.saw import Saw
from lacunar.plan.sticks import Stick


@dataclass(frozen=True, slots=True, kw_only=True)
class Nest:
    """How strips share cuts.

    Attributes:
        width: of the strips, mm.
        slope: tangent of the steepest cut.
    """

    width: float
    slope: float

    @property
    def kerf_factor(self) -> float:
        """A slanted kerf takes so much more of the board than a square one."""
        return math.hypot(1.0, self.slope)

    @property
    def end(self) -> float:
        """Taken at each end of a board besides its waste: half of the slant of a usual mitre."""
        return self.width / 2.0

    def saved(self, part: Part) -> tuple[float, float]:
        """By how much less than its long points a strip takes at each end, mm; less than 0 beside a wedge."""
        first, second = (self._saved_at(abs(math.tan(math.radians(end.mitre_deg)))) for end in part.ends)
        return first, second

    def ticks(self, stick: Stick, saw: Saw) -> int:
        """What a strip takes of a board where it shares its cuts, the kerf aside."""
        return saw.up(saw.mm(stick.span.lo) - sum(self.saved(stick.part)))

    def _saved_at(self, slope: float) -> float:
        return self.width / 2.0 * (slope - abs(slope - 1.0))


def make_nest(sticks: Sequence[Stick], saw: Saw) -> Nest | None:
    """Where all parts of a stock are mitred strips with a rectangular section; else None."""
    parts = [stick.part for stick in sticks]
    may_nest = saw.trim.is_mitred and saw.trim.profile == "square"
    if not parts or not may_nest or any(part.kind != "trim" or part.ripped for part in parts):
        return None
    slopes = [abs(math.tan(math.radians(end.mitre_deg))) for part in parts for end in part.ends]
    return Nest(width=max(part.width for part in parts), slope=max(1.0, *slopes))


def slants(part: Part, before: float | None) -> tuple[float, float]:
    """Angles of both cuts away from square as the strip lies, degrees, positive where the far edge lies further right.

    Args:
        part: mitred; its long side is laid to the far edge or to the near one.
        before: the angle of the cut before, degrees; None at the board's end.
    """
    first, second = part.ends[0].mitre_deg, part.ends[1].mitre_deg
    far = (-first, second)
    if before is None or first * before == 0.0 or -first * before > 0.0:
        return far
    return first, -second
