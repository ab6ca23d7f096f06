"""How ends and faces of a part are called, the same in every product: by what they look at."""

import math
import re

from lacunar.geometry import Line, end_mitres
from lacunar.parts.part import Hand, Part, Pocket


def end_name(part: Part, end: int) -> str:
    """Of end 0 or 1: "end at E2"."""
    return f"end at {part.meets[end]}"


def face_name(part: Part, hand: Hand) -> str:
    """Of a long side: "AB face"."""
    return f"{beside(part, hand)} face"


def beside(part: Part, hand: Hand) -> str:
    """What a long side looks at."""
    return part.beside[0 if hand == "left" else 1]


def pocket_name(part: Part, pocket: Pocket) -> str:
    """By the face with its mouth, and the end that the screw leaves."""
    return f"{pocket.level} pocket on the {face_name(part, pocket.side)}, {end_name(part, pocket.end)}"


def longer_face(part: Part, end: int) -> Hand:
    """The face that reaches further at an end that is not square."""
    angle = part.ends[end].mitre_deg
    if part.kind == "trim":
        # A mitre is positive where the strip's outer face is the longer, whichever hand that is.
        angle = end_mitres(part.outline, Line.through(*part.axis))[end]
    return "left" if (angle > 0.0) == (end == 1) else "right"


def sawn_to(part: Part) -> tuple[str, ...]:
    """What the edges look at that are ripped; the others are factory edges."""
    return tuple(name for name, sawn in zip(part.beside, part.sawn_edges, strict=True) if sawn)


def reach_past(part: Part, angle_deg: float) -> float:
    """How much further one face reaches at an end that is cut at an angle, mm."""
    return max(part.width, part.width_end or 0.0) * math.tan(math.radians(abs(angle_deg)))


def natural(name: str) -> tuple[tuple[int, str], ...]:
    """A key that puts C2 before C10."""
    pieces = re.findall(r"\d+|\D+", name)
    return tuple((int(piece), "") if piece.isdigit() else (-1, piece) for piece in pieces)
