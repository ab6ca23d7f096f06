"""The order at the saw: boards and settings so that few stops have to be moved."""

import itertools
from collections import Counter
from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np

from lacunar.plan.cutting.problem import Pattern

Length = TypeVar("Length", bound=Hashable)

WALKS = 40
"""Greedy orders that are tried."""

MOST_STEPS = 200_000
"""Boards looked at in all walks together, about: each step of a walk looks at every board that is left."""

MOVES = 400
"""Changes to the best of them that are tried. Measured: more gain next to nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SawTurn:
    """Boards that are cut together.

    Attributes:
        pattern: index.
        boards: how many lie in the stack.
        lengths: in the order of cutting; index of the demand.
    """

    pattern: int
    boards: int
    lengths: tuple[int, ...]


def order_boards(patterns: Sequence[Pattern], stops: int = 1, stack: int = 1) -> tuple[SawTurn, ...]:
    """Every board once, so that few stops are placed, each board cut up when it is picked up.

    The best of many orders, no proof.

    Args:
        patterns: of the plan.
        stops: flip stops on the fence, 1 or more.
        stack: boards alike that are cut at once, at most.
    """
    jobs = [(p, min(stack, left)) for p, pattern in enumerate(patterns) for left in range(pattern.times, 0, -stack)]
    blocks = _blocks(patterns, jobs)
    lengths = [frozenset(i for i, _ in patterns[jobs[block[0]][0]].pieces) for block in blocks]
    best = _improved(lengths, _best_walk(lengths, stops), stops)
    return tuple(
        SawTurn(pattern=jobs[job][0], boards=jobs[job][1], lengths=(*kept, *placed))
        for block, (kept, placed) in zip(best, _simulate(lengths, best, stops), strict=True)
        for job in blocks[block]
    )


def _blocks(patterns: Sequence[Pattern], jobs: Sequence[tuple[int, int]]) -> list[list[int]]:
    """Boards of one single length follow each other in any best order; every other board stands for itself."""
    blocks: dict[tuple[int, ...], list[int]] = {}
    for job, (pattern, _) in enumerate(jobs):
        (demand, _), *more = patterns[pattern].pieces
        blocks.setdefault((demand, job) if more else (demand,), []).append(job)
    return list(blocks.values())


def _best_walk(lengths: Sequence[frozenset[int]], stops: int) -> list[int]:
    """The best of some greedy orders; the more boards there are, the fewer are tried."""
    bound = fewest_placements(lengths, stops)
    best: list[int] = []
    least = -1
    for seed in range(max(min(WALKS, MOST_STEPS // max(len(lengths), 1) ** 2), 3)):
        order = _walk(lengths, stops, seed)
        cost = _placements(lengths, order, stops)
        if least < 0 or cost < least:
            best, least = order, cost
        if least == bound:
            break
    return best


def fewest_placements(lengths: Sequence[frozenset[Length]], stops: int) -> int:
    """No order needs fewer: every length once; with one stop, every length of a board but the one it starts with.

    With one stop a board needs as many placements as it has lengths, less one where the last board ended on one of
    them. Boards go on from one another only where they share a length, so each group of boards that hang together by
    shared lengths starts anew at least once.
    """
    distinct = len(frozenset(itertools.chain(*lengths)))
    if stops > 1:
        return distinct
    groups: list[frozenset[Length]] = []
    for one in lengths:
        touching = [group for group in groups if group & one]
        groups = [group for group in groups if not group & one] + [one.union(*touching)]
    return max(distinct, sum(len(one) for one in lengths) - len(lengths) + len(groups))


def _walk(lengths: Sequence[frozenset[int]], stops: int, seed: int) -> list[int]:
    """Next the board that needs fewest new stops; stops stay that most of the boards left need."""
    random = np.random.default_rng(seed)
    left = {i: float(random.random()) for i in range(len(lengths))}
    needs = Counter(itertools.chain(*lengths))
    order: list[int] = []
    standing: frozenset[int] = frozenset()
    while left:
        job = min(left, key=lambda j, now=standing: (len(lengths[j] - now), len(lengths[j]), left[j]))
        del left[job]
        order.append(job)
        for i in lengths[job]:
            needs[i] -= 1
        placed = lengths[job] - standing or lengths[job]
        ranked = sorted((standing | lengths[job]) if stops > 1 else placed, key=lambda i: (-needs[i], i))
        standing = frozenset(ranked[:stops])
    return order


def _improved(lengths: Sequence[frozenset[int]], order: list[int], stops: int) -> list[int]:
    """Single boards moved elsewhere, as long as that is no worse."""
    random = np.random.default_rng(0)
    cost, bound = _placements(lengths, order, stops), fewest_placements(lengths, stops)
    for _ in range(MOVES):
        if cost == bound or len(order) < 2:
            break
        at, to = (int(k) for k in random.integers(0, len(order), 2))
        moved = order[:at] + order[at + 1 :]
        moved.insert(to, order[at])
        new = _placements(lengths, moved, stops)
        if new <= cost:
            order, cost = moved, new
    return order


def _placements(lengths: Sequence[frozenset[int]], order: Sequence[int], stops: int) -> int:
    return sum(len(placed) for _, placed in _simulate(lengths, order, stops))


def _simulate(
    lengths: Sequence[frozenset[int]], order: Sequence[int], stops: int
) -> list[tuple[tuple[int, ...], tuple[int, ...]]]:
    """For each board in order: lengths whose stop stands, and those to be placed, in the order of cutting.

    The stop that moves is the one whose length is needed last (Belady). So lengths needed late are placed first.
    """
    later = _next_uses(lengths, order)
    standing: dict[int, int] = {}
    steps: list[tuple[tuple[int, ...], tuple[int, ...]]] = []
    for place, job in enumerate(order):
        kept = tuple(sorted(i for i in lengths[job] if i in standing))
        for i in kept:
            standing[i] = later[place][i]
        placed = sorted((i for i in lengths[job] if i not in standing), key=lambda i: (-later[place][i], i))
        for i in placed:
            if len(standing) >= stops:
                del standing[max(standing, key=lambda k: (standing[k], k))]
            standing[i] = later[place][i]
        steps.append((kept, tuple(placed)))
    return steps


def _next_uses(lengths: Sequence[frozenset[int]], order: Sequence[int]) -> list[dict[int, int]]:
    """For each place in the order: where each of its lengths is needed next."""
    seen: dict[int, int] = {}
    out: list[dict[int, int]] = []
    for place in range(len(order) - 1, -1, -1):
        out.append({i: seen.get(i, len(order)) for i in lengths[order[place]]})
        seen.update(dict.fromkeys(lengths[order[place]], place))
    return out[::-1]
