"""Pages and documents as a PDF, by typst. The same give the same bytes."""

import json
import shutil
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict, fields
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final, cast

from lacunar.drawings.document import FOOT, HEAD, Block, Document, Figure, Picture
from lacunar.drawings.drawing import Page, Stroke, Thing, simple
from lacunar.drawings.glyphs import FONT, font_folders, printable
from lacunar.drawings.lettering import cut_short, text_width
from lacunar.errors import ExportError, Problem

_FOLDER: Final = Path(__file__).parent
TEMPLATE: Final = _FOLDER / "sheet.typ"
BOOK: Final = ("book.typ", "things.typ")

FOOT_SIZE: Final = 9.0
"""Points."""

PRINTED: Final = 0
"""Seconds since 1970: a fixed date in the file, so that the same sheet is the same file."""


def pdf_bytes(pages: Sequence[Page], title: str, *, archival: bool = False) -> bytes:
    """The pages as one PDF.

    Args:
        pages: in order.
        title: of the document.
        archival: as PDF/A-2b; a glyph that the font lacks is an error then, not a question mark.

    Raises:
        ExportError: typst refuses the pages.
    """
    sheets = [{"size": page.size, "things": _things(page.things)} for page in pages]
    data = {"title": printable(title), "font": FONT, "pages": sheets}
    return _compiled(TEMPLATE, title, {"data": json.dumps(data, ensure_ascii=False)}, archival=archival)


def document_bytes(document: Document) -> bytes:
    """The document as a PDF; at the foot of every page its title, what plan it is of, and the page's number.

    Raises:
        ExportError: typst refuses it, or a picture of it cannot be read.
    """
    with TemporaryDirectory(prefix="lacunar-") as name:
        folder = Path(name)
        for file in BOOK:
            shutil.copy(_FOLDER / file, folder / file)
        data = {
            "title": _cut(document),
            "foot": printable(document.foot),
            "font": FONT,
            "size": document.size,
            "margin": document.margin,
            "head": HEAD,
            "foot_height": FOOT,
            "blocks": [*_blocks(document.blocks, folder)],
        }
        (folder / "data.json").write_text(json.dumps(data, ensure_ascii=False), encoding="utf-8")
        return _compiled(folder / BOOK[0], document.title, {})


def _cut(document: Document) -> str:
    """The title, as much of it as stands beside the foot."""
    room = document.width - text_width(f"{document.foot}, page 000 of 000  ", FOOT_SIZE)
    return cut_short(printable(document.title), room, lambda text: text_width(text, FOOT_SIZE))


def _compiled(template: Path, title: str, inputs: Mapping[str, str], *, archival: bool = False) -> bytes:
    import typst

    try:
        return typst.compile(
            template,
            font_paths=list(font_folders()),
            ignore_system_fonts=True,
            sys_inputs=dict(inputs),
            pdf_standards=["a-2b"] if archival else [],
            timestamp=PRINTED,
        )
    except typst.TypstError as error:
        what = f"the pages cannot be set: {error}"
        raise ExportError([Problem(where=title, what=what, fix="write the title in plain letters")]) from error


def _blocks(blocks: Iterable[Block], folder: Path) -> Iterator[dict[str, Any]]:
    """As the template reads them; pictures are copied beside it, for it reads nothing elsewhere."""
    for number, block in enumerate(blocks):
        if isinstance(block, Figure):
            told: dict[str, Any] = {"size": block.size, "things": _things(block.things)}
        elif isinstance(block, Picture):
            file = f"{number}{block.path.suffix.lower()}"
            try:
                shutil.copy(block.path, folder / file)
            except OSError as error:
                what = f"cannot be read: {error.strerror or error}"
                raise ExportError([Problem(where=str(block.path), what=what)]) from error
            told = {"file": file, "height": block.height, "alt": printable(block.alt)}
        else:
            told = _texts(asdict(block))
        yield told | {"kind": type(block).__name__}


def _texts(value: Any) -> Any:
    """The same, every text of it as the font can print it."""
    if isinstance(value, dict):
        return {key: _texts(item) for key, item in cast("dict[str, Any]", value).items()}
    if isinstance(value, tuple):
        return [_texts(item) for item in cast("tuple[Any, ...]", value)]
    return printable(value) if isinstance(value, str) else value


def _things(things: Iterable[Thing]) -> list[dict[str, Any]]:
    return [*map(_thing, simple(things))]


def _thing(thing: Thing) -> dict[str, Any]:
    """As the template reads it: plain numbers in mm."""
    spots = thing.points if isinstance(thing, Stroke) else (thing.at,)
    told = {key: getattr(thing, key) for key in _keys(type(thing))}
    told |= {"kind": type(thing).__name__, "spots": [[round(c, 3) for c in spot] for spot in spots]}
    return told if isinstance(thing, Stroke) else _texts(told)


@cache
def _keys(kind: type[Thing]) -> tuple[str, ...]:
    """What the template is told of a thing besides its places; sheets of labels have a hundred thousand of them."""
    return tuple(field.name for field in fields(kind) if field.name not in ("points", "at"))
