"""labels.pdf: a page to prove the printer by, then sheets of labels as they are sold."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from lacunar.book.label_rows import Label, label_rows
from lacunar.book.make import foot
from lacunar.book.sheet_parts import check_words, paragraphs, ruler
from lacunar.book.square_code import square_code
from lacunar.book.subject import Book
from lacunar.config import Config, printed_on
from lacunar.drawings import (
    BLACK,
    GREY,
    POINT,
    SMALLEST,
    WHITE,
    Outline,
    Page,
    Spot,
    Text,
    Thing,
    fitting,
    moved,
    paper_size,
    rectangle,
)
from lacunar.told import counted

PAD: Final = 2.0
"""mm. Inside a label's edge: no printer lays a sheet in quite straight. Common practice, no source."""
CODE: Final = 0.32
"""Of a label's width that the square code takes at most."""
LEAD: Final = 1.16
"""From one line to the next, of its size."""
BAND: Final = 3.4
"""mm. Of what must be known before the piece is cut."""
ARROW: Final = 1.9
"""mm."""
MARGIN: Final = 15.0
"""mm. Of the first page."""

ABOUT: Final = "{}, board by board as the boards are pulled; they run along the rows of a sheet."
HOW: Final = (
    """Lay this page over a sheet of labels and hold both against the light: every frame must lie on a label. Where it
    does not, mend width, height, across, down, side and top of [labels.grid] in the file and build again.""",
    """Stick a label on the side that will look at the ceiling. Its upper arrow points to the edge of the piece, the two
    others to its ends, each with the wall, beam or lamp that these will look at.""",
    "What says NOT YET waits for a measure on the wood. Do not cut it by this label: measure, build and print again.",
    "A phone or a scanner reads the name of the piece from the square.",
)


def label_pages(book: Book) -> tuple[Page, ...]:
    """The pages; none where nothing is cut."""
    labels, config = label_rows(book), book.config
    if not labels:
        return ()
    grid, when = config.labels.grid, foot(config, book.code)
    below = when if printed_on(config) else when.partition(",")[0]
    places, size = _places(config), (grid.width, grid.height)
    first = _first_page(config, len(labels), when)
    pages = [Page(size=paper_size(config), things=tuple(first))]
    for start in range(-grid.skip, len(labels), len(places)):
        things: list[Thing] = []
        for n, at in enumerate(places, start):
            if 0 <= n < len(labels):
                things += moved(_label(labels[n], size, below), at)
        pages.append(Page(size=paper_size(config), things=tuple(things)))
    return tuple(pages)


def _places(config: Config) -> list[Spot]:
    """Top left corners of a sheet's labels, row by row."""
    grid = config.labels.grid
    columns, rows = grid.shape
    return [
        (grid.side + column * grid.across, grid.top + row * grid.down)
        for row in range(rows)
        for column in range(columns)
    ]


def _first_page(config: Config, count: int, when: str) -> Iterator[Thing]:
    grid, (wide, _) = config.labels.grid, paper_size(config)
    room = wide - 2.0 * MARGIN
    for at in _places(config):
        yield rectangle(at, (grid.width, grid.height), width=0.2, colour=GREY)
    about = ABOUT.format(counted(count, "label"))
    texts = (about, f"This page is for plain paper. {check_words(config.units)}", *HOW)
    things, end = paragraphs(texts, (MARGIN, MARGIN + 29.0), room)
    tall = end + 16.0 - MARGIN - 8.0
    yield rectangle((MARGIN - 4.0, MARGIN + 8.0), (room + 8.0, tall), width=0.4, fill=WHITE)
    title, size = fitting(f"Labels: {config.title}", room, 15.0, bold=True)
    yield Text(at=(MARGIN, MARGIN + 16.0), text=title, size=size, bold=True)
    yield Text(at=(MARGIN, MARGIN + 23.0), text=when, size=10.0)
    yield from things
    yield from ruler((MARGIN, end + 3.0), config.units)


def _label(label: Label, size: Spot, below: str) -> Iterator[Thing]:
    """One label from its top left corner."""
    wide, tall = size[0] - 2.0 * PAD, size[1] - 2.0 * PAD
    side = min(tall, CODE * size[0])
    yield from square_code(label.id, (PAD + wide - side, PAD), side)
    room = wide - side - 1.0
    if label.state:
        tall -= BAND
        text, points = fitting(label.state, room - 1.0, 7.5, bold=True)
        at = (PAD, PAD + tall)
        yield rectangle(at, (room, BAND), width=0.0, fill=BLACK)
        at = (PAD + 0.5, PAD + tall + BAND / 2.0)
        yield Text(at=at, text=text, size=points, bold=True, colour=WHITE)
    y = PAD
    lines = (
        (label.id, 15.0, True),
        (label.length, 11.0, True),
        (label.up, 7.5, False),
        ("", 7.0, False),
        (label.stock, 6.5, False),
        (", ".join(filter(None, (label.where, below))), 6.0, False),
    )
    for (text, _, bold), points in zip(lines, _sizes([points for _, points, _ in lines], tall), strict=True):
        middle, step = y + points * POINT * LEAD / 2.0, points * POINT * LEAD
        y += step
        if not text:
            yield from _ends(label.ends, (PAD, middle), room, points)
            continue
        arrow = ARROW + 0.8 if text is label.up else 0.0
        said, fits = fitting(text, room - arrow, points, bold=bold)
        yield Text(at=(PAD + arrow, middle), text=said, size=fits, bold=bold)
        if arrow:
            yield _arrow((PAD + ARROW / 2.0, middle), (0.0, -1.0))


def _sizes(points: Sequence[float], tall: float) -> Iterable[float]:
    """As large as fits, as far as possible in proportion, none smaller than the smallest."""
    low, high = 0.0, 3.0
    for _ in range(30):
        share = (low + high) / 2.0
        fits = sum(max(SMALLEST, one * share) for one in points) * POINT * LEAD <= tall
        low, high = (share, high) if fits else (low, share)
    return [max(SMALLEST, one * low) for one in points]


def _ends(ends: tuple[str, str], at: Spot, room: float, points: float) -> Iterator[Thing]:
    """What both ends look at, each beside an arrow that points there."""
    (x, y), half = at, room / 2.0 - ARROW - 1.2
    first, last = (fitting(name, half, points) for name in ends)
    yield _arrow((x + ARROW / 2.0, y), (-1.0, 0.0))
    yield Text(at=(x + ARROW + 0.8, y), text=first[0], size=first[1])
    yield Text(at=(x + room - ARROW - 0.8, y), text=last[0], size=last[1], anchor="right")
    yield _arrow((x + room - ARROW / 2.0, y), (1.0, 0.0))


def _arrow(at: Spot, way: Spot) -> Outline:
    """A filled triangle that points a way: a sign that no font need have."""
    (x, y), (dx, dy), half = at, way, ARROW / 2.0
    tip, foot = (x + half * dx, y + half * dy), (x - half * dx, y - half * dy)
    wings = ((foot[0] - half * dy, foot[1] + half * dx), (foot[0] + half * dy, foot[1] - half * dx))
    return Outline(points=(tip, *wings), width=0.0, fill=BLACK)
