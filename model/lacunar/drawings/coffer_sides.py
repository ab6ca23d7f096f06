"""What the sides of a drawn coffer stand against, and the strip of trim along each, beside them."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Final

from shapely import Polygon, box

from lacunar.drawings.drawing import GREY, Spot, Stroke, Text, Thing, simple
from lacunar.drawings.lettering import cut_short, text_width
from lacunar.drawings.plan_view import PlanView
from lacunar.drawings.plates import plate, plated, text_box
from lacunar.drawings.running import height_of
from lacunar.drawings.spots import stepped
from lacunar.layout import Coffer, Layout, Side

OUTERMOST: Final = 2.0
"""mm. A side that lies no further inside is named beyond the numbers, others where there is room."""
COVERS: Final = 15.0
"""mm. So much further off a name may stand, rather than on slats."""
NEAR: Final = 8.0
"""mm. A name that stands further off has a line to its side."""


def side_names(
    layout: Layout, coffer: Coffer, view: PlanView, margin: Spot, size: float, drawn: Iterable[Thing]
) -> Iterator[Thing]:
    """Beyond the numbers, turned beside the page's sides; of a side that juts in the nearest free place.

    Args:
        layout: with the trim.
        coffer: whose sides they are.
        view: that it is drawn by.
        margin: how far from its outline the drawing reaches, across and up or down.
        size: of the letters, points.
        drawn: what is there already.
    """
    xs, ys = zip(*view.spots(coffer.outline), strict=True)
    taken = [Polygon(text_box(thing)) for thing in simple(drawn) if isinstance(thing, Text)]
    inner: list[tuple[Side, str]] = []
    for index, side in enumerate(coffer.sides):
        words = _words(layout, coffer, index)
        x, y = view.spot(side.middle)
        (right, up), half = side.line.left, height_of(size) / 2.0
        turned = abs(right) > abs(up)
        outer = (max(xs) if right > 0.0 else min(xs)) if turned else (min(ys) if up > 0.0 else max(ys))
        if abs((x if turned else y) - outer) > OUTERMOST + view.scale * side.length * abs(up if turned else right):
            inner.append((side, words))
            continue
        room = view.scale * side.length + 2.0 * (margin[1] if turned else margin[0]) - 4.0
        at = (
            (outer + right / abs(right) * (margin[0] - half), y)
            if turned
            else (x, outer - up / abs(up) * (margin[1] - half))
        )
        said = cut_short(words, room, lambda text: text_width(text, size, bold=True))
        turn = math.pi / 2.0 if turned else 0.0
        name = Text(at=at, text=said, size=size, anchor="centre", bold=True, turn=turn, layer="room")
        taken.append(Polygon(text_box(name)))
        yield name
    frame = Frame(paper=_paper(xs, ys, margin), coffer=Polygon(view.spots(coffer.outline)))
    for side, words in sorted(inner, key=lambda pair: pair[0].length):
        yield from _free(side, words, view, size, taken, frame)


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """How far the drawing reaches, and the coffer in it."""

    paper: Polygon
    coffer: Polygon


def _paper(xs: Sequence[float], ys: Sequence[float], margin: Spot) -> Polygon:
    return box(min(xs) - margin[0], min(ys) - margin[1], max(xs) + margin[0], max(ys) + margin[1])


def _words(layout: Layout, coffer: Coffer, index: int) -> str:
    trim = next((strip.id for strip in layout.trim if strip.coffer == coffer.id and strip.side == index), "")
    against = coffer.sides[index].against
    against = f"START at {against}" if index == coffer.start_side else against
    return f"{against}, trim {trim}" if trim else against


def _free(side: Side, words: str, view: PlanView, size: float, taken: list[Polygon], frame: Frame) -> Iterator[Thing]:
    """The nearest place within the drawing that no text is at, better outside the coffer; a line to the side if far."""
    middle, (right, up) = view.spot(side.middle), side.line.left
    best: tuple[float, Text] | None = None
    for by, aside in product(range(5, 90, 2), range(-60, 61, 4)):
        spot = stepped(stepped(middle, (right, -up), by), (up, right), aside)
        text = Text(at=spot, text=words, size=size, anchor="centre", bold=True, layer="room")
        own = Polygon(plate(text))
        if not frame.paper.covers(own) or any(own.intersects(other) for other in taken):
            continue
        far = math.dist(spot, middle) + (COVERS if own.intersects(frame.coffer) else 0.0)
        if best is None or far < best[0]:
            best = far, text
    if best is not None:
        text = best[1]
        taken.append(Polygon(plate(text)))
        if math.dist(text.at, middle) > NEAR:
            yield Stroke(points=(middle, text.at), width=0.2, colour=GREY, layer="room")
        yield from plated(text)
