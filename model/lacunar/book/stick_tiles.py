"""Sticks on paper: tiles at full size, each with its name, its neighbours and marks to join them by."""

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from lacunar.book.sticks import Band, Stick
from lacunar.drawings import (
    GREY,
    PALE,
    Hatch,
    Outline,
    Spot,
    Stroke,
    Text,
    Thing,
    corners,
    fitting,
    rectangle,
    text_width,
)
from lacunar.tape import Tape
from lacunar.units import FOOT, INCH

WIDE: Final = 32.0
"""mm. Of a stick: it is held in one hand and takes two lines of text on each half. Own choice."""
OVERLAP: Final = 0.75 * INCH
"""mm. That a tile has in common with the next."""
CAPTION: Final = 5.0
"""mm. A line above each tile."""
NAME: Final = 4.5
"""mm. At the beginning of a tile, for its name, turned."""


def tile_count(stick: Stick, room: float) -> int:
    """How many tiles of so much paper it takes, blank ones too."""
    n = 1
    while (n - 1) * (room - OVERLAP) + room < stick.length:
        n += 1
    return n


def tile_numbers(stick: Stick, room: float) -> tuple[int, ...]:
    """Those that are printed, from 0: a run of blank ones is left out, since a tape spans it better than glue does."""
    ends = [at for band in stick.bands for at in (band.start, band.end)]
    numbers = range(tile_count(stick, room))
    spans = {n: window(stick, n, room) for n in numbers}
    marked = {0, *(n for n, (first, last) in spans.items() if any(first <= at <= last for at in ends))}
    between = {n for n in numbers if {n - 1, n + 1} <= marked}
    return tuple(sorted(marked | between))


def window(stick: Stick, number: int, room: float) -> tuple[float, float]:
    """From where to where of a stick a tile shows."""
    first = number * (room - OVERLAP)
    return first, min(first + room, stick.length)


def caption(stick: Stick, name: str, number: int, room: float) -> str:
    """What a tile is, and what joins it."""
    printed = tile_numbers(stick, room)
    joins = [f"tile {n + 1}" for n in (number - 1, number + 1) if n in printed]
    before = max((n for n in printed if n < number), default=number - 1)
    told = [f"{name}: {stick.shows}, tile {number + 1} of {tile_count(stick, room)}"]
    told += [f"hold this end at {stick.hold}"] if number == 0 else []
    blank = f"tile {before + 2}" if before == number - 2 else f"tiles {before + 2} to {number}"
    told += [f"{blank} left out: lay its marks at those of a tape from {stick.hold}"] if before < number - 1 else []
    told += [f"joins {' and '.join(joins)}, cross over cross"] if joins else []
    return "; ".join(told)


def tile_things(stick: Stick, name: str, number: int, room: float, tape: Tape) -> Iterator[Thing]:
    """One tile from the top left corner of its strip: what of the stick lies on it.

    Args:
        stick: it.
        name: as it is called on the strip.
        number: of the tile, from 0.
        room: mm of paper along it.
        tape: that lengths are told by.
    """
    first, last = span = window(stick, number, room)
    count, wide = tile_count(stick, room), last - first
    shown = [band for band in stick.bands if band.end >= first and band.start <= last]
    for band in shown:
        yield from _area(band, span)
    for band in shown:
        for at in dict.fromkeys((band.start, band.end)):
            if first <= at <= last:
                yield _line(band, at - first)
    yield rectangle((0.0, 0.0), (wide, WIDE), width=0.2, colour=GREY)
    yield from _checks(shown, span, tape)
    for n, band in enumerate(shown):
        yield from _said(band, span, _room(band, shown[n + 1 :], span), tape)
    yield from _edges(stick, shown, span)
    printed = tile_numbers(stick, room)
    for at, is_end, other in ((0.0, first == 0.0, number - 1), (wide, last == stick.length, number + 1)):
        if is_end:
            yield Stroke(points=((at, 0.0), (at, WIDE)), width=0.9)
        elif other in printed:
            yield from _cross((OVERLAP / 2.0 if at == 0.0 else wide - OVERLAP / 2.0, WIDE / 2.0))
    held = f"{name} at {stick.hold}" if number == 0 else f"{name} {number + 1}/{count}"
    text, size = fitting(held, WIDE - 2.0, 7.0, bold=True)
    yield Text(at=(2.4, WIDE / 2.0), text=text, size=size, bold=True, anchor="centre", turn=math.pi / 2.0)


CHECKS: Final = {"in": FOOT / 2.0, "mm": 100.0}
"""mm. From one mark to the next that a tape has too; every whole tile has one at least."""


def _checks(shown: list[Band], span: tuple[float, float], tape: Tape) -> Iterator[Thing]:
    """Short marks at both edges, as a tape has them too, their numbers where no line runs through them."""
    (first, last), step = span, CHECKS[tape.units]
    lines = [at - first for band in shown if band.half != "lower" for at in (band.start, band.end)]
    for n in range(max(1, math.ceil(first / step)), math.floor(last / step) + 1):
        x, text = n * step - first, tape.words(n * step)
        for y, tall in ((0.0, 3.0), (WIDE, -3.0)):
            yield Stroke(points=((x, y), (x, y + tall)), width=0.15, colour=GREY)
        wide = text_width(text, 6.0) + 1.6
        after = x + wide < last - first and not any(x < at < x + wide for at in lines)
        before = x - wide > 0.0 and not any(x - wide < at < x for at in lines)
        if after or before:
            at = (x + 0.8 if after else x - 0.8, 1.5)
            yield Text(at=at, text=text, size=6.0, colour=GREY, anchor="left" if after else "right")


def _ys(band: Band) -> tuple[float, float]:
    return (WIDE / 2.0 if band.half == "lower" else 0.0), (WIDE / 2.0 if band.half == "upper" else WIDE)


def _area(band: Band, span: tuple[float, float]) -> Iterator[Thing]:
    (top, foot), (first, last) = _ys(band), span
    low, high = max(band.start, first) - first, min(band.end, last) - first
    if band.kind in ("row", "strip") and high > low:
        inset = 0.0 if band.kind == "row" else 0.18 * (foot - top)
        yield rectangle((low, top + inset), (high - low, foot - top - 2.0 * inset), width=0.0, fill=PALE, layer="wood")
    elif band.kind == "hole" and high > low:
        box = corners((low, top + 0.3 * (foot - top)), (high - low, 0.4 * (foot - top)))
        yield Hatch(points=box, pitch=3.0, width=0.2, layer="room")


def _line(band: Band, x: float) -> Stroke:
    top, foot = _ys(band)
    joist = band.kind == "joist"
    return Stroke(points=((x, top), (x, foot)), width=0.25 if joist else 0.35, dashed=joist, layer="measures")


LEVELS: Final = {"joist": 11.0, "hole": 14.4}
"""mm. How far from its edge the name of what lies over something else stands; that of anything else stands nearest."""
LEAST: Final = 5.0
"""mm. In less room nothing is written."""
LEAST_SAID: Final = 14.0
"""mm. In less room the edges are not named on that tile."""


def _said(band: Band, span: tuple[float, float], room: float, tape: Tape) -> Iterator[Thing]:
    """Its name, and where it begins in numbers, just behind its first line; of what lies over others on one line."""
    first, last = span
    x = max(band.start - first, NAME) + 1.0
    if room < LEAST or x > last - first - LEAST:
        return
    mark = tape.fine if band.kind == "row" else tape.read_to
    said = "" if band.start < first else tape.text(band.start, "inches", mark)
    if said and band.kind == "row":
        said = f"{said.removesuffix(' in').removesuffix(' mm')} to {tape.text(band.end, 'inches', mark)}"
    if (level := LEVELS.get(band.kind)) is not None:
        yield _over(": ".join(filter(None, (band.name, said))), band, x, room, level)
        return
    # A name stands above its number, in either half.
    for text, most, bold, y in ((band.name, 8.0, True, 3.6), (said, 7.0, False, 7.2)):
        shown, size = fitting(text, room, most, bold=bold)
        at = (x, y + (WIDE - 10.8 if band.half == "lower" else 0.0))
        yield Text(at=at, text=shown, size=size, bold=bold, layer="measures")


def _over(text: str, band: Band, x: float, room: float, level: float) -> Text:
    """On one line behind its first line; before it where there is no room behind."""
    y, wide = WIDE - level if band.half == "lower" else level, text_width(text, 7.0, bold=True)
    if wide > room and wide < x - NAME - 2.0:
        return Text(at=(x - 2.0, y), text=text, size=7.0, bold=True, anchor="right", layer="measures")
    shown, size = fitting(text, room, 7.0, bold=True)
    return Text(at=(x, y), text=shown, size=size, bold=True, layer="measures")


def _room(band: Band, later: list[Band], span: tuple[float, float]) -> float:
    """From where its name begins to the next line that would run through it, or to the tile's end."""
    first, last = span
    x = max(band.start, first + NAME)
    stops = [other.start for other in later if "both" in (band.half, other.half) or other.half == band.half]
    level = LEVELS.get(band.kind)
    same = [other.start for other in later if LEVELS.get(other.kind) == level]
    return min([*(at for at in stops if at > x and (level is None or at in same)), last]) - x - 2.0


def _edges(stick: Stick, shown: list[Band], span: tuple[float, float]) -> Iterator[Thing]:
    """What the two long edges lie along, each with an arrow to its edge, where the strip has most room."""
    names = ("both edges alike",) if stick.alike else stick.edges
    wide = max(text_width(name, 7.0) for name in names) + 5.0
    first, last = span
    lines = sorted(
        {first + NAME, last - OVERLAP, *(at for band in shown for at in (band.start, band.end) if first < at < last)}
    )
    gaps = [(b - a, a) for a, b in pairwise(lines) if b - a > 0.0]
    gap, at = max(gaps, default=(0.0, first))
    if gap < LEAST_SAID or last - first < 2.0 * OVERLAP:
        return
    x = at - first + max(gap - wide, 1.0) - 0.5
    for name, way in zip(names, (0.0,) if stick.alike else (-1.0, 1.0), strict=True):
        y = WIDE / 2.0 + 1.9 * way
        if way:
            yield Outline(points=((x, y + way), (x + 0.9, y - way), (x - 0.9, y - way)), width=0.0, fill=GREY)
        text, size = fitting(name, gap - 5.0, 7.0)
        yield Text(at=(x + 1.8, y), text=text, size=size, colour=GREY)


def _cross(at: Spot) -> Iterator[Thing]:
    """A mark that lies on that of the next tile."""
    x, y = at
    for dx, dy in ((5.0, 0.0), (0.0, 5.0)):
        yield Stroke(points=((x - dx, y - dy), (x + dx, y + dy)), width=0.15)
