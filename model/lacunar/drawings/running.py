"""Running dimensions on paper: all from one line, each number at its own mark, none on another."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from lacunar.drawings.drawing import Anchor, Dimension, Spot, Stroke, Text, Thing
from lacunar.drawings.lettering import POINT, text_width
from lacunar.drawings.spots import stepped
from lacunar.tape import Tape

CLEAR: Final = 1.6
"""mm. Between two numbers."""
OFF: Final = 2.6
"""mm. From the line of marks to the numbers."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One distance on the paper.

    Attributes:
        start: what it is taken from, on the drawing itself.
        end: what it is taken to.
        text: what a tape says.
    """

    start: Spot
    end: Spot
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Ladder:
    """Where running dimensions stand.

    Attributes:
        way: outward, a unit vector along the page or down it.
        line: how far out along that way the line of marks stands: its coordinate.
        size: of the numbers, points.
    """

    way: Spot
    line: float
    size: float

    @property
    def beside(self) -> bool:
        """Numbers stand left or right of the line, else above or below."""
        return self.way[0] != 0.0

    def moved(self, spot: Spot, along: Spot) -> Spot:
        """A place of the drawing pushed along a direction until it stands on the line."""
        across = along[0] if self.beside else along[1]
        here = spot[0] if self.beside else spot[1]
        return stepped(spot, along, (self.line - here) / across)


def bare(mm: float, tape: Tape, mark: float | None = None) -> str:
    """A distance as its rule reads it, without its unit: a drawing says that once."""
    return tape.text(max(mm, 0.0), "inches", mark).removesuffix(" in").removesuffix(" mm")


def height_of(size: float) -> float:
    """What a line of text takes, mm: its capitals and what hangs below them."""
    return 1.1 * size * POINT


def draw_ladder(ladder: Ladder, readings: Sequence[Reading], along: Spot, rows: int = 1) -> list[Thing]:
    """All readings on one line, numbers in as many rows; a faint line from each mark to it.

    Args:
        ladder: where.
        readings: in order; all of them are drawn.
        along: direction that what is measured to runs in, on the page.
        rows: of numbers, beyond each other.
    """
    things: list[Thing] = []
    placed = _rows([_span(ladder, reading, along) for reading in readings], rows)
    for reading, row in zip(readings, placed, strict=True):
        second = ladder.moved(reading.end, along)
        # Both ends by the same way, or the line would not be as long as what it measures.
        first = (reading.start[0] + second[0] - reading.end[0], reading.start[1] + second[1] - reading.end[1])
        out = OFF + row * (height_of(ladder.size) + 1.0)
        if not ladder.beside:
            out += height_of(ladder.size) / 2.0
        anchor: Anchor = "centre"
        if ladder.beside:
            anchor = "right" if ladder.way[0] < 0.0 else "left"
        label = Text(
            at=stepped(second, ladder.way, out), text=reading.text, size=ladder.size, anchor=anchor, layer="measures"
        )
        things.append(Stroke(points=(reading.end, second), width=0.12, layer="measures"))
        if row:
            things.append(Stroke(points=(second, stepped(second, ladder.way, out - 2.6)), width=0.12, layer="measures"))
        things.append(Dimension(points=(first, second), width=0.3, tick=1.1, label=label, layer="measures"))
    return things


def thinned(ladder: Ladder, readings: Sequence[Reading], along: Spot, step: int, rows: int = 1) -> list[Reading]:
    """The first, every third (or sixth, ...) and the last, as many as have room for their numbers."""
    if not readings:
        return []
    for every in range(step, len(readings) + step, step):
        kept = [*readings[:-1:every], readings[-1]]
        if len(kept) > 2 and not _fits([_span(ladder, one, along) for one in kept[-2:]], rows):
            del kept[-2]
        if _fits([_span(ladder, one, along) for one in kept], rows):
            return kept
    return [readings[0]]


def fits(ladder: Ladder, readings: Sequence[Reading], along: Spot, rows: int) -> bool:
    """No number stands on another in so many rows."""
    return _fits([_span(ladder, reading, along) for reading in readings], rows)


def _span(ladder: Ladder, reading: Reading, along: Spot) -> tuple[float, float]:
    """From where to where a number reaches along the line of marks."""
    x, y = ladder.moved(reading.end, along)
    at, half = (y, height_of(ladder.size) / 2.0) if ladder.beside else (x, text_width(reading.text, ladder.size) / 2.0)
    return at - half, at + half


def _rows(spans: Sequence[tuple[float, float]], rows: int) -> list[int]:
    """The row of each, the nearest that is free; the last one where none is."""
    taken: list[list[tuple[float, float]]] = [[] for _ in range(rows)]
    found: list[int] = []
    for low, high in spans:
        row = next((i for i in range(rows) if _free((low, high), taken[i])), rows - 1)
        taken[row].append((low, high))
        found.append(row)
    return found


def _fits(spans: Sequence[tuple[float, float]], rows: int) -> bool:
    placed = _rows(spans, rows)
    return all(
        _free(span, [other for other, at in zip(spans[:i], placed, strict=False) if at == row])
        for i, (span, row) in enumerate(zip(spans, placed, strict=True))
    )


def _free(span: tuple[float, float], taken: Iterable[tuple[float, float]]) -> bool:
    return all(span[0] >= high + CLEAR or span[1] <= low - CLEAR for low, high in taken)


def unit(start: Spot, end: Spot) -> Spot:
    """Direction from one place to another."""
    length = math.dist(start, end) or 1.0
    return (end[0] - start[0]) / length, (end[1] - start[1]) / length
