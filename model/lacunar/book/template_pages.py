"""templates.pdf: an index, then sticks and templates at full size on sheets with a ruler."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from lacunar.book.beam_sticks import beam_sticks
from lacunar.book.coffer_sticks import coffer_sticks
from lacunar.book.flat_templates import Template, template_tile, tile_title, windows
from lacunar.book.hole_templates import hole_templates
from lacunar.book.make import foot
from lacunar.book.pocket_templates import pocket_templates
from lacunar.book.sheet_parts import check_words, paragraphs, ruler
from lacunar.book.stick_tiles import CAPTION, CHECKS, OVERLAP, WIDE, caption, tile_numbers, tile_things
from lacunar.book.sticks import Stick, gathered
from lacunar.book.subject import Book
from lacunar.drawings import Page, Spot, Text, Thing, fitting, ids_text, moved, page_head, paper_size, rule
from lacunar.tape import Tape

MARGIN: Final = 12.0
"""mm. Most printers reach further out. Source: common practice, no source."""
HEAD: Final = 10.0
FOOT: Final = 12.0
LANE: Final = CAPTION + WIDE + 2.0
ROW: Final = 6.0
"""mm. Of the index."""

HOW: Final = (
    "Every sheet has a ruler. Where it is wrong, nothing on the sheet is right: print again, at 100 %.",
    """Cut a stick out along its thin lines, glue each tile to the next so that the crosses lie on each other (they have
    {common} in common), and best glue it to a lath. The heavy line is its end: hold it at what stands there.""",
    """Sticks are read from below, printed side down. Each long edge has its own marks; an arrow says what lies along
    it. Grey: pieces of a row, furring. Dashed: joists, as found or assumed. Hatched: a lamp's hole.""",
    """The short marks at the edges are {apart} apart, as on a tape held at the same end: check a glued stick by them.
    Where several tiles would be blank they are left out: lay the next tile by its short marks.""",
    "Sheets are from the plan on each of them. When something was measured again, print again and throw these away.",
)

Body = tuple[Thing, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A line of the index: what there is, and on which sheets."""

    name: str
    shows: str
    length: str
    first: int
    last: int

    @property
    def cells(self) -> tuple[str, str, str, str]:
        """As it is printed."""
        sheets = f"{self.first}" if self.first == self.last else f"{self.first} to {self.last}"
        return self.name, self.shows, self.length, sheets


def template_pages(book: Book) -> tuple[Page, ...]:
    """The pages, the index first; none where there is nothing to hold a stick to."""
    upright = paper_size(book.config)
    lying = (upright[1], upright[0])
    sticks, bodies = _stick_bodies(book, lying)
    flat, more = _flat_bodies(book, upright, len(bodies))
    entries = (*sticks, *flat)
    if not entries:
        return ()
    index = [*_index(entries, book, lying)]
    sheets = [*((lying, body) for body in (*index, *bodies)), *((upright, body) for body in more)]
    return tuple(
        Page(size=size, things=(*_frame(book, size, n, len(sheets), len(index)), *body))
        for n, (size, body) in enumerate(sheets, start=1)
    )


def _frame(book: Book, size: Spot, number: int, count: int, index: int) -> Iterator[Thing]:
    """Head and foot of a page. Sheets are counted without the index."""
    right = size[0] - MARGIN
    sheet = f"sheet {number - index} of {count - index}" if number > index else "index"
    when = f"{foot(book.config, book.code)}, good for: {book.trust.good_for}, {sheet}"
    title, points = fitting(f"Sticks and templates: {book.config.title}", (right - MARGIN) * 0.36, 11.0, bold=True)
    told, small = fitting(when, (right - MARGIN) * 0.62, 9.0)
    yield from page_head(title, told, (MARGIN, MARGIN + 2.0), right, (points, small))
    yield rule(MARGIN, right, MARGIN + 6.0)
    y = size[1] - MARGIN - 6.5
    yield from ruler((MARGIN + 2.0, y), book.config.units)
    things, _ = paragraphs((check_words(book.config.units),), (MARGIN + 116.0, y + 0.5), right - MARGIN - 116.0, 7.5)
    yield from things


def _stick_bodies(book: Book, size: Spot) -> tuple[list[Entry], list[Body]]:
    """Tiles of all sticks in lanes, sheet after sheet."""
    room, tape = size[0] - 2.0 * MARGIN, book.config.tape
    lanes = int((size[1] - 2.0 * MARGIN - HEAD - FOOT) // LANE)
    entries: list[Entry] = []
    tiles: list[Body] = []
    for stick in gathered((*beam_sticks(book), *coffer_sticks(book.layout))):
        first, name = len(tiles), ids_text(stick.names)
        tiles += (_lane(stick, name, number, room, tape) for number in tile_numbers(stick, room))
        sheets = (first // lanes + 1, (len(tiles) - 1) // lanes + 1)
        length = tape.words(stick.length)
        entries.append(Entry(name=name, shows=_shows(stick), length=length, first=sheets[0], last=sheets[1]))
    bodies: list[Body] = []
    for start in range(0, len(tiles), lanes):
        down = [(MARGIN, MARGIN + HEAD + n * LANE) for n in range(lanes)]
        placed = zip(tiles[start : start + lanes], down, strict=False)
        bodies.append(tuple(thing for tile, at in placed for thing in moved(tile, at)))
    return entries, bodies


def _shows(stick: Stick) -> str:
    return f"{stick.shows}; hold at {stick.hold}"


def _lane(stick: Stick, name: str, number: int, room: float, tape: Tape) -> Body:
    text, size = fitting(caption(stick, name, number, room), room, 8.0)
    strip = moved(tile_things(stick, name, number, room, tape), (0.0, CAPTION))
    return (Text(at=(0.0, 2.4), text=text, size=size), *strip)


def _flat_bodies(book: Book, size: Spot, before: int) -> tuple[list[Entry], list[Body]]:
    """A sheet for each tile of each hole and each way that pockets lie."""
    room = (size[0] - 2.0 * MARGIN, size[1] - 2.0 * MARGIN - HEAD - FOOT - CAPTION)
    entries: list[Entry] = []
    bodies: list[Body] = []
    templates: tuple[Template, ...] = (
        *hole_templates(book.layout),
        *pocket_templates(book.parts, book.config.tape),
    )
    for one in templates:
        first, tiles = before + len(bodies) + 1, windows(one, room)
        for window in tiles:
            title, points = fitting(tile_title(one, window, tiles), room[0], 10.0, bold=True)
            drawn = moved(template_tile(one, window, room), (MARGIN, MARGIN + HEAD + CAPTION))
            beside = (MARGIN + one.size[0] + 6.0, MARGIN + HEAD + CAPTION + 2.0)
            notes, _ = paragraphs(one.notes, beside, size[0] - MARGIN - beside[0], 8.5)
            bodies.append((Text(at=(MARGIN, MARGIN + HEAD), text=title, size=points, bold=True), *drawn, *notes))
        entries.append(Entry(name=one.name, shows=one.shows, length="", first=first, last=before + len(bodies)))
    return entries, bodies


def _index(entries: Sequence[Entry], book: Book, size: Spot) -> Iterator[Body]:
    """What there is, how it is used, and on which sheets it stands."""
    wide, tape = size[0] - 2.0 * MARGIN, book.config.tape
    foot_at = size[1] - MARGIN - FOOT
    common, apart = tape.text(OVERLAP, "inches", tape.written), tape.words(CHECKS[tape.units])
    texts = [text.format(common=common, apart=apart) for text in HOW]
    things, y = paragraphs(texts, (MARGIN, MARGIN + HEAD + 2.0), wide, 9.0)
    y += 2.0
    columns = (0.0, 0.36 * wide, 0.78 * wide, 0.9 * wide)
    for n, entry in enumerate((None, *entries)):
        if y + ROW > foot_at:
            yield tuple(things)
            things, y = [], MARGIN + HEAD + 3.0
        sheets = (
            "" if entry is None else f"{entry.first}" if entry.first == entry.last else f"{entry.first} to {entry.last}"
        )
        cells = (
            ("For", "Shows", "Length", "Sheets") if entry is None else (entry.name, entry.shows, entry.length, sheets)
        )
        for x, after, cell in zip(columns, (*columns[1:], wide), cells, strict=True):
            text, points = fitting(cell, after - x - 3.0, 9.0, bold=n == 0 or x == 0.0)
            things.append(Text(at=(MARGIN + x, y), text=text, size=points, bold=n == 0 or x == 0.0))
        y += ROW
    yield tuple(things)
