"""The shape that fits the readings best, looked for from several starts."""

import math
from collections.abc import Sequence

from lacunar.geometry import Point, Ring, signed_area
from lacunar.survey.adjust import MOST_ROUNDS, Adjusted, adjust
from lacunar.survey.network import Network
from lacunar.survey.shape import are_inside, framed, is_simple, turns
from lacunar.survey.start import starts
from lacunar.survey.unfold import unfolded

MOST_STARTS = 8
"""Start shapes that are adjusted, the likeliest first."""

SAME_SHAPE = 50.0
"""mm. A start whose corners all lie nearer than this to a shape already adjusted ends there too.
Source: own choice; folding the smallest alcove moves a corner further."""

FITS_WITHIN = 40
"""Rounds in which readings that fit settle, twice over. Source: own choice."""

KNOT = 100.0
"""A figure with crossing walls that fits so many times better than any room: the corners are lettered wrongly, or two
distances were swapped. Source: own choice; a single misread distance does not fit a crossing figure at all."""

USUAL_TURN = math.radians(45.0)
USUAL_TURN_SD = math.radians(5.0)
"""Walls meet at multiples of 45 degrees, give or take 5: decides between shapes that fit the distances equally well.
Source: common practice, no source."""


def best_shape(network: Network, fitting: bool = False) -> Adjusted | None:
    """Adjust from several starts; the room that most tapes stay inside, then the one that fits best.

    Args:
        network: the readings.
        fitting: only a shape that fits is of use: little is spent on others.

    Returns:
        None where walls cross in every shape that fits as well.
    """
    rounds = FITS_WITHIN if fitting else MOST_ROUNDS
    found: list[Adjusted] = []
    for shape in _likeliest_first(network):
        if any(_is_near(shape, adjusted.points) for adjusted in found):
            continue
        if found and found[0].chi2 <= KNOT and _flaws(network, shape) > _flaws(network, found[0].points):
            continue
        found.append(_adjusted_from(network, shape, rounds))
    rooms = [adjusted for adjusted in found if _is_room(adjusted.points)]
    knots = [adjusted for adjusted in found if not _is_room(adjusted.points)]
    best = min(rooms, key=lambda adjusted: _unlikely(network, adjusted.points, adjusted.chi2), default=None)
    knot = min((adjusted.chi2 for adjusted in knots), default=math.inf)
    if best is None or best.chi2 > KNOT * (knot + 1.0):
        return None
    return best if fitting or best.chi2 <= KNOT else _unfolded(network, best)


def _unfolded(network: Network, best: Adjusted) -> Adjusted:
    """A room that does not fit may be folded: the likelier one of it and what unfolding makes of it."""
    other = unfolded(network, best)
    if not _is_room(other.points) or signed_area(other.points) > 0.0:
        return best
    return min((best, other), key=lambda adjusted: _unlikely(network, adjusted.points, adjusted.chi2))


def _adjusted_from(network: Network, shape: Sequence[Point], rounds: int) -> Adjusted:
    """Adjust, and turn over what came out as the room's mirror image: distances cannot tell the two apart."""
    adjusted = adjust(network, shape, network.along(), rounds)
    if signed_area(adjusted.points) > 0.0:
        mirrored = [(x, -y) for x, y in adjusted.points]
        adjusted = adjust(network, mirrored, adjusted.marks, rounds)
    return adjusted


def _is_near(shape: Ring, other: Ring) -> bool:
    return all(math.dist(p, q) <= SAME_SHAPE for p, q in zip(shape, other, strict=True))


def _likeliest_first(network: Network) -> list[Ring]:
    shapes = sorted(
        filter(_has_walls, starts(network)), key=lambda shape: _unlikely(network, shape, _misfit(network, shape))
    )
    return [framed(shape) for shape in shapes[:MOST_STARTS]]


def _misfit(network: Network, shape: Ring) -> float:
    places = network.places(shape, network.along())
    return math.fsum(((math.dist(*(places[e] for e in r.ends)) - r.value) / r.sd) ** 2 for r in network.readings)


def _unlikely(network: Network, shape: Ring, misfit: float) -> tuple[tuple[bool, int], float]:
    """What speaks against a shape: walls that cross, tapes through walls, misfit and odd corners."""
    return _flaws(network, shape), misfit + oddness(shape)


def oddness(shape: Ring, usual: float = USUAL_TURN) -> float:
    """How far its corners are from multiples of the usual turn: a sum of squares over their standard deviation."""
    return math.fsum((abs(turn - usual * round(turn / usual)) / USUAL_TURN_SD) ** 2 for turn in turns(shape))


def _flaws(network: Network, shape: Ring) -> tuple[bool, int]:
    """Whether walls cross, and how many tapes would go through walls."""
    places = dict(zip(network.stations, shape, strict=True))
    across = [r.ends for r in network.readings if places.keys() >= set(r.ends) and not network.is_wall(r.ends)]
    seen = are_inside(shape, [places[a] for a, _ in across], [places[b] for _, b in across])
    return not is_simple(shape), seen.count(False)


def _is_room(shape: Ring) -> bool:
    return _has_walls(shape) and is_simple(shape)


def _has_walls(shape: Ring) -> bool:
    return all(math.dist(a, b) >= 1.0 for a, b in zip(shape, shape[1:] + shape[:1], strict=True))
