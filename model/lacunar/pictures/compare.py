"""Several pictures as one, side by side."""

from collections.abc import Sequence
from pathlib import Path

import numpy as np
from PIL import Image

from lacunar.pictures.captions import PAPER, Pixels, with_strip


def side_by_side(
    pictures: Sequence[Path | Pixels],
    captions: Sequence[str],
    path: Path,
    remarks: Sequence[str] = (),
    width: int = 2400,
) -> Path:
    """Join pictures in rows, each with its caption, and a remark if there are any, under it.

    Args:
        pictures: files or pixels, of about one shape.
        captions: one each.
        path: where the whole is written, PNG.
        remarks: one each, or none.
        width: of the whole, pixels.

    Raises:
        ValueError: no picture, or captions or remarks of another number.
    """
    if not pictures or len(pictures) != len(captions) or len(remarks) not in (0, len(pictures)):
        raise ValueError(f"got {len(pictures)} pictures and {len(captions)} captions, must be as many, at least one")
    n = len(pictures)
    columns = n if n <= 3 else 2 if n == 4 else 3
    gap = 12
    wide = min((width - gap * (columns + 1)) // columns, 1600)
    tiles = [
        with_strip(_fitted(p, wide), c, r) for p, c, r in zip(pictures, captions, remarks or [""] * n, strict=True)
    ]
    rows = [tiles[i : i + columns] for i in range(0, n, columns)]
    heights = [max(t.shape[0] for t in row) for row in rows]
    out = np.full(
        (sum(heights) + gap * (len(rows) + 1), columns * wide + gap * (columns + 1), 3), PAPER, dtype=np.uint8
    )
    y = gap
    for row, height in zip(rows, heights, strict=True):
        for k, tile in enumerate(row):
            x = gap + k * (wide + gap)
            out[y : y + tile.shape[0], x : x + wide] = tile
        y += height + gap
    Image.fromarray(out).save(path, compress_level=4)
    return path


def _fitted(picture: Path | Pixels, width: int) -> Pixels:
    image = Image.open(picture).convert("RGB") if isinstance(picture, Path) else Image.fromarray(picture)
    height = max(1, round(image.height * width / image.width))
    return np.asarray(image.resize((width, height), Image.Resampling.LANCZOS), dtype=np.uint8)
