"""What pages have in common: head, rules, lines of text, a table in columns, and boxes to write in by hand."""

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final, TypeVar

from lacunar.drawings.badges import BADGE, badge
from lacunar.drawings.drawing import GREY, Layer, Spot, Stroke, Text, Thing, rectangle
from lacunar.drawings.lettering import SMALLEST, text_width

BOX: Final = (31.0, 8.6)
"""mm. Of a write-in box: feet, inches and a fraction in handwriting of 6 mm. Own choice, tried on paper size."""
GUTTER: Final = 5.0
"""mm. Between two columns."""

Item = TypeVar("Item")


def rule(left: float, right: float, y: float) -> Stroke:
    """A line under a head or over a foot."""
    return Stroke(points=((left, y), (right, y)), width=0.4)


def page_head(title: str, number: str, at: Spot, right: float, sizes: Spot, down: float = 0.0) -> list[Thing]:
    """Title at the left and page number at the right, so far `down`; `sizes` of both in points."""
    return [
        Text(at=at, text=title, size=sizes[0], bold=True),
        Text(at=(right, at[1] + down), text=number, size=sizes[1], anchor="right"),
    ]


def text_lines(
    lines: Iterable[str], at: Spot, pitch: float, size: float, *, bold: bool = False, layer: Layer = "sheet"
) -> list[Thing]:
    """Lines one below the other, the first centred on a height."""
    return [
        Text(at=(at[0], at[1] + i * pitch), text=line, size=size, bold=bold, layer=layer)
        for i, line in enumerate(lines)
    ]


def two_columns(
    items: Sequence[Item], at: Spot, width: float, pitch: float, draw: Callable[[Spot, float, Item], Iterable[Thing]]
) -> list[Thing]:
    """A table down the first column and then down the second; `draw` has each one's top left corner and width."""
    wide, first = (width - GUTTER) / 2.0, math.ceil(len(items) / 2)
    things: list[Thing] = []
    for i, item in enumerate(items):
        column, line = divmod(i, first)
        things += draw((at[0] + column * (wide + GUTTER), at[1] + line * pitch), wide, item)
    return things


@dataclass(frozen=True, slots=True, kw_only=True)
class WriteIn:
    """Something to write by hand.

    Attributes:
        number: as in the drawing.
        expected: small beside the box.
        note: under the name, where there is room.
        optional: need not be written.
    """

    number: int
    name: str
    expected: str
    note: str = ""
    optional: bool = False


def box_below(at: Spot, box_width: float, width: float, row: WriteIn) -> list[Thing]:
    """Number and name; under them the box, what is expected small beside it.

    Args:
        at: top left corner.
        box_width: of the box; 0 for as wide as goes, with what is expected above it.
        width: of the whole.
        row: what is written.
    """
    x, y = at
    top = y + 2.0 * BADGE + 0.5
    box = (box_width or width - 2.0, BOX[1] - 0.9)
    value = _small(row.expected, (x + box[0] + 1.5, top + box[1] / 2.0))
    if not box_width:
        value = replace(value, at=(x + box[0], y + BADGE), anchor="right")
    name_at = (x + 2.0 * BADGE + 1.5, y + BADGE)
    return [
        *badge((x + BADGE, y + BADGE), row.number),
        Text(at=name_at, text=row.name, size=9.0, bold=not row.optional, layer="boxes"),
        rectangle((x, top), box, width=0.45, layer="boxes"),
        value,
    ]


def box_beside(at: Spot, width: float, row: WriteIn) -> list[Thing]:
    """The same on one line: number, name with its note under it, box, what is expected."""
    x, middle = at[0], at[1] + BOX[1] / 2.0
    box_x = x + width - BOX[0] - 22.0
    lift = 1.6 if row.note else 0.0
    name_x, bold = x + 2.0 * BADGE + 1.5, not row.optional
    size = max(SMALLEST, min(9.0, 9.0 * (box_x - name_x - 1.0) / text_width(row.name, 9.0, bold=bold)))
    return [
        *badge((x + BADGE, middle), row.number),
        Text(at=(name_x, middle - lift), text=row.name, size=size, bold=bold, layer="boxes"),
        rectangle((box_x, at[1]), BOX, width=0.45, layer="boxes"),
        _small(row.expected, (box_x + BOX[0] + 1.5, middle)),
        *([_small(row.note, (name_x, middle + 2.6), 6.5)] if row.note else ()),
    ]


def _small(text: str, at: Spot, size: float = 7.5) -> Text:
    return Text(at=at, text=text, size=size, colour=GREY, layer="boxes")
