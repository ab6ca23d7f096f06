"""What the crew carries: a book, labels, templates."""

from lacunar.book.label_pages import label_pages
from lacunar.book.make import crew_book, foot
from lacunar.book.sheets import Sheet, drawing_sheets
from lacunar.book.subject import Book
from lacunar.book.template_pages import template_pages

__all__ = ["Book", "Sheet", "crew_book", "drawing_sheets", "foot", "label_pages", "template_pages"]
