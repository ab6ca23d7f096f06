"""A plan on paper: AB across the top, the same way round as the floor, with names on everything."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from lacunar.drawings.drawing import GREY, PALE, WHITE, Outline, Spot, Text, Thing
from lacunar.drawings.spots import between
from lacunar.geometry import Point
from lacunar.layout import Bar, CutOut, Layout

LETTER_OUT: Final = 4.2
"""mm. From a corner to its letter, along both walls."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanView:
    """A piece of the plan in a rectangle of the page.

    Attributes:
        scale: mm of paper per mm of plan.
        origin: paper place of the plan point (0, 0).
    """

    scale: float
    origin: Spot

    def spot(self, point: Point) -> Spot:
        """A plan point on the paper."""
        return self.origin[0] + self.scale * point[0], self.origin[1] - self.scale * point[1]

    def spots(self, points: Iterable[Point]) -> tuple[Spot, ...]:
        """Plan points on the paper."""
        return tuple(self.spot(point) for point in points)


def fitted(points: Sequence[Point], at: Spot, size: Spot, margin: float = 0.0) -> PlanView:
    """As large as goes, in the middle of a rectangle of the page less a margin."""
    xs, ys = zip(*points, strict=True)
    wide, high = size[0] - 2.0 * margin, size[1] - 2.0 * margin
    scale = min(wide / (max(xs) - min(xs)), high / (max(ys) - min(ys)))
    middle = ((max(xs) + min(xs)) / 2.0, (max(ys) + min(ys)) / 2.0)
    origin = (at[0] + margin + wide / 2.0 - scale * middle[0], at[1] + margin + high / 2.0 + scale * middle[1])
    return PlanView(scale=scale, origin=origin)


def room_outline(view: PlanView, ring: Sequence[Point], layout: Layout | None, *, names: bool = True) -> list[Thing]:
    """Walls, beams with their names beside them, fixtures."""
    things: list[Thing] = []
    for bar in layout.beams if layout is not None else ():
        things.append(Outline(points=view.spots(bar.outline), width=0.2, colour=GREY, fill=PALE, layer="wood"))
        things += [_beam_name(view, bar)] if names else []
    things += [hole_outline(view, hole, WHITE) for hole in (layout.cut_outs if layout is not None else ())]
    return [*things, Outline(points=view.spots(ring), width=0.7, layer="room")]


def hole_outline(view: PlanView, hole: CutOut, fill: str = "") -> Outline:
    """What a fixture takes out of the slats."""
    return Outline(points=view.spots(hole.outline), colour=GREY, fill=fill, layer="room")


def _beam_name(view: PlanView, bar: Bar) -> Text:
    """Beside a beam near its first end: right of one that runs up the page, above one that runs across."""
    (end, other), half = view.spots(bar.axis), bar.width * view.scale / 2.0
    x, y = between(end, other, min(0.45, 5.0 / math.dist(end, other)))
    upright = abs(other[1] - end[1]) > abs(other[0] - end[0])
    return Text(at=(x + half + 0.8, y) if upright else (x, y - half - 1.8), text=bar.id, size=7.0, layer="wood")


def corner_letters(
    view: PlanView, ring: Sequence[Point], letters: Sequence[str], size: float = 13.0, least: float = 10.0
) -> list[Thing]:
    """Letters outside the corners, where no tape along a wall runs; `least` points in a corner that juts in."""
    spots = view.spots(ring)
    things: list[Thing] = []
    for letter, (x, y), ((dx, dy), juts) in zip(letters, spots, ways_out(spots), strict=True):
        out, points = (0.7 * LETTER_OUT, least) if juts else (LETTER_OUT, size)
        at = (x + out * dx, y + out * dy)
        things.append(Text(at=at, text=letter, size=points, anchor="centre", bold=True, layer="room"))
    return things


def ways_out(spots: Sequence[Spot]) -> list[tuple[Spot, bool]]:
    """Of each corner of a ring clockwise on the page: the way outwards along both its sides, and whether it juts in."""
    found: list[tuple[Spot, bool]] = []
    for i, (x, y) in enumerate(spots):
        (ax, ay), (bx, by) = spots[i - 1], spots[(i + 1) % len(spots)]
        before, after = math.dist((x, y), (ax, ay)), math.dist((x, y), (bx, by))
        dx, dy = (x - ax) / before + (x - bx) / after, (y - ay) / before + (y - by) / after
        juts = (x - ax) * (by - y) - (y - ay) * (bx - x) < 0.0
        found.append(((-dx, -dy) if juts else (dx, dy), juts))
    return found
