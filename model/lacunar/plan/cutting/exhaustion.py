"""A last proof where counts do not close the gap: every way to use only patterns that waste next to nothing.

With piece values v of which no board holds more than it costs, a plan of cost C wastes C - sum v d over all its boards,
each its price less the values on it. A plan below the bound may waste so little that often only a few patterns are
left, and these can be tried through. Python's whole numbers only.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain

from lacunar.plan.cutting.problem import BoardProblem

MOST_PATTERNS = 20_000
"""Patterns listed, at most: more and the proof is given up."""

DEEPEST = 400
"""Pieces, at most: the search goes as deep, and Python's stack ends at 1,000."""

LISTING_STEPS = 800_000
"""Steps of the listing, at most: about a second."""

STEPS_PER_WORK = 1_500_000
"""Patterns looked at while trying, for each unit of an effort's work: about a second. Measured."""

MOST_STEPS = 8_000_000
"""The same for any effort: what is not told by then is found sooner by dives. Measured on the open instances."""

NODE_STEPS = 20
"""What a step of the trying costs besides the patterns that it looks at. Measured."""

COVER_STEPS = 40_000_000
"""Patterns looked at while checking a proof, at most: half a minute, more than any effort spends on finding one."""


@dataclass(frozen=True, slots=True)
class _Cheap:
    """A pattern and what a board of it wastes, in value units."""

    waste: int
    stock: int
    pieces: tuple[tuple[int, int], ...]


def is_exhausted(
    problem: BoardProblem, values: Sequence[int], scale: int, bound: int, steps: int = COVER_STEPS
) -> bool | None:
    """No plan costs less than the bound; False where there is one, None where it takes too long to tell.

    Args:
        problem: the boards' and pieces' numbers.
        values: of a piece of each demand, in 1 / scale of a price unit.
        scale: see `values`.
        bound: in price units.
        steps: that may be tried.
    """
    if max(problem.pieces, len(problem.demands)) > DEEPEST:
        return None
    # Below 0 nothing may be wasted at all; the listing then still looks for boards that hold more than they cost.
    room = max((bound - 1) * scale - problem.total(values), -1)
    listing = _Listing(problem, values, scale, room)
    patterns = listing.patterns()
    if patterns is None:
        return None
    return True if room < 0 else _Cover(problem, patterns, room, steps).is_impossible()


class _Listing:
    """All patterns that waste no more than `room`."""

    def __init__(self, problem: BoardProblem, values: Sequence[int], scale: int, room: int) -> None:
        self._problem, self._values, self._scale, self._room = problem, values, scale, room
        self._order = sorted(range(len(problem.demands)), key=lambda i: -problem.weight(i))
        self._rates = self._best_rates()
        self._found: list[_Cheap] = []
        self._steps = 0

    def patterns(self) -> list[_Cheap] | None:
        """None where they are too many, or a board holds more value than it costs."""
        for stock in range(len(self._problem.stocks)):
            if self._problem.supply(stock):
                need = self._problem.price(stock) * self._scale - self._room
                if not self._extend(stock, 0, self._problem.capacity(stock), need, []):
                    return None
        return None if any(pattern.waste < 0 for pattern in self._found) else self._found

    def _best_rates(self) -> list[tuple[int, int]]:
        """From each place in the order on, the most value per weight, as (value, weight)."""
        rates: list[tuple[int, int]] = [(0, 1)]
        for i in reversed(self._order):
            value, weight = self._values[i], self._problem.weight(i)
            rates.append((value, weight) if value * rates[-1][1] > rates[-1][0] * weight else rates[-1])
        return rates[::-1]

    def _extend(self, stock: int, at: int, left: int, need: int, pieces: list[tuple[int, int]]) -> bool:
        self._steps += 1
        if self._steps > LISTING_STEPS or len(self._found) > MOST_PATTERNS:
            return False
        value, weight = self._rates[at]
        if need > 0 and value * left < need * weight:
            return True
        if at == len(self._order):
            if pieces:
                self._found.append(_Cheap(self._room + need, stock, tuple(pieces)))
            return True
        i = self._order[at]
        most = min(self._problem.demands[i].count, left // self._problem.weight(i))
        for n in range(most, -1, -1):
            more = [*pieces, (i, n)] if n else pieces
            if not self._extend(stock, at + 1, left - n * self._problem.weight(i), need - n * self._values[i], more):
                return False
        return True


class _Cover:
    """Tries to give every piece once by patterns that together waste no more than `room`.

    Numbers of pieces stand side by side in one whole number, each in a field with a guard bit above it, so that one
    subtraction tells whether a pattern fits.
    """

    def __init__(self, problem: BoardProblem, patterns: list[_Cheap], room: int, steps: int) -> None:
        self._field = max(demand.count for demand in problem.demands).bit_length() + 1
        self._guards = self._packed([(i, 1 << (self._field - 1)) for i in range(len(problem.demands))])
        self._left = self._packed([(i, demand.count) for i, demand in enumerate(problem.demands)])
        self._packs = [self._packed(pattern.pieces) for pattern in patterns]
        self._stocks = [pattern.stock for pattern in patterns]
        self._wastes = [pattern.waste for pattern in patterns]
        self._kinds = [frozenset(i for i, _ in pattern.pieces) for pattern in patterns]
        most = (1 << (self._field - 1)) - 1
        self._fields = [(i, most << (i * self._field)) for i in range(len(problem.demands))]
        self._room, self._steps = room, steps
        self._supply = [problem.supply(s) for s in range(len(problem.stocks))]

    def _packed(self, pieces: Sequence[tuple[int, int]]) -> int:
        return sum(n << (i * self._field) for i, n in pieces)

    def is_impossible(self) -> bool | None:
        """None where the steps run out."""
        return self._try(self._left, self._room, range(len(self._packs)))

    def _try(self, left: int, room: int, allowed: Sequence[int]) -> bool | None:
        """Some board holds the piece that the fewest patterns hold: with each of them in turn, then never with it."""
        if not left:
            return False
        self._steps -= len(allowed) + NODE_STEPS
        fitting = self._fitting(left, room, allowed)
        for k in self._fewest_holders(left, fitting):
            if self._steps < 0:
                return None
            stock = self._stocks[k]
            self._supply[stock] -= 1
            answer = self._try(left - self._packs[k], room - self._wastes[k], fitting)
            self._supply[stock] += 1
            if answer is not True:
                return answer
            fitting.remove(k)
        return True

    def _fitting(self, left: int, room: int, allowed: Sequence[int]) -> list[int]:
        packs, wastes, guards = self._packs, self._wastes, self._guards
        guarded, is_there = left + guards, [n > 0 for n in self._supply]
        stocks = self._stocks
        return [
            k for k in allowed if wastes[k] <= room and (guarded - packs[k]) & guards == guards and is_there[stocks[k]]
        ]

    def _fewest_holders(self, left: int, fitting: Sequence[int]) -> list[int]:
        kinds = self._kinds
        counts = Counter(chain.from_iterable([kinds[k] for k in fitting]))
        rarest = min((i for i, field in self._fields if left & field), key=counts.__getitem__)
        return [k for k in fitting if rarest in kinds[k]]
