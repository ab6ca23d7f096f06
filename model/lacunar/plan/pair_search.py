"""Which rips share sections: chosen with the boards, and proved for every way to pair them.

Rips stand longest first. A section is as long as the longer of its rips, the *head*; the other one is *carried* and
takes no board. Of the first t rips at most as many are carried as there can be pairs among them, so the sections of any
pairing are, one by one, no shorter than those of a pairing that had the most pairs among the first t for every t at
once. Boards for these cost no more than boards for any pairing. Where no pairing is so good, some rip is a head in one
place and carried in another: the ways in which it is a head and those in which it is carried are bounded apart, each
with fewer pairs to choose from, until a bound is no less than what a plan costs.
"""

import heapq
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from lacunar.plan.cutting import Nested, ShortageError, nested_pairs
from lacunar.plan.purchase import Proof, Purchase

MOST_SOLVED = 60
"""Boards for other sections that are looked for, at most. Measured: rooms of ours need one or two."""

MOST_UNSURE = 3
"""Of these, those whose boards could not be proved: each takes the whole effort, some seconds."""

MOST_WAYS = 1_000
"""Ways for rips to be heads or carried that are looked at, at most. Measured: half a millisecond each with 30 rips."""

Solve = Callable[[Sequence[int]], Purchase]
"""The cheapest boards for the full slats and sections of these lengths."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pairing:
    """Rips that share sections.

    Attributes:
        pairs: ids of two rips each; the rest have a section each.
        purchase: boards for it.
        bound: no pairing needs cheaper boards, spares included.
        proofs: every pairing needs sections that are no shorter than those of one of these.
    """

    pairs: tuple[tuple[str, str], ...]
    purchase: Purchase
    bound: int
    proofs: tuple[Proof, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PairableRips:
    """What may be paired.

    Attributes:
        names: ids, in the order of `lows`.
        lows: section that each needs at least, longest first, ticks.
        partners: of each, as bits: those that it may share a section with.
    """

    names: tuple[str, ...]
    lows: tuple[int, ...]
    partners: tuple[int, ...]


def choose_pairs(rips: PairableRips, first: Sequence[tuple[int, int]], purchase: Purchase, solve: Solve) -> Pairing:
    """The pairs whose boards cost least, as far as could be told; `purchase` is for the pairs to start from."""
    search = _PairingSearch(rips, first, purchase, solve)
    search.run()
    return search.result()


@dataclass(frozen=True, slots=True)
class _Bounded:
    """Sections, longest first, and the boards for them."""

    sections: tuple[int, ...]
    purchase: Purchase

    def is_within(self, sections: Sequence[int]) -> bool:
        """These need no less: one by one they are no shorter."""
        return len(self.sections) <= len(sections) and all(
            a <= b for a, b in zip(self.sections, sections, strict=False)
        )


class _PairingSearch:
    """Pairings by the roles of rips, those with the least bound first."""

    def __init__(self, rips: PairableRips, first: Sequence[tuple[int, int]], purchase: Purchase, solve: Solve) -> None:
        self._rips, self._solve = rips, solve
        self._pairs, self._purchase = tuple(first), purchase
        self._solved = [_Bounded(self._sections({max(pair) for pair in first}), purchase)]
        self._left: list[tuple[int, int, tuple[int, ...]]] = [(0, 0, rips.partners)]
        self._open = purchase.cost
        """The least bound of what was not told."""

    def run(self) -> None:
        """Until no way is left that may cost less."""
        count = 0
        while self._left and self._left[0][0] < self._purchase.cost and count < MOST_WAYS:
            least, _, partners = heapq.heappop(self._left)
            nested = nested_pairs(partners)
            sections = self._sections({v for v, gained in enumerate(nested.gained) if gained})
            boards = self._bounded(sections)
            if boards is None:
                self._open = min(self._open, least)
                continue
            least = max(least, boards.bound)
            if least >= self._purchase.cost:
                continue
            role = self._torn(nested, sections)
            if role is None:
                self._take(nested, boards)
                self._open = min(self._open, least)
                continue
            for way in (_head(partners, role), _carried(partners, role)):
                count += 1
                heapq.heappush(self._left, (least, count, way))

    def result(self) -> Pairing:
        """What has been found."""
        bound = min([self._purchase.cost, self._open, *(least for least, _, _ in self._left)])
        enough = [one for one in self._solved if one.purchase.bound >= bound]
        least = [one for one in enough if not any(o is not one and o.is_within(one.sections) for o in enough)]
        names = self._rips.names
        return Pairing(
            pairs=tuple((names[head], names[carried]) for head, carried in self._pairs),
            purchase=self._purchase,
            bound=bound,
            proofs=tuple(one.purchase.proof for one in least),
        )

    def _sections(self, carried: set[int]) -> tuple[int, ...]:
        return tuple(low for v, low in enumerate(self._rips.lows) if v not in carried)

    def _bounded(self, sections: tuple[int, ...]) -> Purchase | None:
        """Boards for these sections, or any for shorter ones that already cost too much; None where none are found."""
        within = [one.purchase for one in self._solved if one.is_within(sections)]
        same = [one.purchase for one in self._solved if one.sections == sections]
        best = max(within, key=lambda purchase: purchase.bound, default=None)
        if same or (best is not None and best.bound >= self._purchase.cost):
            return same[0] if same else best
        unsure = sum(one.purchase.bound < one.purchase.cost for one in self._solved)
        if len(self._solved) > MOST_SOLVED or unsure > MOST_UNSURE:
            return None
        try:
            purchase = self._solve(sections)
        except ShortageError:
            return None
        self._solved.append(_Bounded(sections, purchase))
        return purchase

    def _torn(self, nested: Nested, sections: Sequence[int]) -> int | None:
        """A rip that should be carried and is a head; None where the sections are those of the pairs."""
        carried = {v for v, mate in enumerate(nested.mates) if 0 <= mate < v}
        if self._sections(carried) == sections:
            return None
        return next(v for v, gained in enumerate(nested.gained) if gained and v not in carried)

    def _take(self, nested: Nested, purchase: Purchase) -> None:
        if purchase.cost < self._purchase.cost:
            self._purchase = purchase
            self._pairs = tuple((mate, v) for v, mate in enumerate(nested.mates) if 0 <= mate < v)


def _head(partners: Sequence[int], role: int) -> tuple[int, ...]:
    """A rip is carried by none that is longer."""
    below = (1 << role) - 1
    return tuple(
        mask & ~(1 << role) if v < role else mask & ~below if v == role else mask for v, mask in enumerate(partners)
    )


def _carried(partners: Sequence[int], role: int) -> tuple[int, ...]:
    """A rip carries none that is shorter."""
    below = (1 << role) - 1
    return tuple(
        mask & ~(1 << role) if v > role else mask & below if v == role else mask for v, mask in enumerate(partners)
    )
