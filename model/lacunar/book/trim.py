"""Trim: every strip with what to expect, in the order in which it goes up."""

from collections.abc import Iterator
from typing import Final

from lacunar.book.saw_rows import Row
from lacunar.book.subject import Book
from lacunar.book.waiting import banners, under_banners
from lacunar.drawings import LADDER, Block, Heading, Table, Words, mitre_settings, settings_by_part, short_point
from lacunar.plan import MITRE
from lacunar.reports import cut_list_rows
from lacunar.units import nearest_mark

HOW: Final = (
    (
        "Mark each strip in its place: hold it along its side, mark both corners, cut to the marks. The lengths here "
        "are what to expect. Where a mark is further off than a pencil line, measure that side again before you cut."
    ),
    "In each coffer every other strip first (T1, T3), then those between them (T2, T4): the rows stand in that order.",
)
HEAD: Final = ("Strip", "Along", "Cut at", "Long point", "Short point", "Ends not 45 deg")


def trim_order(number: int) -> tuple[bool, int]:
    """A key that sorts the strips of a coffer: every other one, then those between them."""
    return number % 2 == 0, number


def trim(book: Book) -> Iterator[Block]:
    """A row for each strip that is not cut."""
    mine = settings_by_part(book.plan)
    cut = {row.id: row for row in cut_list_rows(book.parts, book.plan, book.config) if row.kind == "trim"}
    parts = {part.id: part for part in book.parts if part.id in cut and part.id not in book.config.done.cut}
    strips = sorted(
        (strip for strip in book.layout.trim if strip.id in parts),
        key=lambda strip: ([c.id for c in book.layout.coffers].index(strip.coffer), trim_order(strip.number)),
    )
    if not strips:
        return
    waits = banners(book)

    def row(name: str, against: str) -> Row:
        part, settings = parts[name], mine.get(name, ())
        angles = [0.0 if one is None else abs(one.mitre_deg or 0.0) for one in mitre_settings(part, settings)]
        stop = next((one for one in settings if one.stop is not None), None)
        length = part.length if stop is None or stop.stop is None else stop.stop
        short = _short(book, short_point(part, settings, length)) if any(angles) else ""
        usual = all(angle == MITRE for angle in angles)
        return (
            name,
            against,
            "" if stop is None else stop.id,
            cut[name].length,
            short,
            "" if usual else cut[name].ends,
        )

    yield Heading(text="Trim")
    yield Words(texts=HOW)
    sides = {coffer.id: coffer.sides for coffer in book.layout.coffers}
    rows = ((waits.get(s.id, ""), row(s.id, sides[s.coffer][s.side].against)) for s in strips)
    for banner, some in under_banners(rows):
        n = len(HEAD) if any(cells[-1] for cells in some) else len(HEAD) - 1
        shares = (0, 0, 0, 0, 0, 1) if n == len(HEAD) else (0, 1, 1, 0, 1)
        told = tuple(cells[:n] for cells in some)
        head = HEAD if book.config.trim.is_mitred else (*HEAD[:-1], "Ends")
        yield Table(head=head[:n], rows=told, shares=shares, bold=(0, 3), banner=banner, size=LADDER)


def _short(book: Book, mm: float) -> str:
    tape = book.config.tape
    return tape.cut_text(nearest_mark(mm, tape.fine), "inches")
