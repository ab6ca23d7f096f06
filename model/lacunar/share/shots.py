"""Pictures of a build as they stand in the page: without their strips, as JPEG, no larger than a screen shows."""

import io
from base64 import b64encode
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Final

from PIL import Image

from lacunar.scene import ASPECT

WIDEST: Final = 1600
"""Pixels. What a page shows is seldom wider, and the whole file is to go by message."""

GRADE: Final = 82
"""Of JPEG, to 95: the grain of wood is whole, and a picture takes a fifth of its PNG. Judged by looking."""

Shots = Mapping[str, str]
"""By view, what an `img` takes as its source."""


def read_shots(folder: Path, views: Iterable[str]) -> Shots:
    """Those of the pictures that are there."""
    files = {view: folder / f"{view}.png" for view in views}
    return {view: shot(path) for view, path in files.items() if path.exists()}


def shot(path: Path) -> str:
    """One picture as a data URI; its strip, which lies below what a camera reckons with, is left out."""
    with Image.open(path) as image:
        picture = image.convert("RGB").crop((0, 0, image.width, round(image.width / ASPECT)))
    picture.thumbnail((WIDEST, WIDEST), Image.Resampling.LANCZOS)
    data = io.BytesIO()
    picture.save(data, "JPEG", quality=GRADE, optimize=True, progressive=True)
    return f"data:image/jpeg;base64,{b64encode(data.getvalue()).decode()}"
