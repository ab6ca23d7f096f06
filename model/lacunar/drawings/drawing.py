"""One neutral drawing: a few kinds of things at places, each on a named layer, in mm from the top left corner, y down.

SVG and PDF replay it. A hatch and a dimension are things of their own, for formats that have a way to draw them;
`simple` has the lines that they are made of.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from lacunar.config import PAPERS, Config

Spot = tuple[float, float]
Anchor = Literal["left", "centre", "right"]
Layer = Literal["sheet", "room", "wood", "waste", "measures", "boxes"]
"""Head, foot and notes; walls and what is in them; beams, pieces and their names; what is cut off; distances and what
is set, with their numbers; what is written by hand, with its names."""

BLACK = "#000000"
GREY = "#6b6b6b"
PALE = "#e4e4e4"
WHITE = "#ffffff"

LETTER, A4 = PAPERS["letter"], PAPERS["a4"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A line through points.

    Attributes:
        points: in order.
        width: of the pen, mm; 0 draws no line.
        colour: of the pen, "#rrggbb".
        dashed: pen up and down.
    """

    points: tuple[Spot, ...]
    width: float = 0.25
    colour: str = BLACK
    dashed: bool = False
    layer: Layer = "sheet"


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline(Stroke):
    """An area: the last point joins the first. `fill`: of its inside; "" for none."""

    fill: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hatch(Outline):
    """An upright rectangle under lines that rise to the right. `pitch`: from one to the next, mm along its foot."""

    pitch: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension(Stroke):
    """A distance from the first of two points to the other.

    Attributes:
        tick: half of what crosses each end, mm.
        label: its number, for formats in which a distance carries it; None where it stands apart, or is a badge's.
    """

    tick: float = 1.3
    label: "Text | None" = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Disc:
    """A filled circle with an outline."""

    at: Spot
    radius: float
    width: float = 0.25
    colour: str = BLACK
    fill: str = WHITE
    layer: Layer = "sheet"


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
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
    layer: Layer = "sheet"


Thing = Stroke | Disc | Text


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One sheet of paper; things are drawn in order, later ones on top.

    Attributes:
        scale: mm of paper per mm of what is drawn; 1 where nothing is to scale.
    """

    size: Spot
    things: tuple[Thing, ...]
    scale: float = 1.0


def rectangle(
    at: Spot, size: Spot, *, width: float = 0.25, colour: str = BLACK, fill: str = "", layer: Layer = "sheet"
) -> Outline:
    """An upright rectangle from its top left corner."""
    return Outline(points=corners(at, size), width=width, colour=colour, fill=fill, layer=layer)


def corners(at: Spot, size: Spot) -> tuple[Spot, Spot, Spot, Spot]:
    """Of an upright rectangle, clockwise from its top left one."""
    (x, y), (w, h) = at, size
    return (x, y), (x + w, y), (x + w, y + h), (x, y + h)


def moved(things: Iterable[Thing], by: Spot) -> Iterator[Thing]:
    """The same things elsewhere: `by` is right and down, mm."""
    dx, dy = by
    for thing in things:
        if isinstance(thing, Stroke):
            there = replace(thing, points=tuple((x + dx, y + dy) for x, y in thing.points))
            if isinstance(there, Dimension) and there.label is not None:
                (label,) = moved((there.label,), by)
                there = replace(there, label=label) if isinstance(label, Text) else there
            yield there
        else:
            yield replace(thing, at=(thing.at[0] + dx, thing.at[1] + dy))


def simple(things: Iterable[Thing]) -> Iterator[Thing]:
    """The same, hatches and dimensions as lines."""
    for thing in things:
        if isinstance(thing, Hatch):
            yield from _hatched(thing)
        elif isinstance(thing, Dimension):
            yield from _ticked(thing)
            yield from () if thing.label is None else (thing.label,)
        else:
            yield thing


def _hatched(hatch: Hatch) -> Iterator[Thing]:
    (left, top), _, (right, foot), _ = hatch.points
    tall = round(foot - top, 9)  # or what moving it down left in the last digit would draw a line of no length
    start = left - tall
    for i in range(int((right - start) / hatch.pitch) + 1):
        x = start + i * hatch.pitch
        a, b = max(x, left), min(x + tall, right)
        if a < b:
            yield Stroke(points=((a, foot - (a - x)), (b, foot - (b - x))), width=0.12, colour=hatch.colour)
    yield Outline(points=hatch.points, width=hatch.width)


def _ticked(line: Dimension) -> Iterator[Thing]:
    (ax, ay), (bx, by) = line.points
    length = math.dist(*line.points)
    if length == 0.0:
        return
    yield Stroke(points=line.points, width=line.width, colour=line.colour, dashed=line.dashed)
    nx, ny = -(by - ay) / length * line.tick, (bx - ax) / length * line.tick
    for x, y in line.points:
        yield Stroke(points=((x - nx, y - ny), (x + nx, y + ny)), width=0.4, colour=line.colour)


def texts(pages: Sequence[Page]) -> Iterator[str]:
    """Every text of the pages, in order of drawing."""
    return (thing.text for page in pages for thing in simple(page.things) if isinstance(thing, Text))


def paper_size(config: Config) -> Spot:
    """Upright, mm: letter or A4, what labels are printed on, else what goes with the units."""
    return PAPERS[config.labels.grid.sheet or "letter"]
