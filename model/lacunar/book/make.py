"""The crew book: its chapters in the order in which they are worth most to who cuts and fits."""

from collections.abc import Callable, Iterable
from typing import Final

from lacunar.book.saw_sheets import saw_sheets
from lacunar.book.subject import Book
from lacunar.config import Config, printed_day
from lacunar.drawings import Block, Document, paper_size

CHAPTERS: Final[tuple[Callable[[Book], Iterable[Block]], ...]] = (saw_sheets,)


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
