"""Counts of boards that would be cheaper to buy, spares included: each is tried, and found or shown impossible."""

import bisect
import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from lacunar.plan.cutting import (
    BoardProblem,
    BoardSolution,
    Certificate,
    Effort,
    ShortageError,
    Worth,
    afford_boards,
    show_shortage,
    worth_of,
)

MOST_VECTORS = 20_000
"""Counts of all stocks but one that are listed, at most."""

MOST_TRIED = 80
"""Counts that are tried, at most. Measured: some milliseconds each."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Refuted:
    """No plan makes do with the boards of a problem.

    Attributes:
        problem: with so many boards of each stock as are tried.
        certificate: that a plan costs more than all of these boards together; None where a piece is longer than every
            board among them.
    """

    problem: BoardProblem
    certificate: Certificate | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cheaper:
    """What came of the trying.

    Attributes:
        plan: cheaper than the best one; None where none was found.
        refuted: counts that cannot do.
        is_complete: every cheaper count was refuted, so that the best plan is the cheapest.
    """

    plan: BoardSolution | None
    refuted: tuple[Refuted, ...]
    is_complete: bool


def find_cheaper(
    problem: BoardProblem,
    totals: Mapping[int, Sequence[int]],
    best: int,
    bound: int,
    effort: Effort,
    known: Sequence[Refuted] = (),
) -> Cheaper:
    """A plan that costs less than `best` with its spares, or proof that there is none.

    A plan within some counts is one within any larger counts, so only the largest counts that are cheaper matter.

    Args:
        problem: boards and pieces.
        totals: for each stock that is sold, what 0, 1, 2, ... boards of it cost with their spares, as far as that is
            below `best` and within the supply.
        best: of the plan at hand.
        bound: no plan's boards to be cut cost less.
        effort: for each count.
        known: counts refuted before, for a plan that cost more; no count below one of them is tried again.
    """
    refuted = list(known)
    worths: dict[tuple[int, ...], Worth] = {}
    for one in refuted:
        _learn(worths, problem, one.certificate)
    for some in largest_below([totals[s] for s in totals], best):
        cost = sum(problem.price(s) * n for s, n in zip(totals, some, strict=True))
        if cost < bound:
            continue
        if len(refuted) >= MOST_TRIED:
            return Cheaper(plan=None, refuted=tuple(refuted), is_complete=False)
        if any(
            all(n <= (one.problem.stocks[s].supply or 0) for s, n in zip(totals, some, strict=True)) for one in refuted
        ):
            continue
        counts = {**{s: problem.supply(s) for s in range(len(problem.stocks))}, **dict(zip(totals, some, strict=True))}
        within = replace(
            problem, stocks=tuple(replace(stock, supply=counts[s]) for s, stock in enumerate(problem.stocks))
        )
        shown = next((proof for worth in worths.values() if (proof := show_shortage(within, worth))), None)
        if shown is not None:
            refuted.append(Refuted(problem=within, certificate=shown))
            continue
        try:
            answer = afford_boards(within, cost, effort)
        except ShortageError:
            refuted.append(Refuted(problem=within, certificate=None))
            continue
        if isinstance(answer, Certificate):
            refuted.append(Refuted(problem=within, certificate=answer))
            _learn(worths, problem, answer)
        else:
            return Cheaper(plan=answer, refuted=tuple(refuted), is_complete=False)
    return Cheaper(plan=None, refuted=tuple(refuted), is_complete=True)


def _learn(worths: dict[tuple[int, ...], Worth], problem: BoardProblem, certificate: Certificate | None) -> None:
    """Values that differ by more than a factor from those that are known."""
    if certificate is None:
        return
    for values in certificate.values:
        factor = math.gcd(*values) or 1
        direction = tuple(value // factor for value in values)
        if direction not in worths:
            worths[direction] = worth_of(problem, values, certificate.scale)


def largest_below(totals: Sequence[Sequence[int]], best: int) -> Iterator[tuple[int, ...]]:
    """Counts whose totals add up to less than `best`, and to no less with one board more of any stock.

    Args:
        totals: for each stock, ascending, of 0, 1, 2, ... boards.
        best: more than 0.
    """
    *first, last = totals
    for some in itertools.product(*(range(len(total)) for total in first)):
        spent = sum(total[n] for total, n in zip(first, some, strict=True))
        if spent >= best:
            continue
        most = bisect.bisect_left(last, best - spent) - 1
        counts = (*some, most)
        spent += last[most]
        steps = (total[n + 1] - total[n] for total, n in zip(totals, counts, strict=True) if n + 1 < len(total))
        if all(spent + step >= best for step in steps):
            yield counts
