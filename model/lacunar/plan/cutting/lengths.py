"""Lengths chosen with the boards in mind: cheapest first, then fewest stops, then nearest to what was designed."""

import itertools
import math
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace

from lacunar.plan.cutting.boards import BoardSolution, afford_boards, solve_boards
from lacunar.plan.cutting.budget import USUAL, Effort
from lacunar.plan.cutting.certificate import Certificate
from lacunar.plan.cutting.cheap_stops import Rate, cheapest_lengths, rate_of
from lacunar.plan.cutting.problem import BoardProblem, ShortageError
from lacunar.plan.cutting.stops import BestStops, Span, fewest_stops, inward

MOST_WAYS = 4_096
"""Ways to choose all lengths, at most, for which every one is looked at."""

MANY = 8
"""Stops beyond the fewest, from which on uneven marks are tried. Measured: where 9 even ones did and 5 would serve, 7
uneven ones fit the first time in 93 % of trials instead of 99."""

RATES = 3
"""What lengths are worth that is tried for each number of marks: by the shortest, then by those that were refuted."""

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
    inside, apart, fewest = spans_inside(spans, grid)
    shortest = solve_boards(timber.cutting([span.lo for span in inside]), replace(effort, tidy=False))
    rate = rate_of(timber.cutting([span.lo for span in inside]), shortest.certificate)
    chooser = _Chooser(inside, apart, timber, grid, shortest.cost, rate, effort)
    ways = math.prod((span.hi - span.lo) // grid + 1 for span in inside)
    choices = (chooser.try_all(),) if ways <= MOST_WAYS else chooser.search(fewest)
    lengths, boards = chooser.best(choices) or ([span.lo for span in inside], shortest)
    return LengthChoice(lengths=tuple(lengths), boards=boards)


def lengths_by(
    spans: Sequence[Span], timber: BoardProblem, marks: int, rate: Rate, grid: int = 1, effort: Effort = USUAL
) -> LengthChoice | None:
    """Lengths near the wishes by no more than so many marks, from no more boards than there are.

    None where they are not found.

    Args:
        spans: as for `choose_lengths`.
        timber: boards that may all be used, with no demands.
        marks: no fewer than serve all pieces.
        rate: what pieces are worth where these boards do.
        grid: as for `choose_lengths`.
        effort: likewise.
    """
    inside, apart, fewest = spans_inside(spans, grid)
    if marks < fewest:
        return None
    cost = sum(timber.price(s) * (stock.supply or 0) for s, stock in enumerate(timber.stocks))
    chooser = _Chooser(inside, apart, timber, grid, cost, rate, effort)
    lengths = chooser.affordable(marks)
    found = None if lengths is None else chooser.best(chooser.drawn_near(lengths, marks))
    return None if found is None else LengthChoice(lengths=tuple(found[0]), boards=found[1])


def spans_inside(spans: Sequence[Span], grid: int) -> tuple[tuple[Span, ...], frozenset[int], int]:
    """From mark to mark; pieces that no mark serves, to be cut to measure; the fewest marks that serve the rest."""
    fewest = fewest_stops(spans, grid)
    inside = tuple(_on_grid(span, grid, i in fewest.apart) for i, span in enumerate(spans))
    return inside, frozenset(fewest.apart), len(fewest.marks)


def _on_grid(span: Span, grid: int, apart: bool) -> Span:
    lo, hi = (span.lo, span.lo) if apart else inward(span.lo, span.hi, grid)
    return Span(lo=lo, hi=hi, wish=min(max(span.wish, lo), hi))


class _Chooser:
    """Looks for lengths at a given cost."""

    def __init__(
        self,
        spans: tuple[Span, ...],
        apart: frozenset[int],
        timber: BoardProblem,
        grid: int,
        cost: int,
        rate: Rate,
        effort: Effort,
    ) -> None:
        self._spans, self._apart, self._timber, self._grid, self._cost = spans, apart, timber, grid, cost
        self._rate: Rate | None = rate
        self._effort = replace(effort, tidy=False, work=effort.work / 3.0)
        self._tidy = effort
        self._plans: dict[tuple[int, ...], BoardSolution | None] = {}
        self._refuted: dict[tuple[int, ...], Certificate] = {}
        self._free = [i for i in range(len(spans)) if i not in apart]
        self._stops: dict[int, BestStops] = {}

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

    def best(self, choices: Sequence[list[int]]) -> tuple[list[int], BoardSolution] | None:
        """The first choice whose boards are found at the cost, with as tidy a plan as can be had."""
        for lengths in choices:
            with suppress(ShortageError):
                solved = solve_boards(self._timber.cutting(lengths), self._tidy)
                if solved.cost <= self._cost:
                    return lengths, solved
            plan = self._plan(lengths)
            if plan is not None:
                return lengths, plan
        return None

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
                if isinstance(answer, BoardSolution):
                    self._plans[key] = answer
                elif answer is not None:
                    self._refuted[key] = answer
        return self._plans[key]

    def search(self, fewest: int) -> tuple[list[int], list[int]]:
        """Fewest marks at the shortest lengths they allow; then the same number of marks drawn towards the wishes.

        Where even marks are many, uneven ones are tried, those that boards pay least for: less is left to the wishes.
        """
        most = len({span.lo for i, span in enumerate(self._spans) if i not in self._apart})
        found = self._fewest(fewest, ([span.lo for span in self._spans], most), self._evenly)
        if found[1] - fewest >= MANY:
            found = self._fewest(fewest, found, self.affordable)
        return self.drawn_near(*found)

    def _fewest(
        self, low: int, known: tuple[list[int], int], affordable: Callable[[int], list[int] | None]
    ) -> tuple[list[int], int]:
        """Lengths by as few marks as are found at the cost, and how many, from some that are known."""
        fewest, (lengths, high) = low, known
        while low < high:
            # One by one at first, for that is where it mostly ends.
            middle = low if low < fewest + 2 else (low + high) // 2
            tried = affordable(middle)
            if tried is not None:
                lengths, high = tried, middle
            else:
                low = middle + 1
        return lengths, high

    def _evenly(self, count: int) -> list[int] | None:
        """By so many marks at the cost, all pieces as short as can be."""
        tried = self._drawn(count, 0)
        return None if self._plan(tried) is None else tried

    def drawn_near(self, lengths: list[int], count: int) -> tuple[list[int], list[int]]:
        """So many marks drawn towards the wishes, as far as that costs no more; `lengths` where it does.

        Returns:
            The choice, and one to fall back on.
        """
        for pull in PULLS:
            tried = self._drawn(count, pull)
            if tried == lengths or self._plan(tried) is not None:
                lengths = tried
                break
        return self._raised(lengths), lengths

    def affordable(self, count: int) -> list[int] | None:
        """By so many marks at the cost: all pieces as short as can be, else those short that boards pay for."""
        lengths, rate = self._drawn(count, 0), self._rate
        for left in range(RATES, -1, -1):
            if self._plan(lengths) is not None:
                return lengths
            cheaper = cheapest_lengths(self._spans, self._apart, rate, count) if left and rate is not None else None
            if cheaper is None:
                break
            lengths, rate = cheaper, self._rate_at(cheaper)
        return None

    def _rate_at(self, lengths: Sequence[int]) -> Rate | None:
        """What pieces are worth where these lengths cost too much; None where that was not found."""
        self._plan(lengths)
        refuted = self._refuted.get(tuple(sorted(lengths)))
        return None if refuted is None else rate_of(self._timber.cutting(lengths), refuted)

    def _drawn(self, count: int, eighths: int) -> list[int]:
        """Lengths by the best so many marks, for wishes some way up from the shortest lengths."""
        if eighths not in self._stops:
            free = [self._spans[i] for i in self._free]
            pulled = [replace(span, wish=span.lo + (span.wish - span.lo) * eighths // 8) for span in free]
            self._stops[eighths] = BestStops(pulled, self._grid)
        lengths = [span.lo for span in self._spans]
        for i, stop in zip(self._free, self._stops[eighths].at_most(count), strict=True):
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
