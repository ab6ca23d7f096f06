"""Places on the paper: along a line, beside it, away from it."""

import math
from collections.abc import Sequence

from lacunar.drawings.drawing import Spot


def between(start: Spot, end: Spot, share: float) -> Spot:
    """A place on the line from one to the other."""
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def aside(start: Spot, end: Spot, by: float) -> tuple[Spot, Spot]:
    """The line moved to its left as drawn from start to end (y down: to the right hand of a reader)."""
    length = math.dist(start, end) or 1.0
    nx, ny = (end[1] - start[1]) / length * by, -(end[0] - start[0]) / length * by
    return (start[0] + nx, start[1] + ny), (end[0] + nx, end[1] + ny)


def distance_to(at: Spot, start: Spot, end: Spot) -> float:
    """From a place to a line."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    share = min(1.0, max(0.0, ((at[0] - start[0]) * dx + (at[1] - start[1]) * dy) / (dx * dx + dy * dy or 1.0)))
    return math.dist(at, (start[0] + share * dx, start[1] + share * dy))


def stepped(spot: Spot, way: Spot, by: float) -> Spot:
    """So far along a way from a place."""
    return spot[0] + by * way[0], spot[1] + by * way[1]


def middle(spots: Sequence[Spot]) -> Spot:
    """Mean of some places."""
    return sum(x for x, _ in spots) / len(spots), sum(y for _, y in spots) / len(spots)
