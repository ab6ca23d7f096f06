"""A page as SVG, in mm. The same page gives the same text."""

import math
from collections.abc import Iterator
from typing import Final
from xml.sax.saxutils import escape, quoteattr

from lacunar.drawings.lettering import POINT, folded
from lacunar.drawings.page import Disc, Label, Page, Stroke, Thing

FONTS: Final = "'DejaVu Sans', Arial, Helvetica, sans-serif"

CAPITALS: Final = 0.729
"""Ems: height of the capitals. Source: DejaVu Sans, read from its metrics."""

LEADING: Final = 0.55
"""Ems between two lines of one text, as on the PDF sheets."""

_ANCHORS = {"left": "start", "centre": "middle", "right": "end"}


def svg_text(page: Page, title: str) -> str:
    """The page as an SVG document at true paper size.

    Args:
        page: in mm.
        title: of the document.
    """
    width, height = (_number(side) for side in page.size)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}" font-family={quoteattr(FONTS)} stroke-linejoin="round">'
    )
    paper = f'<rect width="{width}" height="{height}" fill="#ffffff"/>'
    body = (line for thing in page.things for line in _thing(thing))
    return "\n".join([head, f"<title>{escape(title)}</title>", paper, *body, "</svg>"]) + "\n"


def _thing(thing: Thing) -> Iterator[str]:
    if isinstance(thing, Stroke):
        yield _stroke(thing)
    elif isinstance(thing, Disc):
        x, y = (_number(c) for c in thing.centre)
        pen = _pen(thing.width, thing.colour)
        yield f'<circle cx="{x}" cy="{y}" r="{_number(thing.radius)}" fill="{thing.fill or "none"}"{pen}/>'
    else:
        yield from _label(thing)


def _stroke(stroke: Stroke) -> str:
    steps = "L".join(f"{_number(x)} {_number(y)}" for x, y in stroke.points)
    dashes = ' stroke-dasharray="1.6 1.1"' if stroke.dashed else ""
    fill = stroke.fill if stroke.closed and stroke.fill else "none"
    pen = _pen(stroke.width, stroke.colour)
    return f'<path d="M{steps}{"Z" if stroke.closed else ""}" fill="{fill}"{pen}{dashes}/>'


def _pen(width: float, colour: str) -> str:
    return f' stroke="{colour}" stroke-width="{_number(width)}"' if width else ""


def _label(label: Label) -> Iterator[str]:
    em = label.size * POINT
    x, y = label.at
    lines = [label.text]
    baseline = y + CAPITALS * em / 2.0
    if label.measure is not None:
        lines = folded(label.text.split(), label.measure, label.size, bold=label.bold)
        baseline = y + CAPITALS * em
    weight = ' font-weight="bold"' if label.bold else ""
    turn = f' transform="rotate({_number(-math.degrees(label.turn))} {_number(x)} {_number(y)})"' if label.turn else ""
    for i, line in enumerate(lines):
        at = f'x="{_number(x)}" y="{_number(baseline + i * (CAPITALS + LEADING) * em)}"'
        style = f'font-size="{_number(em)}" text-anchor="{_ANCHORS[label.anchor]}" fill="{label.colour}"'
        yield f"<text {at} {style}{weight}{turn}>{escape(line)}</text>"


def _number(value: float) -> str:
    return f"{round(value, 3) + 0.0:.3f}".rstrip("0").rstrip(".")
