"""Which distances a room still needs, and where a corner may be taken as square instead."""

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import replace

from lacunar.errors import SurveyError
from lacunar.geometry import Point
from lacunar.survey.adjust import FIRM, NOTHING, freedom
from lacunar.survey.network import Network, Reading
from lacunar.survey.notebook import Notebook
from lacunar.survey.refuse import MisfitError, flat_room
from lacunar.survey.shape import are_inside, is_simple
from lacunar.survey.start import turned

MOST_NAMED = 4
"""Alternatives that one sentence can hold."""


def is_rigid(network: Network) -> bool:
    """The distances would fix a room of no special shape."""
    return _generic_freedom(network) == 0


def with_squares(network: Network) -> Network | None:
    """Four corners without a diagonal: as many corners taken as square as are needed, those between read walls first.

    Four walls: A. Three walls: the two corners between them. Two walls that meet: a rectangle.

    Returns:
        The network with its assumed corners; None where nothing may be assumed or it would not do.
    """
    names = network.stations
    lengths = network.lengths()
    if len(names) != 4 or frozenset((names[0], names[2])) in lengths or frozenset((names[1], names[3])) in lengths:
        return None
    trios = [(names[i - 1], names[i], names[(i + 1) % 4]) for i in range(4)]
    between = [t for t in trios if frozenset(t[:2]) in lengths and frozenset(t[1:]) in lengths]
    if not between:
        return None
    left = _generic_freedom(network)
    if left == 0:
        return replace(network, squares=tuple(between[:1]))
    for trio in (*between, *(t for t in trios if t not in between)):
        tried = replace(network, squares=(*network.squares, trio))
        if left and (after := _generic_freedom(tried)) < left:
            network, left = tried, after
    return network if left == 0 else None


def not_enough(network: Network, book: Notebook, shape: Sequence[Point] | None = None) -> SurveyError:
    """The error that says which distances to measure.

    Args:
        network: the readings there are.
        book: where they stand.
        shape: the corners as far as they are known, where the distances tell too little of just this shape.
    """
    wanted: list[Reading] = []
    candidates = _candidates(network)
    left_with = _counting(network, shape)
    while True:
        enough = [c for c in candidates if left_with([*wanted, c]) == 0]
        if enough:
            break
        left = left_with(wanted)
        more = next((c for c in candidates if left_with([*wanted, c]) < left), None)
        if more is None:
            break
        wanted.append(more)
        candidates.remove(more)
    if not wanted and not enough:
        return flat_room(book)
    parts = [*(c.name for c in wanted), *([" or ".join(c.name for c in enough[:MOST_NAMED])] if enough else [])]
    text = parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])}{',' if enough else ''} and {parts[-1]}"
    what = f"{', '.join(book.ends)} {'does' if len(book.ends) == 1 else 'do'} not fix the corners"
    kind = SurveyError if shape is None else MisfitError
    return kind([book.problem(what, f"measure {text} too")])


def _counting(network: Network, shape: Sequence[Point] | None) -> Callable[[Sequence[Reading]], int]:
    """How many ways to move are left once more readings are taken."""
    points, marks = _generic(network)
    least = NOTHING
    if shape is not None:
        points, marks, least = list(shape), network.along(), FIRM
    return lambda more: freedom(replace(network, readings=(*network.readings, *more)), points, marks, least)


def _candidates(network: Network) -> list[Reading]:
    """Distances not read, walls first; across corners only where a tape would stay in the room."""
    names = network.stations
    read = {frozenset(r.ends) for r in network.readings}
    across = network.diagonals
    ring = next(turned(network), ())
    if ring and is_simple(ring):
        places = dict(zip(names, ring, strict=True))
        seen = are_inside(ring, [places[a] for a, _ in across], [places[b] for _, b in across])
        across = list(itertools.compress(across, seen)) or across
    sd = network.readings[0].sd
    return [
        Reading(name="".join(pair), ends=pair, value=1.0, sd=sd)
        for pair in (*network.walls, *across)
        if frozenset(pair) not in read
    ]


def _generic_freedom(network: Network) -> int:
    return freedom(network, *_generic(network), NOTHING)


def _generic(network: Network) -> tuple[list[Point], dict[str, float]]:
    """A room of no special shape: corners near a circle of 2 m, marks at odd places."""
    n = len(network.stations)
    points: list[Point] = []
    for i in range(n):
        angle = -2.0 * math.pi * (i + 0.3 * math.sin(5.0 * i * i + 1.0)) / n
        radius = 2000.0 * (1.0 + 0.2 * math.sin(3.0 * i * i + 2.0))
        points.append((radius * math.cos(angle), radius * math.sin(angle)))
    places = dict(zip(network.stations, points, strict=True))
    marks = {
        mark: math.dist(places[start], places[end]) * (0.5 + 0.2 * math.sin(7.0 * k + 1.0))
        for k, (mark, (start, end)) in enumerate(network.marks.items())
    }
    return points, marks
