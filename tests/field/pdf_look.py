"""What a PDF holds, read by another library than the one that wrote it."""

# pyright: basic
# pypdfium2 has no types.

from pathlib import Path

import pypdfium2
from PIL import Image


def page_texts(path: Path | bytes) -> list[str]:
    """The text of each page."""
    document = pypdfium2.PdfDocument(path)
    try:
        return [page.get_textpage().get_text_range() for page in document]
    finally:
        document.close()


def page_sizes(path: Path | bytes) -> list[tuple[float, float]]:
    """Width and height of each page, mm."""
    document = pypdfium2.PdfDocument(path)
    try:
        return [tuple(side * 25.4 / 72.0 for side in page.get_size()) for page in document]
    finally:
        document.close()


def ink(path: Path | bytes) -> list[float]:
    """Share of each page that is not white."""
    document = pypdfium2.PdfDocument(path)
    try:
        pictures = [page.render(grayscale=True).to_numpy() for page in document]
        return [float((picture < 200).mean()) for picture in pictures]
    finally:
        document.close()


def picture(path: Path, page: int = 0) -> Image.Image:
    """One page in grey, 216 dots to the inch."""
    document = pypdfium2.PdfDocument(path)
    try:
        return document[page].render(scale=3, grayscale=True).to_pil()
    finally:
        document.close()
