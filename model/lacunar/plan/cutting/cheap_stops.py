"""Marks for the stop block by what lengths are worth: for every number of marks, those that boards pay least for."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np

from lacunar.plan.cutting.certificate import Certificate
from lacunar.plan.cutting.knapsack import Floats, Ints
from lacunar.plan.cutting.problem import BoardProblem
from lacunar.plan.cutting.stops import Span

FAR = 1e18
"""Where some piece is left without a mark."""

TIE = 1e-6
"""Share of all worth by which, of marks that are worth the same, the shorter are the better."""


@dataclass(frozen=True, slots=True)
class Rate:
    """What a piece is worth by its length: never less for a longer one.

    Attributes:
        lengths: ticks, ascending.
        values: of a piece of each; linear between them.
    """

    lengths: Floats
    values: Floats

    def at(self, lengths: Ints) -> Floats:
        """Of pieces of these lengths, in no unit."""
        return np.interp(lengths, self.lengths, self.values) + TIE * self.values[-1] * lengths / self.lengths[-1]


def rate_of(problem: BoardProblem, certificate: Certificate) -> Rate:
    """By what a proof of a problem says that its pieces are worth."""
    values = np.maximum.accumulate([0, *reversed(certificate.values[0])])
    lengths = [0, *(demand.length for demand in reversed(problem.demands))]
    return Rate(np.array(lengths, dtype=np.float64), np.maximum(values, 1).astype(np.float64))


def cheapest_lengths(spans: Sequence[Span], apart: Collection[int], rate: Rate, count: int) -> list[int] | None:
    """By the marks, no more than `count`, at which all pieces together are worth least; None where these are too few.

    Exact: a mark need be no longer than the longest piece at its shortest that it serves, and a piece takes the first
    mark that serves it, so the worth is a sum over neighbouring marks: a shortest path with a limited number of edges.

    Args:
        spans: from mark to mark.
        apart: pieces that are cut to measure, at their shortest.
        rate: what is to be least.
        count: of marks.
    """
    free = sorted((span.lo, span.hi) for i, span in enumerate(spans) if i not in apart)
    if not free:
        return [span.lo for span in spans]
    lows = np.array([lo for lo, _ in free], dtype=np.int64)
    places = np.unique(lows)
    costs = _costs(lows, [hi for _, hi in free], places, rate)
    reach, before = costs[0], list[Ints]()
    for _ in range(min(count, len(places)) - 1):
        through = np.vstack([reach[:, None] + costs[1:], reach])
        before.append(through.argmin(axis=0))
        reach = through.min(axis=0)
    if reach[-1] >= FAR:
        return None
    marks = np.unique(places[_path(before)])
    return [span.lo if i in apart else int(marks[np.searchsorted(marks, span.lo)]) for i, span in enumerate(spans)]


def _costs(lows: Ints, highs: Sequence[int], places: Ints, rate: Rate) -> Floats:
    """Worth of the pieces between two neighbouring marks, all at the upper one; (places + 1, places).

    In row 0 there is no mark below; row i + 1 is the mark at place i, column j that at place j.
    """
    worth, n = rate.at(places), len(places)
    starts = np.searchsorted(lows, places, side="right")
    out = np.full((n + 1, n), FAR)
    for row in range(n + 1):
        first = at = int(starts[row - 1]) if row else 0
        highest = int(places[-1])
        for column in range(row, n):
            highest = min([highest, *highs[at : int(starts[column])]])
            at = int(starts[column])
            if highest < places[column]:
                break
            out[row, column] = (at - first) * worth[column]
    return out


def _path(before: Sequence[Ints]) -> list[int]:
    """Places of the marks, ascending: the last one is the longest."""
    at = -1
    path = [at]
    for steps in reversed(before):
        # No mark more where the last row is the least.
        at = at if steps[at] == len(steps) else int(steps[at])
        path.append(at)
    return path[::-1]
