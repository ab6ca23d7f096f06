"""Lengths chosen with the boards in mind: cheapest first, then fewest stops, then nearest to what was designed."""

import itertools
import math
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, replace

from lacunar.plan.cutting.boards import BoardSolution, afford_boards, solve_boards
from lacunar.plan.cutting.budget import USUAL, Effort
from lacunar.plan.cutting.problem import BoardProblem, ShortageError
from lacunar.plan.cutting.stops import Span, best_stops, fewest_stops, inward

MOST_WAYS = 4_096
"""Ways to choose all lengths, at most, for which every one is looked at."""

PULLS = (8, 7, 6, 4, 2)
"""Eighths of the way from the shortest length to the wish that are tried before single stops are moved."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LengthChoice:
    """Lengths of the pieces, ticks, within their spans, and the boards that these come from."""

    lengths: tuple[int, ...]
    boards: BoardSolution


def choose_lengths(spans: Sequence[Span], timber: BoardProblem, grid: int = 1, effort: Effort = USUAL) -> LengthChoice:
    """The cheapest lengths and boards together, then few stops, then lengths near the wishes.

    Shorter pieces never cost more: with every piece at its shortest, the boards' bound holds for all choices. Any other
    choice is kept only at that cost, so the cost is proved as well as it is for the shortest. A piece whose span holds
    no line of the grid is cut to measure, at its shortest.

    Args:
        spans: of the pieces, on the tape's ticks.
        timber: what they are cut from, with no demands.
        grid: ticks between two lines of the tape.
        effort: of each search for boards.

    Raises:
        PlanError: as `solve_boards`.
    """
    fewest = fewest_stops(spans, grid)
    inside = tuple(_on_grid(span, grid, i in fewest.apart) for i, span in enumerate(spans))
    shortest = solve_boards(timber.cutting([span.lo for span in inside]), replace(effort, tidy=False))
    chooser = _Chooser(inside, frozenset(fewest.apart), timber, grid, shortest.cost, effort)
    ways = math.prod((span.hi - span.lo) // grid + 1 for span in inside)
    choices = (chooser.try_all(),) if ways <= MOST_WAYS else chooser.search(len(fewest.marks))
    lengths, boards = chooser.best(choices, shortest)
    return LengthChoice(lengths=tuple(lengths), boards=boards)


def _on_grid(span: Span, grid: int, apart: bool) -> Span:
    lo, hi = (span.lo, span.lo) if apart else inward(span.lo, span.hi, grid)
    return Span(lo=lo, hi=hi, wish=min(max(span.wish, lo), hi))


class _Chooser:
    """Looks for lengths at a given cost."""

    def __init__(
        self, spans: tuple[Span, ...], apart: frozenset[int], timber: BoardProblem, grid: int, cost: int, effort: Effort
    ) -> None:
        self._spans, self._apart, self._timber, self._grid, self._cost = spans, apart, timber, grid, cost
        self._effort = replace(effort, tidy=False, work=effort.work / 3.0)
        self._tidy = effort
        self._plans: dict[tuple[int, ...], BoardSolution | None] = {}

    def try_all(self) -> list[int]:
        """Fewest marks, then the least distance, of all ways that cost no more."""
        choices = [range(span.lo, span.hi + 1, self._grid) for span in self._spans]
        ways = sorted(itertools.product(*choices), key=self._rank)
        bad: list[tuple[int, ...]] = []
        for way in ways:
            key = tuple(sorted(way))
            if any(all(a >= b for a, b in zip(key, worse, strict=True)) for worse in bad):
                continue
            if self._plan(key) is not None:
                return list(way)
            bad.append(key)
        return [span.lo for span in self._spans]

    def best(self, choices: Sequence[list[int]], shortest: BoardSolution) -> tuple[list[int], BoardSolution]:
        """The first choice whose boards are found at the cost, with as tidy a plan as can be had."""
        for lengths in choices:
            with suppress(ShortageError):
                solved = solve_boards(self._timber.cutting(lengths), self._tidy)
                if solved.cost <= self._cost:
                    return lengths, solved
            plan = self._plan(lengths)
            if plan is not None:
                return lengths, plan
        return [span.lo for span in self._spans], shortest

    def _rank(self, way: tuple[int, ...]) -> tuple[int, int, tuple[int, ...]]:
        marks = len({length for i, length in enumerate(way) if i not in self._apart})
        return marks, sum(abs(length - span.wish) for length, span in zip(way, self._spans, strict=True)), way

    def _plan(self, lengths: Sequence[int]) -> BoardSolution | None:
        key = tuple(sorted(lengths))
        if key not in self._plans:
            self._plans[key] = None
            # The longest that will do may be longer than any board.
            with suppress(ShortageError):
                answer = afford_boards(self._timber.cutting(key), self._cost, self._effort)
                self._plans[key] = answer if isinstance(answer, BoardSolution) else None
        return self._plans[key]

    def search(self, fewest: int) -> tuple[list[int], list[int]]:
        """Fewest marks at the shortest lengths they allow; then the same number of marks drawn towards the wishes.

        Returns:
            The choice, and one to fall back on.
        """
        most = len({span.lo for i, span in enumerate(self._spans) if i not in self._apart})
        lengths, count = [span.lo for span in self._spans], most
        low, high = fewest, most
        while low < high:
            # Up to the fewest that cost no more: one by one at first, for that is where it mostly ends.
            middle = low if low < fewest + 2 else (low + high) // 2
            tried = self._drawn(middle, 0)
            if self._plan(tried) is not None:
                lengths, count, high = tried, middle, middle
            else:
                low = middle + 1
        for pull in PULLS:
            tried = self._drawn(count, pull)
            if tried == lengths or self._plan(tried) is not None:
                lengths = tried
                break
        return self._raised(lengths), lengths

    def _drawn(self, count: int, eighths: int) -> list[int]:
        """Lengths by the best so many marks, for wishes some way up from the shortest lengths."""
        pulled = [replace(span, wish=span.lo + (span.wish - span.lo) * eighths // 8) for span in self._spans]
        free = [i for i in range(len(pulled)) if i not in self._apart]
        stops = best_stops([pulled[i] for i in free], count, self._grid)
        lengths = [span.lo for span in self._spans]
        for i, stop in zip(free, stops, strict=True):
            lengths[i] = lengths[i] if stop is None else stop
        return lengths

    def _raised(self, lengths: list[int]) -> list[int]:
        """Whole stops moved up towards the wishes of their pieces as far as the boards of the plan have room."""
        plan = self._plan(lengths)
        if plan is None:
            return lengths
        room = _BoardRoom(self._timber, self._timber.cutting(lengths), plan)
        moved = dict.fromkeys(lengths, 0)
        for mark in sorted(moved):
            mine = [i for i, length in enumerate(lengths) if length == mark]
            if self._apart & set(mine):
                continue
            most = min(min(self._spans[i].hi for i in mine) - mark, room.left(mark))
            steps = range(0, most // self._grid * self._grid + 1, self._grid)
            moved[mark] = min(steps, key=lambda up: sum(abs(mark + up - self._spans[i].wish) for i in mine), default=0)
            room.take(mark, moved[mark])
        return [length + moved[length] for length in lengths]


class _BoardRoom:
    """What is left on each board of a plan, and how many pieces of each length it has."""

    def __init__(self, timber: BoardProblem, problem: BoardProblem, plan: BoardSolution) -> None:
        self._boards: list[dict[int, int]] = []
        self._left: list[int] = []
        for pattern in plan.patterns:
            used = sum(problem.weight(i) * n for i, n in pattern.pieces)
            self._boards.append({problem.demands[i].length: n for i, n in pattern.pieces})
            self._left.append(problem.capacity(pattern.stock) - used)

    def left(self, length: int) -> int:
        """How far all pieces of this length may grow."""
        return min(
            left // board[length] for left, board in zip(self._left, self._boards, strict=True) if length in board
        )

    def take(self, length: int, growth: int) -> None:
        """They grew."""
        for k, board in enumerate(self._boards):
            self._left[k] -= growth * board.get(length, 0)
