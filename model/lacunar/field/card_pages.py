"""Sheets of cards: a key plan, then a drawing and boxes for each piece or coffer."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from lacunar.drawings import (
    BOX,
    GREY,
    GUTTER,
    PALE,
    WHITE,
    Outline,
    Page,
    Spot,
    Text,
    Thing,
    box_below,
    corner_letters,
    fitted,
    rectangle,
    room_outline,
)
from lacunar.field.card_drawings import draw_coffer, draw_holes, draw_opening, draw_trim
from lacunar.field.sheet_row import Row, Stage
from lacunar.field.sketch import Sketch
from lacunar.field.stage_paper import MARGIN, Paper, pages
from lacunar.geometry import centroid
from lacunar.layout import Layout

Draw = Callable[[Layout, Sequence[Row], Spot, Spot], list[Thing]]
"""Layout, the card's rows, place and size on the page."""

KEY = 68.0
"""mm. Height of the key plan."""
CROWDED = 12.0
"""mm. In coffers narrower on the key plan there is room for their names alone."""
PAD = 2.5
CELL = 14.5
"""mm. Height of a name, and under it a box that a pencil writes in."""
TITLE = 7.0
"""mm. Height of a card's name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """How the cards of a stage look: the drawing at the left, boxes at the right.

    Attributes:
        columns: of cards on the page.
        drawing: width and least height of the drawing, mm.
        boxes: side by side.
        box: width of one, mm, the value beside it; 0 for as wide as goes, the value above it.
        draw: draws it.
    """

    columns: int
    drawing: Spot
    boxes: int
    box: float
    draw: Draw


CARDS: Mapping[Stage, Card] = {
    "openings": Card(columns=1, drawing=(76.0, 30.0), boxes=2, box=BOX[0], draw=draw_opening),
    "coffers": Card(columns=1, drawing=(82.0, 60.0), boxes=2, box=BOX[0], draw=draw_coffer),
    "last": Card(columns=2, drawing=(43.0, 40.0), boxes=1, box=27.0, draw=draw_holes),
    "trim": Card(columns=2, drawing=(47.0, 54.0), boxes=1, box=0.0, draw=draw_trim),
}


def card_pages(sheet: Paper, drawn: Sketch, rows: Sequence[Row]) -> tuple[Page, ...]:
    """The key plan with the first cards, then the rest, each card whole on its page."""
    layout, kind = drawn.layout, CARDS[sheet.stage]
    assert layout is not None
    groups = _groups(sheet, kind, rows)
    bodies: list[list[Thing]] = [[*_key(sheet, drawn, layout, rows)]]
    y = sheet.top + KEY + GUTTER
    width = (sheet.width - (kind.columns - 1) * GUTTER) / kind.columns
    for i in range(0, len(groups), kind.columns):
        beside = groups[i : i + kind.columns]
        boxes = max(math.ceil(len(group) / kind.boxes) for group in beside) * CELL
        height = max(kind.drawing[1], boxes) + 2.0 * PAD
        if y + height > sheet.bottom:
            bodies.append([])
            y = sheet.top
        for column, group in enumerate(beside):
            at = (MARGIN + column * (width + GUTTER), y)
            bodies[-1] += _card(sheet, layout, kind, group, at, (width, height))
        y += height + GUTTER * 0.8
    return pages(sheet, bodies)


def _groups(sheet: Paper, kind: Card, rows: Sequence[Row]) -> list[Sequence[Row]]:
    """The rows of each card; of a coffer with more slats than a page has room for, as many cards as it takes."""
    most = kind.boxes * int((sheet.bottom - sheet.top - 2.0 * PAD) / CELL)
    groups: list[Sequence[Row]] = []
    for card in dict.fromkeys(row.card for row in rows):
        mine = [row for row in rows if row.card == card]
        share = math.ceil(len(mine) / math.ceil(len(mine) / most))
        groups += [mine[i : i + share] for i in range(0, len(mine), share)]
    return groups


def _card(sheet: Paper, layout: Layout, kind: Card, rows: Sequence[Row], at: Spot, size: Spot) -> list[Thing]:
    (x, y), (width, height) = at, size
    across = width - kind.drawing[0] - 3.0 * PAD
    things: list[Thing] = [
        rectangle(at, size, width=0.25, colour=GREY),
        *kind.draw(layout, rows, (x + PAD, y + TITLE), (kind.drawing[0], height - TITLE - PAD)),
        Text(at=(x + PAD, y + 4.2), text=rows[0].card, size=12.0, bold=True),
        *_note(rows, (x + PAD, y + 4.2), kind.drawing[0]),
    ]
    for i, row in enumerate(rows):
        line, column = divmod(i, kind.boxes)
        place = (x + kind.drawing[0] + 2.0 * PAD + column * across / kind.boxes, y + PAD + line * CELL)
        things += box_below(place, kind.box, across / kind.boxes, sheet.write_in(row))
    return things


def _note(rows: Sequence[Row], at: Spot, width: float) -> list[Thing]:
    """What holds for the whole card: where the piece goes, what the holes are for."""
    notes = list(dict.fromkeys(row.note for row in rows))
    if all(note.startswith("for ") for note in notes):
        # The card has the coffer's name already, and little room.
        slats = ", ".join(note.removeprefix("for ") for note in notes)
        notes = ["for " + slats.replace(f"{rows[0].card}-", "")]
    if len(notes) != 1 or not notes[0]:
        return []
    most = int((width - 16.0) / 1.4)
    text = notes[0] if len(notes[0]) <= most else notes[0][: most - 1] + "…"
    return [Text(at=(at[0] + 16.0, at[1] + 0.3), text=text, size=7.0, colour=GREY)]


def _key(sheet: Paper, drawn: Sketch, layout: Layout, rows: Sequence[Row]) -> list[Thing]:
    """The whole ceiling with the names of its cards, and their numbers where there is room."""
    view = fitted(drawn.ring, (MARGIN + 8.0, sheet.top + 6.0), (sheet.width - 16.0, KEY - 12.0))
    bars = (*layout.half_beams, *layout.pieces)
    cards = {ring.id: ring.outline for ring in (*layout.beams, *bars, *layout.coffers)}
    across = [[x for x, _ in view.spots(coffer.outline)] for coffer in layout.coffers]
    narrow = min((max(xs) - min(xs) for xs in across), default=0.0) < CROWDED
    things = room_outline(view, drawn.ring, layout, names=not narrow)
    wanted = {row.card for row in rows}
    for bar in bars:
        fill = WHITE if bar.id in wanted else PALE
        things.append(Outline(points=view.spots(bar.outline), width=0.2, fill=fill, layer="wood"))
    lift = 3.6 if sheet.stage == "openings" else 0.0
    for id, ring in cards.items():
        if id in wanted:
            x, y = view.spot(centroid(ring))
            wide = 2.0 * len(id) + 0.6
            things.append(rectangle((x - wide / 2.0, y - lift - 1.8), (wide, 3.6), width=0.0, fill=WHITE))
            size = 6.5 if narrow else 8.0
            things.append(Text(at=(x, y - lift), text=id, size=size, anchor="centre", bold=True))
            if not narrow:
                numbers = [row.number for row in rows if row.card == id]
                span = f"{numbers[0]}–{numbers[-1]}"
                things.append(Text(at=(x, y + 3.6), text=span, size=6.5, anchor="centre", colour=GREY))
    return [*things, *corner_letters(view, drawn.ring, drawn.corners)]
