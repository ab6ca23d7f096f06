"""Where pockets are drilled: what is read off a tape and set on a bit."""

import math
from dataclasses import dataclass

from lacunar.geometry import Line
from lacunar.parts.faces import face_reach
from lacunar.parts.part import Part, Pocket


@dataclass(frozen=True, slots=True, kw_only=True)
class PocketPlace:
    """One pocket, mm.

    Attributes:
        from_end: along the face that it opens in, from the end to the middle of its mouth.
        from_edge: from the piece's top down to the middle of its mouth; of a low one from the bottom up.
        from_face: where the screw leaves the end, from that face.
        depth: along the hole, from the middle of its mouth to the shoulder that the screw's head pulls against.
    """

    pocket: Pocket
    from_end: float
    from_edge: float
    from_face: float
    depth: float


def pocket_places(part: Part) -> tuple[PocketPlace, ...]:
    """Every pocket of a piece, in order."""
    return tuple(_place(part, pocket) for pocket in part.pockets)


def _place(part: Part, pocket: Pocket) -> PocketPlace:
    axis = Line.through(*part.axis)
    x, y, z = pocket.mouth
    low, high, _ = face_reach(part, pocket.side)
    along = axis.along((x, y))
    edge = part.top if pocket.level == "high" else part.bottom
    inward = abs(pocket.direction[0] * pocket.normal[0] + pocket.direction[1] * pocket.normal[1])
    return PocketPlace(
        pocket=pocket,
        from_end=along - low if pocket.end == 0 else high - along,
        from_edge=abs(edge.at((x, y)) - z),
        from_face=(pocket.bore_length + pocket.pilot_length) * inward / math.hypot(*pocket.direction),
        depth=pocket.bore_length,
    )
