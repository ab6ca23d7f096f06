"""Where a text is, which way it runs, and a bare patch under it."""

import math
from collections.abc import Iterator
from typing import Final

from lacunar.drawings.drawing import WHITE, Outline, Spot, Text, Thing
from lacunar.drawings.lettering import text_width
from lacunar.drawings.running import height_of

MOST_DOWN: Final = math.radians(80.0)
"""Letters run down the page no more steeply than this, so those of upright slats run up."""


def turn_along(start: Spot, end: Spot) -> float:
    """Of a text along a line of the page, so that it is read from below or from the right, radians."""
    turn = math.atan2(start[1] - end[1], end[0] - start[0])
    return (turn + MOST_DOWN) % math.pi - MOST_DOWN


def plated(text: Text) -> Iterator[Thing]:
    """A text in the middle of a bare patch, so that lines under it do not run through its letters."""
    yield Outline(points=plate(text), width=0.0, fill=WHITE, layer=text.layer)
    yield text


def plate(text: Text) -> tuple[Spot, ...]:
    """The patch under a text that is centred on its place."""
    half, tall = text_width(text.text, text.size, bold=text.bold) / 2.0, height_of(text.size) * 0.4
    c, s = math.cos(text.turn), math.sin(text.turn)
    (x, y), corners = text.at, ((-half, -tall), (half, -tall), (half, tall), (-half, tall))
    return tuple((x + c * u + s * v, y - s * u + c * v) for u, v in corners)


def text_box(text: Text) -> tuple[Spot, ...]:
    """Round one line of text, wherever its anchor is and however it is turned."""
    shift = {"left": 0.5, "centre": 0.0, "right": -0.5}[text.anchor] * text_width(text.text, text.size, bold=text.bold)
    (x, y), c, s = text.at, math.cos(text.turn), math.sin(text.turn)
    return plate(
        Text(at=(x + c * shift, y - s * shift), text=text.text, size=text.size, bold=text.bold, turn=text.turn)
    )
