"""A dimension with extension lines and arrows, for drawings that have room round what they show."""

from lacunar.drawings.drawing import Outline, Spot, Stroke, Thing
from lacunar.drawings.spots import stepped

FAINT = "#787068"
"""Of lines from what is measured to its dimension."""


def arrowed(
    ends: tuple[Spot, Spot],
    line: tuple[Spot, Spot],
    size: float,
    pen: tuple[float, str],
    gap: Spot | None,
) -> list[Thing]:
    """Lines from two ends to a dimension beside them, level or upright, with arrows; outside where it is short.

    Args:
        ends: what is measured, in the order of the line.
        line: from its left or upper end on.
        size: of the text, which arrows go with.
        pen: width and colour.
        gap: from where to where along a level line its number stands on it; None for beside it.
    """
    (a, b), (width, colour) = line, pen
    level = a[1] == b[1]
    ahead = (1.0, 0.0) if level else (0.0, 1.0)
    back = (-ahead[0], -ahead[1])
    long = max(b[0] - a[0], b[1] - a[1]) > 1.6 * size
    if not long:
        parts = [(stepped(a, back, 0.8 * size), a), (b, stepped(b, ahead, 0.8 * size))]
    elif gap is not None:
        parts = [(a, (gap[0], a[1])), ((gap[1], b[1]), b)]
    else:
        parts = [(a, b)]
    return [
        *(Stroke(points=pair, width=width, colour=FAINT, layer="measures") for pair in zip(ends, line, strict=True)),
        *(Stroke(points=pair, width=width, colour=colour, layer="measures") for pair in parts),
        _head(a, ahead if long else back, 0.42 * size, colour),
        _head(b, back if long else ahead, 0.42 * size, colour),
    ]


def _head(tip: Spot, away: Spot, size: float, colour: str) -> Outline:
    (x, y), (ax, ay) = tip, away
    aside = (-0.3 * ay, 0.3 * ax)
    wings = [(x + size * (ax + s * aside[0]), y + size * (ay + s * aside[1])) for s in (1.0, -1.0)]
    return Outline(points=(tip, *wings), width=0.0, fill=colour, layer="measures")
