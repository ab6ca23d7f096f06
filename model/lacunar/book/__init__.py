"""What the crew carries: a book, labels, templates."""

from lacunar.book.label_pages import label_pages

__all__ = ["label_pages"]
