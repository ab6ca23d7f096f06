"""The crew book: its chapters in the order in which they are worth most to who cuts and fits."""

from collections.abc import Callable, Iterable
from typing import Final

from lacunar.book.buying import buying
from lacunar.book.coffers import coffer_chapters
from lacunar.book.cover import cover
from lacunar.book.days import calendar
from lacunar.book.dry_run import dry_run
from lacunar.book.finish import finish
from lacunar.book.framing import framing_chapter
from lacunar.book.saw_sheets import saw_sheets
from lacunar.book.subject import Book
from lacunar.book.tick_list import tick_list
from lacunar.book.trim import trim
from lacunar.config import Config, printed_day
from lacunar.drawings import Block, Document, paper_size

Chapter = Callable[[Book], Iterable[Block]]

CHAPTERS: Final[tuple[Chapter, ...]] = (
    cover,
    framing_chapter,
    coffer_chapters,
    saw_sheets,
    trim,
    buying,
    finish,
    dry_run,
    tick_list,
    calendar,
)


def crew_book(subject: Book) -> Document:
    """All chapters that this ceiling has."""
    blocks = tuple(block for chapter in CHAPTERS for block in chapter(subject))
    return Document(
        title=f"{subject.config.title}: crew book",
        foot=foot(subject.config, subject.code),
        size=paper_size(subject.config),
        blocks=blocks,
    )


def foot(config: Config, code: str) -> str:
    """What every page says of itself, so that an old sheet is seen to be old."""
    return f"plan {code}, {printed_day(config)}"
