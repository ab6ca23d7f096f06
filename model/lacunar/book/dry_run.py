"""Dry run: one coffer laid out on the floor before anything is nailed."""

from collections.abc import Iterator
from typing import Final

from lacunar.book.subject import Book
from lacunar.book.waiting import banners, under_banners
from lacunar.drawings import Block, Heading, Table, Words
from lacunar.layout import Coffer
from lacunar.parts import natural
from lacunar.reports import cut_list_rows

STEPS: Final = (
    "Lay straight scraps on a flat floor as the coffer's sides, at the lengths below, diagonals as in the room.",
    "Lay the slats in, face up, the first one at the start side, the spacer between them.",
    "Look at both ends and at the gap beside the last slat: trim must hide them. Lay the trim over them.",
    "Stand up and look: colour, gaps, knots. Whoever lives there looks too. What is wrong now costs one coffer.",
)
"""Source: common practice, no source."""


def dry_run(book: Book) -> Iterator[Block]:
    """The first coffer without a lamp, with all of its pieces."""
    pieces = [row for row in cut_list_rows(book.parts, book.plan, book.config) if row.coffer]
    lit = {hole.coffer for hole in book.layout.cut_outs}
    coffer = next((c for c in book.layout.coffers if c.id not in lit), None) or next(iter(book.layout.coffers), None)
    rows = sorted((row for row in pieces if coffer and row.coffer == coffer.id), key=lambda row: natural(row.id))
    if coffer is None or not rows:
        return
    waits = banners(book)
    yield Heading(text="Dry run")
    yield Words(texts=(f"Before anything is nailed, lay {coffer.id} out on the floor.", *STEPS))
    yield Table(head=("Side", "Along", "Length"), rows=(*_sides(book, coffer),), shares=(0, 0, 1), bold=(0, 2))
    told = ((waits.get(r.id, ""), (r.id, r.length, r.width, r.ends, r.board)) for r in rows)
    for banner, some in under_banners(told):
        head = ("Piece", "Length", "Width", "Ends", "Board")
        yield Table(head=head, rows=some, shares=(0, 0, 0, 1, 0), bold=(0, 1), banner=banner)


def _sides(book: Book, coffer: Coffer) -> Iterator[tuple[str, str, str]]:
    for number, side in enumerate(coffer.sides):
        start = ", the first slat lies here" if number == coffer.start_side else ""
        yield f"{number + 1}", f"{side.against}{start}", book.config.tape.text(side.length, "inches")
