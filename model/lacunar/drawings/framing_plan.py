"""Beams and pieces in the plan with their names, and where a prop goes under each end."""

import math
from collections.abc import Iterator, Sequence
from typing import Final

from lacunar.drawings.coffer_wood import MOST_DOWN, plated
from lacunar.drawings.drawing import BLACK, WHITE, Disc, Outline, Spot, Text, Thing
from lacunar.drawings.plan_view import PlanView, corner_letters, room_outline
from lacunar.drawings.scales import WHOLE, to_scale
from lacunar.drawings.spots import between
from lacunar.layout import Bar, Layout
from lacunar.survey import Room

AROUND: Final = 9.0
"""mm. For the corners' letters."""
PROP: Final = 1.3
"""mm. Radius of a prop's mark."""
FROM_END: Final = 0.1
"""Of a piece's length: where its props stand. Source: common practice, no source; near the ends, clear of the joint."""
NAME_AT: Final = 0.12
"""Of a beam's length: where its name is, clear of the rows."""


def framing_plan(
    room: Room, layout: Layout, size: Spot, letters: float, steps: Sequence[int] = WHOLE
) -> tuple[list[Thing], float, int]:
    """The drawing from (0, 0), how far down it reaches, and the number n of its scale 1 : n."""
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
    return things, max(y for _, y in view.spots(room.points)) + AROUND, number


def _going_up(layout: Layout) -> Iterator[Bar]:
    yield from (bar for bar in layout.beams if bar.kind == "main beam")
    yield from (*layout.half_beams, *layout.pieces)


def _bars(view: PlanView, bars: Sequence[Bar]) -> Iterator[Thing]:
    for bar in bars:
        yield Outline(points=view.spots(bar.outline), width=0.35, fill=WHITE, layer="wood")


def _named(view: PlanView, bar: Bar, share: float, size: float) -> Iterator[Thing]:
    """On the bar itself, along it; its letters never head down."""
    a, b = view.spots(bar.axis)
    turn = math.atan2(a[1] - b[1], b[0] - a[0])
    turn = (turn + MOST_DOWN) % math.pi - MOST_DOWN
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
