"""A beam piece by the lengths of its two faces: where they differ otherwise than drawn, its ends turn."""

import math
from collections.abc import Container
from dataclasses import replace

from lacunar.geometry import Line, extent, moved
from lacunar.layout import End, Member, Size, of_base
from lacunar.parts.part import Hand, Part

HANDS: tuple[Hand, Hand] = ("left", "right")


def face_reach(bar: Member, hand: Hand) -> tuple[float, float, float]:
    """Of a face: from where to where along the axis it reaches, and how far left of the axis it lies, plan mm."""
    axis = Line.through(*bar.axis)
    offsets = [axis.offset(p) for p in bar.outline]
    side = max(offsets) if hand == "left" else min(offsets)
    low, high = extent([p for p, o in zip(bar.outline, offsets, strict=True) if abs(o - side) < 0.01], axis)
    return low, high, side


def face_lengths(part: Part) -> tuple[float, float]:
    """True lengths of a piece as drawn along its left and its right face."""
    stretch = part.bottom.stretch(Line.through(*part.axis).direction)
    left, right = ((high - low) * stretch for low, high, _ in (face_reach(part, hand) for hand in HANDS))
    return left, right


def faced(part: Part, faces: tuple[float, float], bars: Container[str]) -> Size:
    """A piece cut to the true lengths of its left and its right face, its ends at the angles that make them.

    Lengths alone do not tell which end stands otherwise than drawn. A beam is straight and its ends were measured; a
    wall bellies between its corners: so the end at a wall takes all of it where the other is at a beam, else each
    takes half, which leaves the smaller gap wherever it belongs.

    Args:
        part: as drawn.
        faces: left and right.
        bars: ids of what is no wall.
    """
    axis = Line.through(*part.axis)
    (*_, side), (*_, other) = (face_reach(part, hand) for hand in HANDS)
    stretch = part.bottom.stretch(axis.direction)
    more = [(mm - drawn) / stretch for mm, drawn in zip(faces, face_lengths(part), strict=True)]
    lean = (more[0] - more[1]) / (side - other)
    walls = [name not in bars for name in part.meets]
    shares = (0.5, 0.5) if walls[0] == walls[1] else (float(walls[0]), float(walls[1]))
    slopes = (-shares[0] * lean, shares[1] * lean)
    tangents = [math.tan(math.radians(end.mitre_deg)) for end in part.ends]
    first, second = (
        replace(end, mitre_deg=math.degrees(math.atan(tangent + slope)))
        for end, tangent, slope in zip(part.ends, tangents, slopes, strict=True)
    )
    new = turned(part, (first, second))
    return replace(Size(**of_base(new, Size)), length=new.length + (more[0] - lean * side) * stretch)


def turned(part: Part, ends: tuple[End, End]) -> Part:
    """With its ends cut at other angles, each turned about the end of the axis."""
    axis = Line.through(*part.axis)
    slopes = [
        math.tan(math.radians(new.mitre_deg)) - math.tan(math.radians(old.mitre_deg))
        for old, new in zip(part.ends, ends, strict=True)
    ]
    half = axis.along(part.axis[1]) / 2.0
    outline = tuple(
        moved(p, axis.direction, slopes[0 if axis.along(p) < half else 1] * axis.offset(p)) for p in part.outline
    )
    before, after = ((high - low) for low, high in (extent(ring, axis) for ring in (part.outline, outline)))
    length = part.length + (after - before) * part.bottom.stretch(axis.direction)
    return replace(part, outline=outline, ends=ends, length=length)
