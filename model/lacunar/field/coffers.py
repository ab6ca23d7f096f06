"""Stage coffers: what to measure of each opening between beams before its slats are cut."""

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations, pairwise

from shapely import LineString, Polygon
from shapely import Point as Point2

from lacunar.field.angled import angled_rows
from lacunar.field.coffer_frame import Frame, frames, told_apart
from lacunar.field.sheet_row import Row
from lacunar.geometry import Point
from lacunar.layout import Layout
from lacunar.survey import Room, ceiling_height
from lacunar.tolerances import ARITHMETIC

TOUCHES = 10.0
"""mm. A tape that passes another corner more closely bends round it. Own choice."""

FORMERLY = ("length at start", "length at middle", "length at end")
"""What the three lengths were called on sheets that were printed before."""


def stations(frame: Frame) -> tuple[float, float, float]:
    """How far across lengths are taken: along the middle of the first slat, half way, along the last slat."""
    at = [sum(frame.place(p)[1] for p in slat.axis) / 2.0 for slat in frame.slats]
    first, last = min(at), max(at)
    if last - first < frame.slats[0].width / 2.0:
        half = frame.slats[0].width / 4.0
        first, last = first - half, last + half
    return first, (first + last) / 2.0, last


def length_names(frame: Frame) -> tuple[str, str, str]:
    """Of the lengths at the stations, by the slats that they are taken along."""
    numbers = [slat.number for slat in frame.slats]
    first, last = told_apart((f"S{min(numbers):02d}", f"S{max(numbers):02d}"))
    return f"length at {first}", "length half way", f"length at {last}"


def chord_ends(frame: Frame, across: float) -> tuple[Point, Point] | None:
    """Where a tape along the slats meets the coffer's sides."""
    sides = frame.chord(frame.line(across))
    if sides is None:
        return None
    first, second = (frame.point(frame.reach(side, across), across) for side in sides)
    return first, second


def coffer_rows(room: Room, layout: Layout) -> Iterator[Row]:
    """Of every coffer: lengths, widths, depth, diagonals; where slats lie at an angle, the line of each of them."""
    for frame in frames(layout):
        if frame.is_angled:
            yield from angled_rows(frame)
        else:
            yield from _lengths(frame)
            yield from width_rows(frame)
            yield from _depth(room, layout, frame)
            yield from _diagonals(frame)


def _row(frame: Frame, short: str, design: float, ends: tuple[Point, Point], note: str, optional: bool = False) -> Row:
    card = frame.coffer.id
    return Row(stage="coffers", card=card, short=short, design=design, ends=ends, note=note, optional=optional)


def _lengths(frame: Frame) -> Iterator[Row]:
    where = ("first slat", "half way", "last slat")
    names = zip(length_names(frame), FORMERLY, strict=True)
    for (short, before), across, note in zip(names, stations(frame), where, strict=True):
        ends = chord_ends(frame, across)
        if ends is not None:
            row = _row(frame, short, math.dist(*ends) * frame.stretch[0], ends, note)
            yield replace(row, formerly=f"{row.card} {before}")


def width_names(frame: Frame) -> tuple[str, str]:
    """Of the two widths, by what stands beside them; numbered where that is the same thing."""
    first, second = told_apart(frame.end_names())
    return f"width at {first}", f"width at {second}"


def width_rows(frame: Frame) -> Iterator[Row]:
    """Square from the start side to the two far corners."""
    for short, corner in zip(width_names(frame), frame.far_corners, strict=True):
        along, across = frame.place(corner)
        ends = (frame.point(along, 0.0), corner)
        yield _row(frame, short, across * frame.stretch[1], ends, "square across")


def _depth(room: Room, layout: Layout, frame: Frame) -> Iterator[Row]:
    """At the first corner that a beam stands at: from the old ceiling to the beam's underside."""
    bars = {bar.id: bar for bar in (*layout.beams, *layout.half_beams, *layout.pieces)}
    for before, side in pairwise((frame.coffer.sides[-1], *frame.coffer.sides)):
        bar = bars.get(side.against) or bars.get(before.against)
        if bar is not None:
            corner = side.start
            depth = ceiling_height(room, corner) - bar.bottom.at(corner)
            yield _row(frame, "depth", depth, (corner, corner), f"underside of {bar.id}")
            return


def diagonals(frame: Frame) -> Iterator[tuple[str, tuple[Point, Point]]]:
    """Between corners that see each other and share no side, by their numbers: name and ends."""
    corners = [side.start for side in frame.coffer.sides]
    inside = Polygon(corners).buffer(ARITHMETIC)
    for (i, a), (j, b) in combinations(enumerate(corners), 2):
        others = [point for k, point in enumerate(corners) if k not in (i, j)]
        if j - i in (1, len(corners) - 1):
            continue
        tape = LineString((a, b))
        if inside.covers(tape) and all(tape.distance(Point2(point)) > TOUCHES for point in others):
            yield f"diagonal {i + 1}-{j + 1}", (a, b)


def _diagonals(frame: Frame) -> Iterator[Row]:
    for short, ends in diagonals(frame):
        yield _row(frame, short, frame.true_length(*ends), ends, "optional", True)
