"""A page for each coffer, read overhead: where slats begin, what they are nailed to, what waits for which measure."""

from collections.abc import Iterator
from functools import partial
from typing import Final

from lacunar.book.coffer_facts import CofferFacts, coffer_facts
from lacunar.book.coffer_words import (
    CROWDED,
    LIGHT,
    furring_table,
    hole_table,
    how_to_read,
    legend,
    slat_table,
    start_lines,
    trim_words,
)
from lacunar.book.subject import Book
from lacunar.book.waiting import shared
from lacunar.drawings import (
    BLACK,
    LADDER,
    Banner,
    Block,
    Figure,
    Heading,
    Outline,
    Spot,
    Text,
    Thing,
    Words,
    coffer_plan,
    corner_letters,
    fitted,
    folded,
    height_of,
    ids_text,
    moved,
    room_outline,
    unbroken,
)

KEY: Final = (44.0, 35.0)
"""mm. The room in small, with the coffer black."""
PITCH: Final = 1.3
"""Of lines of text, in their heights."""
HEADING: Final = 16.0
"""mm. That a coffer's heading takes of its page."""


def coffer_chapters(book: Book) -> Iterator[Block]:
    """How these pages are read, once; then a page or two for every coffer."""
    facts = coffer_facts(book)
    if not facts:
        return
    yield Heading(text="Coffers, one by one")
    yield Words(texts=how_to_read(book), size=LADDER)
    for one in facts:
        yield Heading(text=f"Coffer {one.id}", level=2, breaks=True)
        yield from _coffer(one)


def _coffer(facts: CofferFacts) -> Iterator[Block]:
    over = [*shared(facts.banners, [part.id for part in facts.drawing.parts if part.bought])]
    yield from over
    yield coffer_figure(facts, facts.book_size[1] - HEADING - sum(map(partial(_tall, facts.book_size[0]), over)))
    yield Words(texts=(" ".join(legend(facts)),), size=LADDER)
    yield from furring_table(facts)
    yield from slat_table(facts)
    yield from hole_table(facts)
    holes = [hole.name for hole in facts.drawing.layout.cut_outs if hole.coffer == facts.id]
    if holes:
        yield Words(texts=(LIGHT.format(names=", ".join(holes)),), size=LADDER, bold=True)
    if facts.barred:
        yield Words(texts=(CROWDED.format(names=ids_text(facts.barred)),), size=LADDER, bold=True)
    yield from trim_words(facts)


def _tall(width: float, banner: Banner) -> float:
    """What a banner takes of a page, mm, and a little more."""
    lines = len(folded(unbroken(banner.text), width - 8.0, banner.size, bold=True))
    return 10.0 + lines * 1.25 * height_of(banner.size)


def coffer_figure(facts: CofferFacts, tall: float) -> Figure:
    """What is done first, and the drawing under it."""
    width = facts.book_size[0]
    head = coffer_head(facts, width)
    things, reach, _ = coffer_plan(facts.drawing, (width, tall - head.size[1]))
    return Figure(size=(width, head.size[1] + reach), things=(*head.things, *moved(things, (0.0, head.size[1]))))


def coffer_head(facts: CofferFacts, width: float) -> Figure:
    """What is done first, and beside it the room with the coffer black."""
    things: list[Thing] = []
    room = width - KEY[0] - 4.0
    pitch, y = PITCH * height_of(LADDER), 0.5 * height_of(LADDER)
    first, *others = start_lines(facts)
    for words, bold in ((first, True), (" ".join(others), False)):
        for text in folded(unbroken(words), room, LADDER, bold=bold):
            things.append(Text(at=(0.0, y), text=text, size=LADDER, bold=bold))
            y += pitch
    things += moved(key_plan(facts), (width - KEY[0], 0.0))
    return Figure(size=(width, max(y, KEY[1])), things=tuple(things))


def key_plan(facts: CofferFacts) -> list[Thing]:
    """The room with its corner letters and its beams, AB ahead; this coffer black."""
    room, layout = facts.book.room, facts.drawing.layout
    view = fitted(room.points, (0.0, 0.0), KEY, margin=6.5)
    spots: tuple[Spot, ...] = view.spots(facts.coffer.outline)
    return [
        *room_outline(view, room.points, layout, names=False),
        *(
            Outline(points=view.spots(piece.outline), width=0.15, fill="#e4e4e4", layer="wood")
            for piece in layout.pieces
        ),
        Outline(points=spots, width=0.2, fill=BLACK, layer="room"),
        *corner_letters(view, room.points, room.corners, LADDER, LADDER),
    ]
