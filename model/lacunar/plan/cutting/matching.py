"""Pairs in a graph of what may share, in whole numbers: as many as there can be among the first one, two, three, ...

One vertex after the other comes in, and a way on which a free vertex is reached by turns over free and taken edges
makes one pair more. Rings of odd length on such a way are shrunk to their base.
Source: J. Edmonds, Paths, trees, and flowers, 1965 (from memory).
"""

from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

FREE = -1
"""Stands for the mate of a vertex that is in no pair."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Nested:
    """Most pairs among the first vertices, for every number of them.

    Attributes:
        gained: of each vertex: one pair more can be made as soon as it is there.
        mates: of each vertex in as many pairs as all can make, FREE for none.
    """

    gained: tuple[bool, ...]
    mates: tuple[int, ...]


def nested_pairs(partners: Sequence[int]) -> Nested:
    """Most pairs among the first vertices, for every number of them.

    Args:
        partners: of each vertex, as bits: those that it may share with.
    """
    mates = [FREE] * len(partners)
    gained = [_Tree(partners, mates, vertex).grow() for vertex in range(len(partners))]
    return Nested(gained=tuple(gained), mates=tuple(mates))


class _Tree:
    """Ways from one free vertex among those up to itself."""

    def __init__(self, partners: Sequence[int], mates: list[int], root: int) -> None:
        self._partners, self._mates, self._root = partners, mates, root
        self._base = list(range(root + 1))
        self._before = [FREE] * (root + 1)
        """Of a vertex at the far end of a free edge: where that edge comes from."""
        self._outer = 1 << root
        """Vertices that an even way leads to, as bits; those inside a shrunk ring among them."""
        self._unseen = (1 << root) - 1
        self._waiting = deque([root])

    def grow(self) -> bool:
        """Until a free vertex is reached, or none can be."""
        while self._waiting:
            at = self._waiting.popleft()
            for other in _bits(self._partners[at] & self._outer):
                if self._base[other] != self._base[at]:
                    self._shrink(at, other)
            for other in _bits(self._partners[at] & self._unseen):
                if not self._unseen >> other & 1:
                    continue  # its mate was reached just now, and it by that
                self._unseen &= ~(1 << other)
                self._before[other] = at
                mate = self._mates[other]
                if mate == FREE:
                    self._turn(other)
                    return True
                self._unseen &= ~(1 << mate)
                self._reach(mate)
        return False

    def _reach(self, vertex: int) -> None:
        if not self._outer >> vertex & 1:
            self._outer |= 1 << vertex
            self._waiting.append(vertex)

    def _shrink(self, one: int, other: int) -> None:
        """The ring that an edge between two outer vertices closes becomes one vertex, its base."""
        base = self._meeting(one, other)
        ring = {*self._climb(one, other, base), *self._climb(other, one, base)}
        for vertex in range(self._root + 1):
            if self._base[vertex] in ring:
                self._base[vertex] = base
                self._reach(vertex)

    def _meeting(self, one: int, other: int) -> int:
        """The last base that the ways to both have in common."""
        passed = set(self._bases(one))
        return next(base for base in self._bases(other) if base in passed)

    def _bases(self, vertex: int) -> Iterator[int]:
        """On the way back to the root."""
        while True:
            vertex = self._base[vertex]
            yield vertex
            if self._mates[vertex] == FREE:
                return
            vertex = self._before[self._mates[vertex]]

    def _climb(self, vertex: int, child: int, base: int) -> Iterator[int]:
        """Bases of the ring from a vertex up to its base; ways through it lead back along `child`."""
        while self._base[vertex] != base:
            mate = self._mates[vertex]
            yield from (self._base[vertex], self._base[mate])
            self._before[vertex] = child
            child, vertex = mate, self._before[mate]

    def _turn(self, end: int) -> None:
        """Along the way to a free vertex, free edges are taken and taken ones freed."""
        while end != FREE:
            start = self._before[end]
            after = self._mates[start]
            self._mates[start], self._mates[end] = end, start
            end = after


def _bits(mask: int) -> Iterator[int]:
    while mask:
        lowest = mask & -mask
        yield lowest.bit_length() - 1
        mask ^= lowest
