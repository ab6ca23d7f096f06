"""Templates that are wider than a strip, and how they are tiled over sheets in rows and columns."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import shapely

from lacunar.book.stick_tiles import OVERLAP
from lacunar.drawings import GREY, Spot, Stroke, Text, Thing, moved, rectangle, text_width


@dataclass(frozen=True, slots=True, kw_only=True)
class Template:
    """A drawing at full size.

    Attributes:
        name: what it is for.
        shows: in words.
        size: mm.
        strokes: from its top left corner.
        labels: likewise.
        notes: paragraphs beside it.
    """

    name: str
    shows: str
    size: Spot
    strokes: tuple[Stroke, ...]
    labels: tuple[Text, ...]
    notes: tuple[str, ...] = ()


Window = tuple[int, int]
"""Row and column of a tile, from 0."""


def windows(template: Template, room: Spot) -> tuple[Window, ...]:
    """Its tiles, row by row."""
    columns, rows = (_count(size, one) for size, one in zip(template.size, room, strict=True))
    return tuple((row, column) for row in range(rows) for column in range(columns))


def _count(size: float, room: float) -> int:
    return max(1, math.ceil((size - OVERLAP) / (room - OVERLAP)))


def tile_title(template: Template, window: Window, tiles: tuple[Window, ...]) -> str:
    """What a tile is, and what joins it."""
    if len(tiles) == 1:
        return f"{template.name}: {template.shows}"
    (row, column), rows, columns = window, tiles[-1][0] + 1, tiles[-1][1] + 1
    beside = [other for other in tiles if abs(other[0] - row) + abs(other[1] - column) == 1]
    joins = " and ".join(f"row {r + 1} column {c + 1}" for r, c in beside)
    return (
        f"{template.name}: row {row + 1} of {rows}, column {column + 1} of {columns}; joins {joins}, cross over cross"
    )


def template_tile(template: Template, window: Window, room: Spot) -> Iterator[Thing]:
    """What of a template lies on one tile, from the tile's top left corner."""
    (row, column), (wide, tall) = window, room
    left, top = column * (wide - OVERLAP), row * (tall - OVERLAP)
    size = (min(wide, template.size[0] - left), min(tall, template.size[1] - top))
    box = shapely.box(left, top, left + size[0], top + size[1])
    for stroke in template.strokes:
        inside = shapely.intersection(shapely.LineString(stroke.points), box)
        for part in shapely.get_parts(inside).tolist():
            if isinstance(part, shapely.LineString):
                points = tuple((float(x), float(y)) for x, y in part.coords)
                yield from moved([replace(stroke, points=points)], (-left, -top))
    for text in moved((text for text in template.labels if _inside(text.at, (left, top), size)), (-left, -top)):
        yield _kept_in(text, size[0]) if isinstance(text, Text) else text
    yield rectangle((0.0, 0.0), size, width=0.2, colour=GREY)
    yield from _crosses(template, (left, top), size)


def _kept_in(text: Text, wide: float) -> Text:
    """A name that is centred near the edge of a tile, moved so far in that it is whole."""
    half = text_width(text.text, text.size, bold=text.bold) / 2.0 + 1.0
    if text.anchor != "centre" or text.turn or 2.0 * half > wide:
        return text
    return replace(text, at=(min(max(text.at[0], half), wide - half), text.at[1]))


def _inside(at: Spot, corner: Spot, size: Spot) -> bool:
    return all(low <= one <= low + wide for one, low, wide in zip(at, corner, size, strict=True))


def _crosses(template: Template, corner: Spot, size: Spot) -> Iterator[Thing]:
    """In the middle of what two tiles have in common, at both ends of it."""
    xs = _joints(corner[0], size[0], template.size[0])
    ys = _joints(corner[1], size[1], template.size[1])
    near = OVERLAP / 2.0
    spots = [(x, y) for x in xs for y in (near, size[1] - near)] + [(x, y) for y in ys for x in (near, size[0] - near)]
    for x, y in dict.fromkeys(spots):
        for dx, dy in ((5.0, 0.0), (0.0, 5.0)):
            yield Stroke(points=((x - dx, y - dy), (x + dx, y + dy)), width=0.15)


def _joints(start: float, size: float, whole: float) -> list[float]:
    first = [OVERLAP / 2.0] if start > 0.0 else []
    return first + ([size - OVERLAP / 2.0] if start + size < whole - 1e-6 else [])
