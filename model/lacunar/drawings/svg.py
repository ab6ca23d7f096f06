"""A page as SVG, in mm. The same page gives the same text."""

import math
from collections.abc import Iterator
from typing import Final
from xml.sax.saxutils import escape, quoteattr

from lacunar.drawings.drawing import Disc, Outline, Page, Stroke, Text, Thing, simple
from lacunar.drawings.lettering import POINT, folded

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
    body = (line for thing in simple(page.things) for line in _thing(thing))
    return "\n".join([head, f"<title>{escape(title)}</title>", paper, *body, "</svg>"]) + "\n"


def _thing(thing: Thing) -> Iterator[str]:
    if isinstance(thing, Stroke):
        yield _stroke(thing)
    elif isinstance(thing, Disc):
        x, y = (_number(c) for c in thing.at)
        pen = _pen(thing.width, thing.colour)
        yield f'<circle cx="{x}" cy="{y}" r="{_number(thing.radius)}" fill="{thing.fill or "none"}"{pen}/>'
    else:
        yield from _text(thing)


def _stroke(stroke: Stroke) -> str:
    steps = "L".join(f"{_number(x)} {_number(y)}" for x, y in stroke.points)
    dashes = ' stroke-dasharray="1.6 1.1"' if stroke.dashed else ""
    end, fill = ("Z", stroke.fill or "none") if isinstance(stroke, Outline) else ("", "none")
    pen = _pen(stroke.width, stroke.colour)
    return f'<path d="M{steps}{end}" fill="{fill}"{pen}{dashes}/>'


def _pen(width: float, colour: str) -> str:
    return f' stroke="{colour}" stroke-width="{_number(width)}"' if width else ""


def _text(text: Text) -> Iterator[str]:
    em = text.size * POINT
    x, y = text.at
    lines = [text.text]
    baseline = y + CAPITALS * em / 2.0
    if text.measure is not None:
        lines = folded(text.text.split(), text.measure, text.size, bold=text.bold)
        baseline = y + CAPITALS * em
    weight = ' font-weight="bold"' if text.bold else ""
    turn = f' transform="rotate({_number(-math.degrees(text.turn))} {_number(x)} {_number(y)})"' if text.turn else ""
    for i, line in enumerate(lines):
        at = f'x="{_number(x)}" y="{_number(baseline + i * (CAPITALS + LEADING) * em)}"'
        style = f'font-size="{_number(em)}" text-anchor="{_ANCHORS[text.anchor]}" fill="{text.colour}"'
        yield f"<text {at} {style}{weight}{turn}>{escape(line)}</text>"


def _number(value: float) -> str:
    return f"{round(value, 3) + 0.0:.3f}".rstrip("0").rstrip(".")
