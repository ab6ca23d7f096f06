"""Numbers in discs, each on the line that it is about, and apart from each other."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from lacunar.drawings.drawing import GREY, Disc, Spot, Stroke, Text, Thing
from lacunar.drawings.spots import between, distance_to

BADGE: Final = 2.7
"""mm. Radius of a number's disc."""
SHARES: Final = (0.5, 0.42, 0.58, 0.34, 0.66, 0.27, 0.73, 0.2, 0.8, 0.14, 0.86)
"""Where along its line a number may stand, the likeliest first."""
BEYOND: Final = (4.0, 7.0, 10.0, 13.0)
"""mm. So far past an end of its line a number may stand where there is no room on it, with a thin line to it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbered:
    """A line on the paper that wants its number."""

    number: int
    start: Spot
    end: Spot


def badge(at: Spot, number: int) -> list[Thing]:
    """A number in a disc."""
    size = 8.0 if number < 100 else 6.5
    return [
        Disc(at=at, radius=BADGE, width=0.35, layer="measures"),
        Text(at=at, text=str(number), size=size, anchor="centre", bold=True, layer="measures"),
    ]


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
            to_lines = min((distance_to(at, other.start, other.end) for other in others), default=50.0)
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
                return at, [Stroke(points=(end, at), width=0.15, colour=GREY, layer="measures")]
    return otherwise, []
