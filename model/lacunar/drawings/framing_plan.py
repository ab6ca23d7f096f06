"""Beams and pieces in the plan with their names, and where a prop goes under each end."""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from lacunar.drawings.drawing import BLACK, WHITE, Dimension, Disc, Outline, Spot, Text, Thing
from lacunar.drawings.lettering import text_width
from lacunar.drawings.plan_view import PlanView, corner_letters, room_outline
from lacunar.drawings.plates import plated, turn_along
from lacunar.drawings.running import bare, height_of, unit
from lacunar.drawings.scales import WHOLE, to_scale
from lacunar.drawings.spots import between, stepped
from lacunar.layout import Bar, Layout
from lacunar.parts import FaceMarks
from lacunar.survey import Room
from lacunar.tape import Tape

AROUND: Final = 9.0
"""mm. For the corners' letters."""
BESIDE: Final = 1.6
"""mm. From a face to the line of its rows' marks."""
PROP: Final = 1.3
"""mm. Radius of a prop's mark."""
FROM_END: Final = 0.1
"""Of a piece's length: where its props stand. Source: common practice, no source; near the ends, clear of the joint."""
NAME_AT: Final = 0.12
"""Of a beam's length: where its name is, clear of the rows."""


def framing_plan(
    room: Room, layout: Layout, size: Spot, letters: float, steps: Sequence[int] = WHOLE
) -> tuple[list[Thing], PlanView, int]:
    """The drawing from (0, 0), its view, and the number n of its scale 1 : n."""
    inner = (size[0] - 2.0 * AROUND, size[1] - 2.0 * AROUND)
    view, number = to_scale(room.points, (AROUND, AROUND), inner, steps)
    top = min(y for _, y in view.spots(room.points))
    view = PlanView(scale=view.scale, origin=(view.origin[0], view.origin[1] - (top - AROUND)))
    things = [
        *room_outline(view, room.points, layout, names=False),
        *_bars(view, (*layout.mouldings, *layout.half_beams, *layout.pieces)),
        *(thing for bar in (*layout.half_beams, *layout.pieces) for thing in _named(view, bar, 0.5, letters)),
        *(thing for bar in layout.beams for thing in _named(view, bar, _clear_of_rows(bar, layout), letters)),
        *(prop for bar in _going_up(layout) for prop in _props(view, bar)),
        *corner_letters(view, room.points, room.corners, letters, letters),
    ]
    return things, view, number


def row_lines(view: PlanView, faces: Sequence[FaceMarks], tape: Tape, size: float) -> Iterator[Thing]:
    """On a plan of the room: both lines of every row on each face, from its own end, beside that face."""
    for face in faces:
        a, b = view.spots(face.ends)
        way = unit(a, b)
        out = _outward(view, face, (way[1], -way[0]))
        turn = turn_along(a, b)
        ahead = math.cos(turn) * way[0] - math.sin(turn) * way[1] > 0.0
        crowded = not _far_apart(view, face, tape, size)
        for row in face.rows:
            first, second = (bare(mm, tape, tape.fine) for mm in (row.near, row.far))
            # What has no room before its mark stands behind the other.
            room = row.near * view.scale - 1.0 > text_width(first, size)
            behind = (row.far - row.near) * view.scale + text_width(second, size) + 3.0
            for mm, text, before in ((row.near, first, room), (row.far, second, False)):
                spot, is_far = stepped(a, way, mm * view.scale), mm == row.far
                line = tuple(stepped(point, out, BESIDE) for point in (a, spot))
                along = -0.8 if before else 0.8 if room or is_far else behind
                off = BESIDE + (1.75 if crowded and is_far else 0.75) * height_of(size)
                label = Text(
                    at=stepped(stepped(spot, way, along), out, off),
                    text=text,
                    size=size,
                    anchor="right" if before is ahead else "left",
                    turn=turn,
                    layer="measures",
                )
                yield Dimension(points=line, width=0.15, tick=0.8, label=label, layer="measures")


def _far_apart(view: PlanView, face: FaceMarks, tape: Tape, size: float) -> bool:
    """Between two rows there is room for the number behind one and the number before the next."""
    return all(
        (after.near - row.far) * view.scale
        > text_width(bare(row.far, tape, tape.fine), size) + text_width(bare(after.near, tape, tape.fine), size) + 3.0
        for row, after in pairwise(face.rows)
    )


def _outward(view: PlanView, face: FaceMarks, out: Spot) -> Spot:
    """Square away from a face, to the side that its pieces are on."""
    a, b = view.spots(face.ends)
    inside = view.spot(face.beside)
    ahead = (inside[0] - a[0]) * out[0] + (inside[1] - a[1]) * out[1]
    return out if ahead > 0.0 and a != b else (-out[0], -out[1])


def _going_up(layout: Layout) -> Iterator[Bar]:
    yield from (bar for bar in layout.beams if bar.kind == "main beam")
    yield from (*layout.half_beams, *layout.pieces)


def _bars(view: PlanView, bars: Sequence[Bar]) -> Iterator[Thing]:
    for bar in bars:
        yield Outline(points=view.spots(bar.outline), width=0.35, fill=WHITE, layer="wood")


def _named(view: PlanView, bar: Bar, share: float, size: float) -> Iterator[Thing]:
    """On the bar itself, along it; its letters never head down."""
    a, b = view.spots(bar.axis)
    turn = turn_along(a, b)
    yield from plated(
        Text(at=between(a, b, share), text=bar.id, size=size, anchor="centre", bold=True, turn=turn, layer="wood")
    )


def _clear_of_rows(bar: Bar, layout: Layout) -> float:
    """Half way between the wall that it begins at and the first row, at the most."""
    length = math.dist(*bar.axis)
    firsts = [
        math.dist(bar.axis[0], piece.axis[end])
        for piece in layout.pieces
        for end, name in enumerate(piece.meets)
        if name == bar.id
    ]
    return min(NAME_AT, min(firsts, default=length) / 2.0 / length)


def _props(view: PlanView, bar: Bar) -> Iterator[Thing]:
    a, b = view.spots(bar.axis)
    for share in (FROM_END, 1.0 - FROM_END):
        yield Disc(at=between(a, b, share), radius=PROP, width=0.0, fill=BLACK, layer="measures")
