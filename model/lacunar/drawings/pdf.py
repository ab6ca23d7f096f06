"""Pages as a PDF, by typst. The same pages give the same bytes."""

import importlib.util
import json
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Any, Final

from lacunar.drawings.drawing import Page, Stroke, Thing, simple
from lacunar.errors import ExportError, Problem

FONTS: Final = ("DejaVu Sans", "Libertinus Serif")
"""The first one that is there is used: a sans that is read at arm's length, else typst's own."""

TEMPLATE: Final = Path(__file__).with_name("sheet.typ")

PRINTED: Final = 0
"""Seconds since 1970: a fixed date in the file, so that the same sheet is the same file."""


def pdf_bytes(pages: Sequence[Page], title: str, *, archival: bool = False) -> bytes:
    """The pages as one PDF.

    Args:
        pages: in order.
        title: of the document.
        archival: as PDF/A-2b; a glyph that no font has is an error then, not an empty box.

    Raises:
        ExportError: typst refuses the pages.
    """
    import typst

    sheets = [{"size": page.size, "things": [*map(_thing, simple(page.things))]} for page in pages]
    data = {"title": title, "fonts": list(FONTS), "pages": sheets}
    try:
        return typst.compile(
            TEMPLATE,
            font_paths=list(font_folders()),
            ignore_system_fonts=True,
            sys_inputs={"data": json.dumps(data, ensure_ascii=False)},
            pdf_standards=["a-2b"] if archival else [],
            timestamp=PRINTED,
        )
    except typst.TypstError as error:
        what = f"the pages cannot be set: {error}"
        raise ExportError([Problem(where=title, what=what, fix="write the title in plain letters")]) from error


def font_folders() -> tuple[Path, ...]:
    """Where a sans font is, of those that come with what lacunar needs anyway."""
    spec = importlib.util.find_spec("matplotlib")
    places = spec.submodule_search_locations if spec is not None else None
    folders = [Path(place) / "mpl-data" / "fonts" / "ttf" for place in places or ()]
    return tuple(folder for folder in folders if folder.is_dir())


def _thing(thing: Thing) -> dict[str, Any]:
    """As the template reads it: plain numbers in mm."""
    spots = thing.points if isinstance(thing, Stroke) else (thing.at,)
    return asdict(thing) | {"kind": type(thing).__name__, "spots": [[round(c, 3) for c in spot] for spot in spots]}
