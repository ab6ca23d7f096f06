"""The plan on paper: AB across the top, the same way round as the floor."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from lacunar.drawings import BLACK, GREY, PALE, WHITE, Label, Spot, Stroke, Thing
from lacunar.field.paper import BADGE, badge
from lacunar.field.sketch import Sketch
from lacunar.geometry import Point

LETTER_OUT = 4.2
"""mm. From a corner to its letter, along both walls."""
TICK = 1.3
"""mm. Half of an end tick."""


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
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


def fitted(points: Sequence[Point], at: Spot, size: Spot) -> View:
    """As large as goes, in the middle of a rectangle of the page."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    scale = min(size[0] / (max(xs) - min(xs)), size[1] / (max(ys) - min(ys)))
    middle = ((max(xs) + min(xs)) / 2.0, (max(ys) + min(ys)) / 2.0)
    origin = (at[0] + size[0] / 2.0 - scale * middle[0], at[1] + size[1] / 2.0 + scale * middle[1])
    return View(scale=scale, origin=origin)


def room_outline(view: View, drawn: Sketch, *, names: bool = True) -> list[Thing]:
    """Walls, beams with their names beside them, fixtures."""
    things: list[Thing] = []
    layout = drawn.layout
    if layout is not None:
        for bar in layout.beams:
            things.append(Stroke(points=view.spots(bar.outline), closed=True, width=0.2, colour=GREY, fill=PALE))
            end, other = view.spots(bar.axis)
            things += [_beam_name(bar.id, end, other, bar.width * view.scale / 2.0)] if names else []
        for hole in layout.cut_outs:
            things.append(Stroke(points=view.spots(hole.outline), closed=True, width=0.25, colour=GREY, fill=WHITE))
    things.append(Stroke(points=view.spots(drawn.ring), closed=True, width=0.7))
    return things


def _beam_name(name: str, end: Spot, other: Spot, half: float) -> Label:
    """Beside a beam near its first end: right of one that runs up the page, above one that runs across."""
    x, y = between(end, other, min(0.45, 5.0 / math.dist(end, other)))
    if abs(other[1] - end[1]) > abs(other[0] - end[0]):
        return Label(at=(x + half + 0.8, y), text=name, size=7.0)
    return Label(at=(x, y - half - 1.8), text=name, size=7.0)


def corner_letters(view: View, drawn: Sketch) -> list[Thing]:
    """Letters outside the corners, where no tape along a wall runs; smaller in a corner that juts into the room."""
    spots = view.spots(drawn.ring)
    things: list[Thing] = []
    for letter, (x, y), ((dx, dy), juts) in zip(drawn.corners, spots, ways_out(spots), strict=True):
        out, size = (0.7 * LETTER_OUT, 10.0) if juts else (LETTER_OUT, 13.0)
        things.append(Label(at=(x + out * dx, y + out * dy), text=letter, size=size, anchor="centre", bold=True))
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


def tape(start: Spot, end: Spot, *, dashed: bool = False, colour: str = BLACK, width: float = 0.3) -> list[Thing]:
    """A measured distance: a line with a tick at each end."""
    length = math.dist(start, end)
    if length == 0.0:
        return []
    nx, ny = -(end[1] - start[1]) / length * TICK, (end[0] - start[0]) / length * TICK
    ticks: list[Thing] = [
        Stroke(points=((x - nx, y - ny), (x + nx, y + ny)), width=0.4, colour=colour) for x, y in (start, end)
    ]
    return [Stroke(points=(start, end), width=width, colour=colour, dashed=dashed), *ticks]


def between(start: Spot, end: Spot, share: float) -> Spot:
    """A place on the line from one to the other."""
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def aside(start: Spot, end: Spot, by: float) -> tuple[Spot, Spot]:
    """The line moved to its left as drawn from start to end (y down: to the right hand of a reader)."""
    length = math.dist(start, end) or 1.0
    nx, ny = (end[1] - start[1]) / length * by, -(end[0] - start[0]) / length * by
    return (start[0] + nx, start[1] + ny), (end[0] + nx, end[1] + ny)


SHARES = (0.5, 0.42, 0.58, 0.34, 0.66, 0.27, 0.73, 0.2, 0.8, 0.14, 0.86)
"""Where along its line a number may stand, the likeliest first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbered:
    """A line on the paper that wants its number."""

    number: int
    start: Spot
    end: Spot


BEYOND = (4.0, 7.0, 10.0, 13.0)
"""mm. So far past an end of its line a number may stand where there is no room on it, with a thin line to it."""


def place_badges(lines: Sequence[Numbered], taken: Sequence[Spot] = ()) -> list[Thing]:
    """Each number on its own line, as far from other numbers and other lines as it gets; past its end for want of room.

    The shortest lines choose first.
    """
    places: list[Spot] = list(taken)
    things: list[Thing] = []
    for line in sorted(lines, key=lambda line: math.dist(line.start, line.end)):
        others = [other for other in lines if other is not line]

        def free(share: float, line: Numbered = line, others: Sequence[Numbered] = others) -> float:
            at = between(line.start, line.end, share)
            to_lines = min((distance_to(at, other) for other in others), default=50.0)
            return min(_to_nearest(at, places), 12.0) + min(to_lines, 5.0) - 2.0 * abs(share - 0.5)

        best = between(line.start, line.end, max(SHARES, key=free))
        if _to_nearest(best, places) < 2.0 * BADGE:
            best, leader = _past_an_end(line, places, best)
            things += leader
        places.append(best)
        things += badge(best, line.number)
    return things


def _to_nearest(at: Spot, places: Sequence[Spot]) -> float:
    return min((math.dist(at, place) for place in places), default=50.0)


def _past_an_end(line: Numbered, places: Sequence[Spot], otherwise: Spot) -> tuple[Spot, list[Thing]]:
    """The nearest place past either end that is free, and the line to it."""
    length = math.dist(line.start, line.end) or 1.0
    for by in BEYOND:
        for end, share in ((line.start, -by / length), (line.end, 1.0 + by / length)):
            at = between(line.start, line.end, share)
            if _to_nearest(at, places) >= 2.0 * BADGE:
                return at, [Stroke(points=(end, at), width=0.15, colour=GREY)]
    return otherwise, []


def distance_to(at: Spot, line: Numbered) -> float:
    """From a place to a line."""
    dx, dy = line.end[0] - line.start[0], line.end[1] - line.start[1]
    square = dx * dx + dy * dy or 1.0
    share = min(1.0, max(0.0, ((at[0] - line.start[0]) * dx + (at[1] - line.start[1]) * dy) / square))
    return math.dist(at, (line.start[0] + share * dx, line.start[1] + share * dy))
