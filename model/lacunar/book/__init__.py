"""What the crew carries: a book, labels, templates."""

from lacunar.book.make import crew_book, foot
from lacunar.book.subject import Book

__all__ = ["Book", "crew_book", "foot"]
