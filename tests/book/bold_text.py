"""What of a PDF is bold, line by line, and what fonts it holds, read by another library than the one that wrote it."""

# pyright: basic
# pypdfium2 has no types.

import ctypes

import pypdfium2
import pypdfium2.raw as pdfium


def bold_lines(data: bytes) -> list[list[str]]:
    """Of each page, in reading order, the bold runs of each line; a run ends where something else comes between."""
    document = pypdfium2.PdfDocument(data)
    try:
        return [_page(page.get_textpage()) for page in document]
    finally:
        document.close()


def _page(text: pypdfium2.PdfTextPage) -> list[str]:
    runs, run = [], ""
    for i in range(pdfium.FPDFText_CountChars(text)):
        sign = chr(pdfium.FPDFText_GetUnicode(text, i))
        if sign.isspace() and sign not in "\r\n":
            run += " " if run else ""
        elif sign not in "\r\n" and _font(text, i).endswith("Bold"):
            run += sign
        elif run:
            runs.append(run.strip())
            run = ""
    return [*runs, run.strip()] if run else runs


def _font(text: pypdfium2.PdfTextPage, index: int) -> str:
    name = ctypes.create_string_buffer(200)
    pdfium.FPDFText_GetFontInfo(text, index, name, 200, ctypes.c_int())
    return name.value.decode()


def fonts(data: bytes) -> set[tuple[str, bool]]:
    """Name and whether it is in the file, of every font that a text is set in."""
    document = pypdfium2.PdfDocument(data)
    found = set()
    try:
        for page in document:
            for thing in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT]):
                font = pdfium.FPDFTextObj_GetFont(thing)
                name = ctypes.create_string_buffer(200)
                pdfium.FPDFFont_GetBaseFontName(font, name, 200)
                found.add((name.value.decode(), bool(pdfium.FPDFFont_GetIsEmbedded(font))))
        return found
    finally:
        document.close()
