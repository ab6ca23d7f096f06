"""The cover: what it will be, what it is good for, what may be cut today, and what to take care of first."""

from collections import Counter
from collections.abc import Iterator
from typing import Final

from lacunar.book.subject import Book
from lacunar.book.waiting import state
from lacunar.config import BLANK
from lacunar.drawings import (
    GREY,
    PALE,
    Block,
    Contents,
    Figure,
    Heading,
    Outline,
    Picture,
    Spot,
    Table,
    Text,
    Thing,
    Words,
    corner_letters,
    fitted,
    hole_outline,
    room_outline,
)
from lacunar.geometry import centroid
from lacunar.parts import field_sheets
from lacunar.told import sentence

ROOM: Final = 82.0
"""mm. Of picture and plan each."""

FIRST: Final = f"Power off at the panel and tested dead. Checked by {BLANK} on {BLANK}"
ALWAYS: Final = (
    "Under every beam two people and a prop. Eyes covered, a mask against dust.",
    "Oily rags dry outdoors, spread flat: in a heap they may burn by themselves.",
    "Local code and licensed trades decide, not this book.",
)
"""Source: common practice, no source."""

LEFT_OUT: Final = frozenset({"caution-overhead", "caution-electrical"})
"""Cautions that are told in the lines above."""


def cover(book: Book) -> Iterator[Block]:
    """Picture, trust, sheets, cautions, plan, chapters; without a picture the plan stands in its place."""
    config = book.config
    yield Heading(text=config.title)
    if book.picture is not None:
        yield Picture(path=book.picture, height=ROOM, alt="the room from its door")
    else:
        yield from _plan_of(book)
    trust = f"Good for: {book.trust.good_for}."
    yield Words(texts=(f"{trust} Not good for {book.trust.not_yet} yet." if book.trust.not_yet else trust,), bold=True)
    if book.trust.wrong:
        yield Words(texts=tuple(book.trust.wrong))
    yield Table(
        head=("May it be cut today?", "", "Measured for it"),
        rows=(
            *((sheet.sheet.capitalize(), state(sheet), sheet.measure) for sheet in book.trust.sheets),
            *((kind.capitalize(), f"waits for no measure ({count})", "") for kind, count in _others(book).items()),
        ),
        shares=(0, 1, 0),
        bold=(0, 1),
    )
    yield Heading(text="Before anybody drills, nails or climbs", level=2)
    cautions = [f for f in book.findings if f.check.startswith("caution-") and f.check not in LEFT_OUT]
    fixes = [sentence(found.fix) for found in cautions if found.fix]
    yield Words(texts=(FIRST, *dict.fromkeys(fixes), *ALWAYS))
    if book.picture is not None:
        yield from _plan_of(book)
    yield Heading(text="Chapters", level=2)
    yield Contents()


def _others(book: Book) -> Counter[str]:
    """How many pieces are still to be cut that no sheet is about, by kind."""
    sheets = {part for parts in field_sheets(book.parts).values() for part in parts}
    gone = sheets | {*book.config.done.cut}
    return Counter(part.kind for part in book.parts if part.bought and part.id not in gone)


def _plan_of(book: Book, size: Spot = (180.0, 105.0)) -> Iterator[Block]:
    """Walls, beams, coffers by name."""
    yield Heading(text="The plan", level=2)
    layout = book.layout
    view = fitted(layout.outline, (0.0, 0.0), size, 9.0)
    things: list[Thing] = [
        Outline(points=view.spots(bar.outline), width=0.2, colour=GREY, fill=PALE, layer="wood")
        for bar in (*layout.pieces, *layout.half_beams)
    ]
    things += room_outline(view, layout.outline, layout)
    things += [hole_outline(view, hole) for hole in layout.cut_outs]
    lit = {hole.coffer for hole in layout.cut_outs}
    for coffer in layout.coffers:
        x, y = view.spot(centroid(coffer.outline))
        at = (x, y + 6.0) if coffer.id in lit else (x, y)
        things.append(Text(at=at, text=coffer.id, size=9.0, anchor="centre", bold=True, layer="wood"))
    yield Figure(size=size, things=(*things, *corner_letters(view, book.room.points, book.room.corners)))
