"""Printed pages: what stands on them, and the PDF of them."""

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
    rectangle,
    texts,
)
from lacunar.drawings.pdf import pdf_bytes

__all__ = [
    "A4",
    "BLACK",
    "GREY",
    "LETTER",
    "PALE",
    "WHITE",
    "Anchor",
    "Disc",
    "Label",
    "Page",
    "Spot",
    "Stroke",
    "Thing",
    "pdf_bytes",
    "rectangle",
    "texts",
]
