"""What a printed page is made of: a short list of things at places, in mm from the top left corner, y down."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

Spot = tuple[float, float]
Anchor = Literal["left", "centre", "right"]

BLACK = "#000000"
GREY = "#6b6b6b"
PALE = "#e4e4e4"
WHITE = "#ffffff"

LETTER = (215.9, 279.4)
"""mm. Source: ANSI/ASME Y14.1, size A: 8 1/2 x 11 in."""
A4 = (210.0, 297.0)
"""mm. Source: ISO 216."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A line through points, or an area.

    Attributes:
        points: in order.
        closed: the last point joins the first.
        width: of the pen, mm; 0 draws no line.
        colour: of the pen, "#rrggbb".
        fill: of a closed one's inside; "" for none.
        dashed: pen up and down.
    """

    points: tuple[Spot, ...]
    closed: bool = False
    width: float = 0.25
    colour: str = BLACK
    fill: str = ""
    dashed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Disc:
    """A filled circle with an outline."""

    centre: Spot
    radius: float
    width: float = 0.25
    colour: str = BLACK
    fill: str = WHITE


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """A line of text, its capitals centred on a height; or, with a measure, lines that wrap down from there.

    Attributes:
        at: the anchor.
        size: in points.
        measure: width to wrap at, mm; None for one line.
        turn: radians, counter-clockwise on the page.
    """

    at: Spot
    text: str
    size: float = 9.0
    anchor: Anchor = "left"
    bold: bool = False
    colour: str = BLACK
    measure: float | None = None
    turn: float = 0.0


Thing = Stroke | Disc | Label


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One sheet of paper; things are drawn in order, later ones on top."""

    size: Spot
    things: tuple[Thing, ...]


def rectangle(at: Spot, size: Spot, *, width: float = 0.25, colour: str = BLACK, fill: str = "") -> Stroke:
    """An upright rectangle from its top left corner."""
    (x, y), (w, h) = at, size
    corners = ((x, y), (x + w, y), (x + w, y + h), (x, y + h))
    return Stroke(points=corners, closed=True, width=width, colour=colour, fill=fill)


def moved(thing: Thing, by: Spot) -> Thing:
    """The same thing elsewhere: `by` is right and down, mm."""
    dx, dy = by
    if isinstance(thing, Stroke):
        return replace(thing, points=tuple((x + dx, y + dy) for x, y in thing.points))
    if isinstance(thing, Disc):
        return replace(thing, centre=(thing.centre[0] + dx, thing.centre[1] + dy))
    return replace(thing, at=(thing.at[0] + dx, thing.at[1] + dy))


def texts(pages: Sequence[Page]) -> Iterator[str]:
    """Every text of the pages, in order of drawing."""
    for page in pages:
        for thing in page.things:
            if isinstance(thing, Label):
                yield thing.text
