"""Framing: where rows go on the old beams, how pieces are cut and drilled, what holds them, what props them."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from lacunar.book.framing_words import AT_ONCE, PROPS, ROWS, card_lines, card_title, pocket_table, steps, told_ends
from lacunar.book.subject import Book
from lacunar.book.waiting import banners, shared
from lacunar.drawings import (
    AROUND,
    LADDER,
    Block,
    Document,
    Figure,
    Heading,
    Spot,
    Words,
    framing_plan,
    paper_size,
    piece_card,
    row_stick,
    settings_by_part,
)
from lacunar.parts import BEAM_PIECES, FaceMarks, Part, row_marks
from lacunar.reports import cut_list_rows


def framing_chapter(book: Book) -> Iterator[Block]:
    """Plan, rows on the beams, pockets, a card for each piece; nothing where no beam goes up."""
    pieces = [part for part in book.parts if part.bought and part.kind in BEAM_PIECES]
    if not pieces:
        return
    width, height = _page(book)
    over = banners(book)
    yield Heading(text="Framing")
    yield from shared(over, [part.id for part in pieces])
    yield Words(texts=steps(book), size=LADDER)
    yield Heading(text="Beams and pieces", level=2)
    things, view, number = framing_plan(book.room, book.layout, (width, height - 40.0), LADDER)
    tall = max(y for _, y in view.spots(book.room.points)) + AROUND
    yield Words(texts=(f"{PROPS} Drawn 1 : {number}.",), size=LADDER, keep=True)
    yield Figure(size=(width, tall), things=tuple(things))
    yield from _rows(book, width)
    if any(part.pockets for part in pieces):
        yield from pocket_table(pieces, book.config.tape)
    yield from _cards(book, pieces, width)


def _page(book: Book) -> Spot:
    page = Document(title="", foot="", size=paper_size(book.config), blocks=())
    return page.width, page.height


def sticks(book: Book) -> tuple[tuple[FaceMarks, ...], ...]:
    """Faces with rows, beam by beam, then wall by wall."""
    return tuple(tuple(faces) for _, faces in groupby(row_marks(book.room, book.layout), key=lambda face: face.bar))


def _rows(book: Book, width: float) -> Iterator[Block]:
    found = sticks(book)
    if not found:
        return
    yield Heading(text="Rows on the beams and walls", level=2, breaks=True)
    yield Words(texts=(ROWS,), size=LADDER)
    for faces in found:
        things, tall, _ = row_stick(faces, book.config.tape, width, LADDER)
        yield Figure(size=(width, tall), things=tuple(things))


def _cards(book: Book, pieces: Sequence[Part], width: float) -> Iterator[Block]:
    rows = {row.id: row for row in cut_list_rows(book.parts, book.plan, book.config)}
    settings = settings_by_part(book.plan)
    over = banners(book)
    yield Heading(text="The pieces, each from above", level=2, breaks=True)
    yield from shared(over, [part.id for part in pieces])
    yield Words(texts=(AT_ONCE,), size=LADDER)
    for part in pieces:
        row = rows[part.id]
        lines = [*card_lines(row), *told_ends(book, part)]
        title = card_title(row, over.get(part.id, ""))
        things, tall = piece_card(part, settings.get(part.id, ()), title, lines, width, LADDER)
        yield Figure(size=(width, tall + 2.0), things=tuple(things))
