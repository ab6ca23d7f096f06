"""A beam piece as it lies on the bench, its top up: its ends and faces by what they will look at, its pockets."""

from collections.abc import Iterator, Sequence
from typing import Final

from lacunar.drawings.cut_words import mitre_settings
from lacunar.drawings.drawing import BLACK, PALE, WHITE, Anchor, Outline, Spot, Text, Thing
from lacunar.drawings.lettering import cut_short, folded, text_width, unbroken
from lacunar.drawings.running import height_of
from lacunar.parts import HANDS, Part, face_name, longer_face
from lacunar.plan import Setting

SIDE: Final = 24.0
"""mm. Beside the piece, for what its ends come up to."""
THICK: Final = 13.0
"""mm. Of the drawn piece."""
LEAN: Final = 2.5
"""mm. By which the longer face is drawn longer, however little it is."""
MOUTH: Final = 3.2
"""mm. Of a pocket's mark."""


def piece_card(
    part: Part, settings: Sequence[Setting], title: str, lines: Sequence[str], width: float, size: float
) -> tuple[list[Thing], float]:
    """The drawing from (0, 0), not to scale, and how far down it reaches.

    Args:
        part: as cut.
        settings: that it is cut at: an end that is cut square is drawn so, however little it leans.
        title: what it is and how long.
        lines: what is told under it; they are folded.
        width: of the card, mm.
        size: of all letters, points.
    """
    pitch = 1.3 * height_of(size)
    top, left, right = 2.4 * pitch, SIDE, width - SIDE
    low = top + THICK
    things: list[Thing] = [Text(at=(0.0, pitch / 2.0), text=title, size=size, bold=True, layer="wood")]
    things.append(Outline(points=_ring(part, settings, left, right, top), width=0.5, fill=PALE, layer="wood"))
    things.append(
        Text(at=(width / 2.0, top + THICK / 2.0), text=f"{part.id}  TOP", size=size, anchor="centre", bold=True)
    )
    above, below = top - 0.6 * pitch, low + 0.6 * pitch
    for hand, y in zip(HANDS, (above, below), strict=True):
        face = cut_short(face_name(part, hand), right - left, lambda text: text_width(text, size))
        things.append(Text(at=(width / 2.0, y), text=face, size=size, anchor="centre", layer="measures"))
    ends: tuple[tuple[int, float, Anchor], ...] = ((0, left - LEAN - 1.5, "right"), (1, right + LEAN + 1.5, "left"))
    for end, x, anchor in ends:
        name = cut_short(part.meets[end], SIDE - LEAN - 2.0, lambda text: text_width(text, size, bold=True))
        things.append(Text(at=(x, top + THICK / 2.0), text=name, size=size, anchor=anchor, bold=True, layer="room"))
    things += _pockets(part, (left, right), (top, low))
    y = low + 1.7 * pitch
    for line in lines:
        for text in folded(unbroken(line), width, size):
            things.append(Text(at=(0.0, y), text=text, size=size))
            y += pitch
    return things, y


def _ring(part: Part, settings: Sequence[Setting], left: float, right: float, top: float) -> tuple[Spot, ...]:
    """Upper left, upper right, lower right, lower left: the left face is above."""
    ends = [0.0 if cut is None else LEAN for cut in mitre_settings(part, settings)]
    longer = [longer_face(part, end) for end in (0, 1)]
    out = [{hand: ends[end] if longer[end] == hand else 0.0 for hand in ("left", "right")} for end in (0, 1)]
    return (
        (left - out[0]["left"], top),
        (right + out[1]["left"], top),
        (right + out[1]["right"], top + THICK),
        (left - out[0]["right"], top + THICK),
    )


def _pockets(part: Part, across: Spot, faces: Spot) -> Iterator[Thing]:
    """Mouths on the faces that they open in: filled the high ones, open the low ones."""
    for pocket in part.pockets:
        beside = 1.0 if pocket.end == 0 else -1.0
        x = across[pocket.end] + beside * (7.0 if pocket.level == "high" else 14.0)
        y, inward = (faces[0], 1.0) if pocket.side == "left" else (faces[1], -1.0)
        tip = (x - beside * MOUTH, y + inward * MOUTH)
        mouth = ((x - MOUTH / 2.0, y), (x + MOUTH / 2.0, y))
        fill = BLACK if pocket.level == "high" else WHITE
        yield Outline(points=(*mouth, tip), width=0.4, fill=fill, layer="measures")
