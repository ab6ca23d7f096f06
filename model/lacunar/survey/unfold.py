"""Out of a false minimum: a point that lies on the wrong side of a line is turned over it."""

import itertools
from collections.abc import Iterator

from lacunar.geometry import Line, Point
from lacunar.survey.adjust import Adjusted, adjust
from lacunar.survey.network import Network

ROUNDS = 10
"""Points turned over one after the other, at most."""


def unfolded(network: Network, adjusted: Adjusted) -> Adjusted:
    """The best of what adjusting leads to when one station after the other is turned over between its neighbours."""
    for _ in range(ROUNDS):
        tries = (adjust(network, points, adjusted.marks) for points in _folds(network, adjusted))
        better = min(tries, key=lambda tried: tried.chi2, default=adjusted)
        if better.chi2 >= adjusted.chi2 * (1.0 - 1e-9):
            break
        adjusted = better
    return adjusted


def _folds(network: Network, adjusted: Adjusted) -> Iterator[tuple[Point, ...]]:
    places = network.places(adjusted.points, adjusted.marks)
    for i, station in enumerate(network.stations):
        if any(network.fixed.get(station, (False, False))):
            continue
        seen = dict.fromkeys(end for r in network.readings if station in r.ends for end in r.ends if end != station)
        for a, b in itertools.combinations([name for name in seen if name in places], 2):
            if places[a] != places[b]:
                line = Line.through(places[a], places[b])
                over = line.at(line.along(places[station]), -line.offset(places[station]))
                yield (*adjusted.points[:i], over, *adjusted.points[i + 1 :])
