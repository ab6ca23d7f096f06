"""The tick list: the rows of done.csv with boxes, by what they wait for."""

from collections.abc import Iterator
from typing import Final

from lacunar.book.saw_rows import Row
from lacunar.book.subject import Book
from lacunar.book.waiting import banners, under_banners
from lacunar.done import TICK, tick_rows
from lacunar.drawings import Block, Heading, Table, Words
from lacunar.parts import field_sheets
from lacunar.told import counted

BOX: Final = "☐"
TICKED: Final = "☒"
HEAD: Final = ("Piece", "Board", "Length", "cut", "up", "spoilt")


def tick_list(book: Book) -> Iterator[Block]:
    """Two pieces a row, sheet by sheet of field measures."""
    told = [*tick_rows(book.parts, book.plan, book.config)]
    rows = {cells[0]: _row(cells) for cells in told}
    if not rows:
        return
    sheets = {cells[0]: cells[1] for cells in told}  # its kind, where it waits for nothing
    # A rip is a slat too, and told as a rip.
    sheets |= {part: sheet for sheet, parts in field_sheets(book.parts).items() for part in parts if part in rows}
    name = book.config.path.name
    yield Heading(text="Tick list")
    yield Words(
        texts=(
            "Tick a piece when it is cut and when it is up. If it is spoilt, write how often.",
            f"lacunar measure {name} --stage done -o sheets writes the same rows as done.csv. Put an x for each tick.",
            f"Then: lacunar measure {name} --apply sheets/done.csv",
        )
    )
    waits = banners(book)
    for sheet in dict.fromkeys(sheets.values()):
        pieces = counted(sum(one == sheet for one in sheets.values()), "piece")
        yield Heading(text=f"{sheet.capitalize()}, {pieces}", level=2)
        pairs = ((waits.get(part, ""), row) for part, row in rows.items() if sheets[part] == sheet)
        for banner, some in under_banners(pairs):
            half = (len(some) + 1) // 2
            blank: Row = ("",) * len(HEAD)
            beside = (*some[half:], *([blank] if len(some) % 2 else []))
            yield Table(
                head=(*HEAD, *HEAD),
                rows=tuple((*a, *b) for a, b in zip(some[:half], beside, strict=True)),
                shares=(0, 0, 1, 0, 0, 0) * 2,
                bold=(0, len(HEAD)),
                banner=banner,
                size=9.5,
            )


def _row(cells: tuple[str, ...]) -> Row:
    part, _, _, board, length, *ticks = cells
    return part, board, length, *(TICKED if t == TICK else t or BOX for t in ticks)
