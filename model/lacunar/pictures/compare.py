"""Several pictures as one: side by side, or variants under each other with what tells them apart."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np
from PIL import Image, ImageDraw

from lacunar.drawings import wrapped
from lacunar.pictures.captions import FAINT, INK, PAPER, RGB, Pixels, font, text_size, with_strip

BAD: Final[RGB] = (168, 32, 24)
RULE: Final[RGB] = (205, 201, 194)
WIDEST: Final = 1200
"""Pixels of one picture in a comparison."""

MARGIN: Final = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """One alternative to choose from.

    Attributes:
        name: what is different.
        trust: how far it can be trusted.
        pictures: one a view.
        facts: what is counted, and how much.
        against: what stands against it, in words.
        fails: something is wrong with it.
    """

    name: str
    trust: str
    pictures: Sequence[Pixels]
    facts: Sequence[tuple[str, str]]
    against: Sequence[str]
    fails: bool


@dataclass(frozen=True, slots=True)
class _Form:
    """How a sheet is laid out: so many pictures and so many facts beside each other, and the height of text."""

    width: int
    columns: int
    facts: int
    size: int

    @property
    def tile(self) -> int:
        """Width of a picture."""
        return (self.width - MARGIN * (self.columns + 1)) // self.columns


def comparison(title: str, views: Sequence[str], variants: Sequence[Variant]) -> tuple[Pixels, Pixels]:
    """A sheet with the views of each variant side by side, and a tall strip of the same for a phone.

    Args:
        title: of the room, told once.
        views: what each picture of a variant shows, told once.
        variants: at least one.
    """
    n, tile = len(views), min(WIDEST, variants[0].pictures[0].shape[1])
    width = n * tile + MARGIN * (n + 1)
    wide = _Form(width, n, len(variants[0].facts) if n > 1 else 3, text_size(max(width, 1600)))
    # Held at arm's length, a phone shows it as wide as a hand.
    tall = _Form(min(1080, tile + 2 * MARGIN), 1, 2, 30)
    return _sheet(title, views, variants, wide), _sheet(title, [", then ".join(views)], variants, tall)


def _sheet(title: str, views: Sequence[str], variants: Sequence[Variant], form: _Form) -> Pixels:
    strips = [_head(title, views, form)]
    for number, variant in enumerate(variants):
        strips += _variant(variant, form, first=number == 0)
    return np.concatenate([*strips, _blank(form, MARGIN)])


def _blank(form: _Form, height: int) -> Pixels:
    return np.full((height, form.width, 3), PAPER, dtype=np.uint8)


def _head(title: str, views: Sequence[str], form: _Form) -> Pixels:
    s, face = form.size, font(form.size)
    told = [wrapped(view.split(), form.tile, face.getlength) for view in views]
    image = Image.fromarray(_blank(form, round((3.2 + 1.4 * max(map(len, told))) * s)))
    draw = ImageDraw.Draw(image)
    draw.text((MARGIN, 1.6 * s), title, font=font(round(1.5 * s), True), fill=INK, anchor="lm")
    for k, lines in enumerate(told):
        for row, line in enumerate(lines):
            at = (MARGIN + k * (form.tile + MARGIN), (3.7 + 1.4 * row) * s)
            draw.text(at, line, font=face, fill=FAINT, anchor="lm")
    return np.asarray(image, dtype=np.uint8)


def _variant(variant: Variant, form: _Form, *, first: bool) -> Iterator[Pixels]:
    """Its name, its pictures, what is counted, what stands against it."""
    s = form.size
    head = Image.fromarray(_blank(form, round(2.6 * s)))
    draw = ImageDraw.Draw(head)
    if not first:
        draw.line((MARGIN, 1, form.width - MARGIN, 1), fill=RULE, width=2)
    draw.text((MARGIN, 1.5 * s), variant.name, font=font(round(1.25 * s), True), fill=INK, anchor="lm")
    draw.text((form.width - MARGIN, 1.5 * s), variant.trust, font=font(s), fill=FAINT, anchor="rm")
    yield np.asarray(head, dtype=np.uint8)
    tiles = [_fitted(picture, form.tile) for picture in variant.pictures]
    for k in range(0, len(tiles), form.columns):
        row = _blank(form, tiles[k].shape[0] + MARGIN // 2)
        for column, tile in enumerate(tiles[k : k + form.columns]):
            x = MARGIN + column * (form.tile + MARGIN)
            row[: tile.shape[0], x : x + form.tile] = tile
        yield row
    yield _facts(variant, form)
    yield _against(variant, form)


def _facts(variant: Variant, form: _Form) -> Pixels:
    """What is counted in small, and under it how much."""
    s, rows = form.size, -(-len(variant.facts) // form.facts)
    image = Image.fromarray(_blank(form, round(3.2 * s * rows)))
    draw, step = ImageDraw.Draw(image), (form.width - 2 * MARGIN) / form.facts
    for k, (what, value) in enumerate(variant.facts):
        x, y = MARGIN + k % form.facts * step, 3.2 * s * (k // form.facts)
        draw.text((x, y + 0.8 * s), what, font=font(round(0.85 * s)), fill=FAINT, anchor="lm")
        draw.text((x, y + 2.1 * s), value, font=font(round(1.1 * s), True), fill=INK, anchor="lm")
    return np.asarray(image, dtype=np.uint8)


def _against(variant: Variant, form: _Form) -> Pixels:
    s, face = form.size, font(form.size)
    room = form.width - 2 * MARGIN
    lines = [
        (line, variant.fails and k == 0)
        for k, text in enumerate(variant.against)
        for line in wrapped(text.split(), room, face.getlength)
    ]
    image = Image.fromarray(_blank(form, round(1.5 * s * len(lines) + 1.2 * s)))
    draw = ImageDraw.Draw(image)
    for k, (line, bad) in enumerate(lines):
        draw.text((MARGIN, (0.7 + 1.5 * k) * s), line, font=face, fill=BAD if bad else INK, anchor="lm")
    return np.asarray(image, dtype=np.uint8)


def side_by_side(pictures: Sequence[Path | Pixels], captions: Sequence[str], width: int = 2400) -> Pixels:
    """Join pictures in rows, each with its caption under it.

    Args:
        pictures: files or pixels, of about one shape.
        captions: one each.
        width: of the whole, pixels.

    Raises:
        ValueError: no picture, or captions of another number.
    """
    if not pictures or len(pictures) != len(captions):
        raise ValueError(f"got {len(pictures)} pictures and {len(captions)} captions, must be as many, at least one")
    n = len(pictures)
    columns = n if n <= 3 else 2 if n == 4 else 3
    gap = 12
    wide = min((width - gap * (columns + 1)) // columns, 1600)
    tiles = [with_strip(_fitted(p, wide), c) for p, c in zip(pictures, captions, strict=True)]
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
    return out


def _fitted(picture: Path | Pixels, width: int) -> Pixels:
    image = Image.open(picture).convert("RGB") if isinstance(picture, Path) else Image.fromarray(picture)
    height = max(1, round(image.height * width / image.width))
    return np.asarray(image.resize((width, height), Image.Resampling.LANCZOS), dtype=np.uint8)
