"""Printed pages: what stands on them, and the PDF or SVG of them."""

from lacunar.drawings.boards import board_pages
from lacunar.drawings.cut_words import degrees, ends_text, mitre_settings, notch_texts, settings_by_part, wider_at
from lacunar.drawings.lettering import SMALLEST, stop_text, tape_text, text_width
from lacunar.drawings.page import (
    A4,
    BLACK,
    GREY,
    LETTER,
    PALE,
    WHITE,
    Anchor,
    Disc,
    Label,
    Page,
    Spot,
    Stroke,
    Thing,
    moved,
    rectangle,
    texts,
)
from lacunar.drawings.paper import paper_size
from lacunar.drawings.pdf import pdf_bytes
from lacunar.drawings.svg import svg_text

__all__ = [
    "A4",
    "BLACK",
    "GREY",
    "LETTER",
    "PALE",
    "SMALLEST",
    "WHITE",
    "Anchor",
    "Disc",
    "Label",
    "Page",
    "Spot",
    "Stroke",
    "Thing",
    "board_pages",
    "degrees",
    "ends_text",
    "mitre_settings",
    "moved",
    "notch_texts",
    "paper_size",
    "pdf_bytes",
    "rectangle",
    "settings_by_part",
    "stop_text",
    "svg_text",
    "tape_text",
    "text_width",
    "texts",
    "wider_at",
]
