"""A document of flowing blocks: headings, words, tables, drawings at true size, pictures, one after the other.

What is drawn at a place is a `Page` of its own (`drawing.py`); what flows from page to page is a `Document`.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from lacunar.drawings.drawing import Spot, Text, Thing, simple

BODY = 11.0
"""Points. At a table or a bench."""
LADDER = 14.0
"""Points. The least that is read on a ladder, at arm's length overhead."""
HEAD = 7.0
"""mm. What every page keeps for the chapter that goes on there."""
FOOT = 7.0
"""mm. What every page keeps for title, plan and page number."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """Of a chapter (1), which begins a page and stands at the head of those that follow, or below one (2).

    Attributes:
        breaks: a heading below a chapter begins a page too.
    """

    text: str
    level: Literal[1, 2] = 1
    breaks: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """A paragraph; or, where there are more, a list of them with a mark before each.

    Attributes:
        size: points.
        keep: on the page of what follows.
        aside: small, beside a single one.
    """

    texts: tuple[str, ...]
    size: float = BODY
    bold: bool = False
    keep: bool = False
    aside: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Banner:
    """What must not be overlooked, in a heavy frame: what may not be cut yet, and what it waits for."""

    text: str
    size: float = LADDER


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows under a head that is repeated on every page; no row is parted by a page's end.

    Attributes:
        head: a cell a column; empty for no head.
        rows: as many cells each.
        shares: of the width, a column each; 0 for as wide as its longest cell.
        right: columns whose cells stand at their right side: numbers.
        bold: columns that are read first.
        banner: in a heavy frame over the head, and repeated with it.
        size: of the text, points.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    shares: tuple[float, ...]
    right: tuple[int, ...] = ()
    bold: tuple[int, ...] = ()
    banner: str = ""
    size: float = BODY


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A drawing at true size, in mm from its own top left corner; it stays on one page."""

    size: Spot
    things: tuple[Thing, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A PNG or JPEG as wide as the text, `height` mm at most. `alt`: what it shows, for who cannot see it."""

    path: Path
    height: float
    alt: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Contents:
    """The chapters, each with its page."""


Block = Heading | Words | Banner | Table | Figure | Picture | Contents


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """A document on paper.

    Attributes:
        title: at the foot of every page, and of the file.
        foot: beside it: the plan's code and the day.
        size: of the paper, upright, mm.
        margin: of all four sides, mm.
    """

    title: str
    foot: str
    size: Spot
    blocks: tuple[Block, ...]
    margin: float = 14.0

    @property
    def width(self) -> float:
        """Between the margins, mm."""
        return self.size[0] - 2.0 * self.margin

    @property
    def height(self) -> float:
        """Of the text of a page, mm: what a figure alone on its page may take."""
        return self.size[1] - 2.0 * self.margin - HEAD - FOOT


def document_texts(blocks: Iterable[Block]) -> Iterator[str]:
    """Every text of some blocks, in order."""
    for block in blocks:
        if isinstance(block, Heading | Banner):
            yield block.text
        elif isinstance(block, Words):
            yield from (*block.texts, block.aside)
        elif isinstance(block, Picture):
            yield block.alt
        elif isinstance(block, Figure):
            yield from (thing.text for thing in simple(block.things) if isinstance(thing, Text))
        elif isinstance(block, Table):
            yield from (block.banner, *block.head, *(cell for row in block.rows for cell in row))
