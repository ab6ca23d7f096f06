"""Drawings that are files of their own: each a page to scale, for paper and for CAD."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Final

from lacunar.book.coffer_facts import CofferFacts, coffer_facts
from lacunar.book.coffer_words import legend, start_lines
from lacunar.book.make import foot
from lacunar.book.section_plan import section_plan
from lacunar.book.subject import Book
from lacunar.drawings import (
    ON_A_RULE,
    Page,
    Spot,
    Text,
    Thing,
    board_pages,
    coffer_plan,
    cut_short,
    folded,
    framing_plan,
    height_of,
    moved,
    page_head,
    paper_size,
    reflected_plan,
    row_lines,
    rule,
    text_width,
    unbroken,
)
from lacunar.parts import row_marks
from lacunar.scene import look_of, sections_of

MARGIN: Final = 10.0
HEAD: Final = 12.0
"""mm. What every sheet keeps for its title."""
COFFER_LETTERS: Final = 10.0
"""Points. On a coffer's sheet, so that it may be drawn larger than in the book."""
LETTERS: Final = 7.0
"""Points. Of numbers on a plan of the whole room, which is read at a table."""

SECTIONS: Final = (
    ("section", "section across the slats of a coffer"),
    ("section-edge", "edge of a coffer, across its slats"),
    ("section-end", "end of a coffer, along a slat"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One drawing.

    Attributes:
        name: of its file, without what tells its format.
        title: what it shows.
    """

    name: str
    title: str
    page: Page


def drawing_sheets(book: Book) -> tuple[Sheet, ...]:
    """Reflected plan, framing, a sheet for each coffer, sections, boards; their names sort."""
    return tuple(_sheets(book))


def _sheets(book: Book) -> Iterator[Sheet]:
    yield _plan(book)
    yield _framing(book)
    yield from (_coffer(facts) for facts in coffer_facts(book))
    yield from _sections(book)
    boards = board_pages(book.plan, book.parts, book.config)
    digits = len(str(len(boards)))
    for number, page in enumerate(boards, 1):
        title = f"boards, page {number} of {len(boards)}"
        yield Sheet(name=f"boards-{number:0{digits}}", title=title, page=page)


def _sheet(book: Book, name: str, title: str, size: Spot, things: Sequence[Thing], scale: int) -> Sheet:
    """A page with its title, its scale and the plan's code over the drawing."""
    right = size[0] - MARGIN
    what = f"1 : {scale}, {foot(book.config, book.code)}"
    room = right - MARGIN - text_width(what, 8.5) - 6.0
    said = cut_short(
        f"{title[:1].upper()}{title[1:]}: {book.config.title}", room, partial(text_width, size=13.0, bold=True)
    )
    head = [*page_head(said, what, (MARGIN, MARGIN + 2.0), right, (13.0, 8.5), 0.5), rule(MARGIN, right, MARGIN + 7.0)]
    page = Page(size=size, things=(*head, *moved(things, (MARGIN, MARGIN + HEAD))), scale=1.0 / scale)
    return Sheet(name=name, title=title, page=page)


def _across(book: Book) -> tuple[Spot, Spot]:
    """Paper on its side, and what of it is for the drawing."""
    tall, wide = paper_size(book.config)
    return (wide, tall), (wide - 2.0 * MARGIN, tall - 2.0 * MARGIN - HEAD)


def _plan(book: Book) -> Sheet:
    size, inner = _across(book)
    things, _, number = reflected_plan(book.room, book.layout, book.parts, book.config.units, inner)
    return _sheet(book, "reflected-plan", "reflected ceiling plan", size, things, number)


def _framing(book: Book) -> Sheet:
    size, inner = _across(book)
    steps = ON_A_RULE[book.config.units]
    things, view, number = framing_plan(book.room, book.layout, inner, 9.0, steps)
    things += row_lines(view, row_marks(book.room, book.layout), book.config.tape, LETTERS)
    return _sheet(book, "framing", "framing plan", size, things, number)


def _coffer(facts: CofferFacts) -> Sheet:
    book, size = facts.book, paper_size(facts.book.config)
    width, tall = size[0] - 2.0 * MARGIN, size[1] - 2.0 * MARGIN - HEAD
    one = replace(facts.drawing, size=COFFER_LETTERS)
    pitch, y = 1.3 * height_of(one.size), 0.5 * height_of(one.size)
    lines = [text for line in (*start_lines(facts), *legend(facts)) for text in folded(unbroken(line), width, one.size)]
    words: list[Thing] = [Text(at=(0.0, y + i * pitch), text=line, size=one.size) for i, line in enumerate(lines)]
    below = len(lines) * pitch + 4.0
    things, _, number = coffer_plan(one, (width, tall - below), ON_A_RULE[book.config.units])
    return _sheet(
        book, f"coffer-{facts.id}", f"coffer {facts.id}", size, [*words, *moved(things, (0.0, below))], number
    )


def _sections(book: Book) -> Iterator[Sheet]:
    size, inner = _across(book)
    cuts = sections_of(book.parts, book.room, book.layout, look_of(book.config, book.room))
    for (name, title), cut in zip(SECTIONS, cuts, strict=False):
        things, _, number = section_plan(cut, book.config.tape, inner, ON_A_RULE[book.config.units])
        yield _sheet(book, name, title, size, things, number)
