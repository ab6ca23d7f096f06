"""Marks for the stop block: the fewest that serve all pieces, with a proof, and the best for a given number."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from lacunar.plan.cutting.knapsack import Ints

UNSERVED = 1 << 40
"""Distance that a piece without a mark counts for: above all real ones together, in ticks."""

FAR = np.int64(1 << 60)
"""Where no mark comes before another."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """Lengths that a piece may have, and the one it was designed with; ticks."""

    lo: int
    hi: int
    wish: int


@dataclass(frozen=True, slots=True, kw_only=True)
class FewestStops:
    """The fewest marks.

    Attributes:
        marks: ticks, ascending; as high as they can be.
        proof: pieces of which no two share a length on the grid, one for each mark: fewer cannot do.
        apart: pieces whose span holds no line of the grid; to be cut to measure.
    """

    marks: tuple[int, ...]
    proof: tuple[int, ...]
    apart: tuple[int, ...]


def fewest_stops(spans: Sequence[Span], grid: int = 1) -> FewestStops:
    """Greedy stabbing by the upper ends. Every mark was opened by a piece that no mark before serves.

    Args:
        spans: in any order.
        grid: ticks between two lines of the tape.
    """
    marks: list[int] = []
    proof: list[int] = []
    inside = {i: inward(span.lo, span.hi, grid) for i, span in enumerate(spans)}
    apart = tuple(i for i, (lo, hi) in inside.items() if lo > hi)
    for i in sorted(inside.keys() - set(apart), key=lambda i: (inside[i][1], i)):
        lo, hi = inside[i]
        if not marks or lo > marks[-1]:
            marks.append(hi)
            proof.append(i)
    return FewestStops(marks=tuple(marks), proof=tuple(proof), apart=apart)


def best_stops(spans: Sequence[Span], count: int, grid: int = 1) -> tuple[int | None, ...]:
    """The mark of each piece, of no more than `count`; None where it is cut to measure. See `BestStops`."""
    return BestStops(spans, grid).at_most(count)


class BestStops:
    """The best marks for any number of them; what all numbers share is worked out once.

    The marks leave fewest pieces unserved, and of these are the ones nearest to the wishes. Exact.

    Every piece's wish lies between two neighbouring marks, and it can be served by one of these or by none. So the
    distance is a sum over neighbouring marks: a shortest path with a limited number of edges. Marks at ends of spans
    and beside wishes are enough, since between these the distance is linear or concave in each mark.
    """

    def __init__(self, spans: Sequence[Span], grid: int) -> None:
        self._spans, self._grid = spans, grid
        ends = np.array([inward(span.lo, span.hi, grid) for span in spans], dtype=np.int64).reshape(-1, 2)
        wishes = np.array([span.wish for span in spans], dtype=np.int64)
        fits = ends[:, 0] <= ends[:, 1]
        self._places = _places(ends[fits], wishes[fits], grid)
        self._paths = _Paths(_costs(ends[fits], wishes[fits], self._places)) if len(self._places) else None

    def at_most(self, count: int) -> tuple[int | None, ...]:
        """The mark of each piece, of no more than so many; None where it has none."""
        if self._paths is None or count <= 0:
            return (None,) * len(self._spans)
        marks = self._places[self._paths.cheapest(min(count, len(self._places)))].tolist()
        return tuple(_nearest(marks, span, self._grid) for span in self._spans)


def inward(lo: int, hi: int, grid: int) -> tuple[int, int]:
    """The first and the last line of the grid from one to the other; in the wrong order where there is none."""
    return -(-lo // grid) * grid, hi // grid * grid


def _places(ends: Ints, wishes: Ints, grid: int) -> Ints:
    """Marks worth trying, ascending."""
    below = wishes // grid * grid
    above = -(-wishes // grid) * grid
    beside = np.clip(np.concatenate([below, above]), np.tile(ends[:, 0], 2), np.tile(ends[:, 1], 2))
    return np.unique(np.concatenate([ends.ravel(), beside]))


def _costs(ends: Ints, wishes: Ints, places: Ints) -> Ints:
    """What pieces between two neighbouring marks cost; (places + 1, places + 1).

    In row 0 there is no mark below, in the last column none above. Row i + 1 is the mark at place i, column j that at
    place j. A piece counts where low <= wish < high.
    """
    n = len(places)
    after = np.searchsorted(places, wishes, side="right")
    last = np.searchsorted(places, ends[:, 1], side="right")
    steps = int(np.maximum(last - after, 0).max()) if len(wishes) else 0
    padded = np.append(places, places[-1] + UNSERVED)
    out = np.zeros((n + 1, n + 1), dtype=np.int64)
    for row in range(n + 1):
        low = int(places[row - 1]) if row else int(places[0]) - UNSERVED
        mine = wishes >= low
        at, hi, wish = after[mine], ends[mine, 1], wishes[mine]
        below = np.where((ends[mine, 0] <= low) & (row > 0), wish - low, UNSERVED)
        change = np.zeros(n + 2, dtype=np.int64)
        before = np.zeros(len(wish), dtype=np.int64)
        for step in range(steps + 2):
            column = np.minimum(at + step, n)
            above = np.where((padded[column] <= hi) & (column < n), padded[column] - wish, UNSERVED)
            now = np.minimum(below, above)
            np.add.at(change, np.where(at + step <= n, column, n + 1), now - before)
            before = now
        out[row] = np.cumsum(change[: n + 1])
    return out


class _Paths:
    """Cheapest paths by one mark, by two and so on, as far as was asked."""

    def __init__(self, costs: Ints) -> None:
        n = len(costs) - 1
        self._after = costs[1:, n]
        self._inner = np.where(np.triu(np.ones((n, n), dtype=np.bool_), 1), costs[1:, :n], FAR)
        self._reach = costs[0, :n]
        self._before: list[Ints] = []
        self._ends = [self._reach + self._after]

    def cheapest(self, count: int) -> list[int]:
        """Places of the marks, no more than so many, ascending."""
        while len(self._ends) < count:
            through = self._reach[:, None] + self._inner
            self._before.append(through.argmin(axis=0))
            self._reach = np.minimum(through.min(axis=0), FAR)
            self._ends.append(self._reach + self._after)
        best = min(range(count), key=lambda k: (int(self._ends[k].min()), k))
        path = [int(self._ends[best].argmin())]
        for k in range(best - 1, -1, -1):
            path.append(int(self._before[k][path[-1]]))
        return path[::-1]


def _nearest(marks: Sequence[int], span: Span, grid: int) -> int | None:
    """The mark inside the span that is nearest to the wish; the higher of two."""
    lo, hi = inward(span.lo, span.hi, grid)
    inside = [mark for mark in marks if lo <= mark <= hi]
    return min(inside, key=lambda mark: (abs(mark - span.wish), -mark), default=None)
