"""Saw sheets: a section for each position of fence, stop and mitre, in the order of work."""

from collections.abc import Iterator, Sequence
from typing import Final

from lacunar.book.saw_rows import ENDS, FENCE_HEAD, MITRE_HEAD, SQUARE, STOP_HEAD, Found, Saw, at_the_saw, fence_rows
from lacunar.book.saw_rows import mitre_rows as mitred
from lacunar.book.saw_rows import stop_rows as stopped
from lacunar.book.subject import Book
from lacunar.book.waiting import in_short
from lacunar.drawings import BODY, CARE, Banner, Block, Heading, Table, Words, ids_text
from lacunar.plan import Setting, Unserved
from lacunar.reports import SettingRow, buy_rows
from lacunar.told import counted, sentence

BIG: Final = 26.0
"""Points. What the saw is set to, read from where one stands at it. Own choice, tried on paper."""

SHORT: Final = 16
"""Letters of a cell that needs no room of its own."""

WAYS: Final = (
    "In the order of work: fences, then stops, then mitres, for one kind of board after the other.",
    (
        "Here every stop is set once, and boards are picked up again for each of theirs. The drawings of boards show "
        "the other way: board after board, each cut up whole. The pieces are the same."
    ),
    CARE,
    "Write the number on each piece as it leaves the saw, and the bundle's number beside it.",
)
STOP: Final = "Square the bought end first; it goes to the stop. Cut one, put it up, then the rest."
ANGLED: Final = "Cut the first end as told; its long point goes to the stop. Cut one, put it up, then the rest."
APART: Final = "No mark of the tape serves these: hold each to its place and mark it there."
FENCE: Final = (
    "Factory edge against the fence, sawn edge at the blade. What lies between fence and blade is the piece: keep it. "
    "Rip one, put it up, then the rest."
)
SLED: Final = "On a sled: the wider end as given, the narrower one at the other end. Sawn edge at the blade."


def saw_sheets(book: Book) -> Iterator[Block]:
    """Summary, settings, what no board gives, what to do with a ruined piece."""
    saw = at_the_saw(book)
    yield Heading(text="Saw sheets")
    yield Words(texts=WAYS)
    sections = [(row, setting, _found(saw, row, setting)) for row, setting in saw.rows]
    todo = [section for section in sections if section[2]]
    if not todo:
        yield Words(texts=("Nothing is left to cut.",))
        yield from _unserved(book)
        return
    yield Table(
        head=("Set", "Board", "To", "Pieces", "Waits for"),
        rows=tuple(
            (row.id, f"{row.stock} {row.species}", _value(row), row.pieces, in_short(b for b, _ in found))
            for row, _, found in todo
        ),
        shares=(0, 1, 0, 0, 1),
        right=(3,),
        bold=(0, 2),
    )
    yield from _unserved(book)
    yield from _ruined(book)
    for row, setting, found in todo:
        yield from _section(saw, row, setting, found)


def _found(saw: Saw, row: SettingRow, setting: Setting) -> Found:
    rows = {"stop": stopped, "mitre": mitred}.get(row.kind, fence_rows)
    return rows(saw, setting)


def _value(row: SettingRow) -> str:
    return f"{row.value} to {row.end}" if row.end else row.value


def _section(saw: Saw, row: SettingRow, setting: Setting, found: Found) -> Iterator[Block]:
    yield Heading(text=f"{row.id}: {row.stock} {row.species}, {counted(int(row.pieces), 'piece')}", level=2)
    aside = f"{row.value_in} in" if row.value_in and saw.book.config.units == "in" else ""
    yield Words(texts=(_value(row),), size=BIG, bold=True, keep=True, aside=aside)
    yield Words(texts=(_how(row, found),), keep=True)
    head, shares, bold = _columns(row, found)
    columns = [i for i in range(len(head)) if any(cells[i] for _, rows in found for cells in rows)]
    for banner, rows in found:
        yield Table(
            head=tuple(head[i] for i in columns),
            rows=tuple(tuple(cells[i] for i in columns) for cells in rows),
            shares=tuple(shares[i] for i in columns),
            bold=tuple(columns.index(i) for i in bold),
            banner=banner,
        )


def _how(row: SettingRow, found: Found) -> str:
    if row.kind == "mitre":
        away = [note for note in row.notes.split("; ") if note.startswith("the face ")]
        told = [f"Turn the saw {row.value} away from square, with the stop of each piece", *away]
        return " ".join(sentence(text) for text in told)
    if row.kind in ("fence", "taper"):
        return SLED if row.kind == "taper" else FENCE
    if row.cut_to_measure == "yes":
        return APART
    return STOP if all(cells[ENDS] == SQUARE for _, rows in found for cells in rows) else ANGLED


def _columns(row: SettingRow, found: Found) -> tuple[tuple[str, ...], tuple[float, ...], tuple[int, ...]]:
    """Head, shares of the width, and what is bold: what is long gets room."""
    if row.kind == "stop":
        ends, beside = (max(len(cells[i]) for _, rows in found for cells in rows) > SHORT for i in (ENDS, ENDS + 1))
        return STOP_HEAD, (0, 1, 2 if ends else 0, 1 if beside else 0, 0), (1,)
    if row.kind == "mitre":
        return MITRE_HEAD, (2, 0, 3), (0,)
    return FENCE_HEAD, (0, 2, 1.4, 0, 0), (0, 2)


def _unserved(book: Book) -> Iterator[Block]:
    """What no board gives, those together that lack the same; told of the longest."""
    found: dict[tuple[str, str], list[Unserved]] = {}
    for item in book.plan.unserved:
        found.setdefault((item.stock, item.reason.form), []).append(item)
    if found:
        yield Heading(text="What no board gives", level=2)
    for items in found.values():
        worst = max(items, key=lambda item: item.length)
        cure = f" {sentence(worst.cure)}" if worst.cure else ""
        yield Banner(text=f"NO BOARD for {ids_text([item.part for item in items])}: {worst.reason}.{cure}", size=BODY)


def _ruined(book: Book) -> Iterator[Block]:
    """Which board, which stop, how to write it down."""
    yield Heading(text="When a piece is ruined", level=2)
    spares = [
        f"{row.spare} of {row.stock} {row.species} {row.length}"
        for row in buy_rows(book.plan, book.cost, book.config.tape)
        if row.length and row.spare != "0"
    ]
    yield Words(texts=("Stop, and keep the ruined piece: a shorter one may come out of it.", *_again(book, spares)))


def _again(book: Book, spares: Sequence[str]) -> Iterator[str]:
    yield (
        "Cut it again at the same fence, stop and mitre, from a spare board of the same kind: "
        + (", ".join(spares) if spares else "none is planned, so buy one")
        + "."
    )
    yield f"Write it down: lacunar done {book.config.path.name} --spoilt C1-S03, with its own number."
    yield "Then build again: the new plan says from which board it is cut. Paper with another plan code is old."
