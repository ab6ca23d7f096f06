"""The linear program over the patterns found so far."""

from collections.abc import Sequence

import highspy
import numpy as np
import numpy.typing as npt

from lacunar.plan.cutting.child import solve_whole
from lacunar.plan.cutting.greedy import Boards
from lacunar.plan.cutting.instance import Instance
from lacunar.plan.cutting.knapsack import Floats, Ints
from lacunar.plan.cutting.whole import WholeProgram, quiet_solver

ARTIFICIAL = 100.0
"""Price, in dearest boards, of a piece that no board gives: far above any board, so that none is left where boards
can be had."""


MANY_ROWS = 200
MANY_OF_EACH = 4
"""From so many lengths, and so many pieces of each on average, the solver chooses between its two simplex methods: that
halves the time of a pivot. Measured: with few pieces of each length the dual one alone needs far fewer of them."""


class Master:
    """Patterns as columns; a row for each demand (at least so many pieces) and each stock (from, to so many boards)."""

    def __init__(self, instance: Instance) -> None:
        """No patterns yet, only the artificial columns."""
        self.instance = instance
        self.n_pieces, self.n_stocks = len(instance.weights), len(instance.prices)
        self.costs = instance.costs
        self.stocks: list[int] = []
        self.patterns: list[Ints] = []
        self.iterations = 0
        self.by_clock = False
        self._columns: dict[tuple[int, bytes], int] = {}
        self._bounds = self._all_bounds(instance.counts, np.zeros_like(instance.supply), instance.supply)
        self._solver = quiet_solver()
        self._solver.setOptionValue("presolve", "off")
        if self.n_pieces >= MANY_ROWS and int(instance.counts.sum()) >= MANY_OF_EACH * self.n_pieces:
            self._solver.setOptionValue("simplex_strategy", CHOOSE_SIMPLEX)
        for count in instance.counts.tolist():
            self._solver.addRow(float(count), highspy.kHighsInf, 0, NO_ROWS, NO_VALUES)
        for supply in instance.supply.tolist():
            self._solver.addRow(0.0, float(supply), 0, NO_ROWS, NO_VALUES)
        for i in range(self.n_pieces):
            self._solver.addCol(ARTIFICIAL, 0.0, highspy.kHighsInf, 1, as_rows([i]), np.ones(1))
        for s in range(self.n_stocks):
            self.add(s, np.zeros(self.n_pieces, dtype=np.int64))

    def is_new(self, stock: int, pattern: Ints) -> bool:
        """Add a pattern; False where it is there already."""
        before = len(self.patterns)
        return self.add(stock, pattern) == before

    def add(self, stock: int, pattern: Ints) -> int:
        """The column of this pattern of this stock, which is added where it is not there."""
        key = (stock, pattern.tobytes())
        column = self._columns.setdefault(key, len(self.patterns))
        if column < len(self.patterns):
            return column
        self.stocks.append(stock)
        self.patterns.append(pattern)
        rows = np.flatnonzero(pattern)
        index = as_rows([*rows.tolist(), self.n_pieces + stock])
        value = np.append(pattern[rows].astype(float), 1.0)
        self._solver.addCol(self.column_cost(stock, pattern), 0.0, highspy.kHighsInf, len(index), index, value)
        return column

    def boards(self, use: Ints) -> list[Boards]:
        """So many of each pattern; (patterns,)."""
        return [Boards(self.stocks[j], self.patterns[j], int(use[j])) for j in np.flatnonzero(use).tolist()]

    def column_cost(self, stock: int, pattern: Ints) -> float:
        """Of one board, in dearest boards."""
        return float(self.costs[stock])

    def bound(self, demand: Ints, lo: Ints, hi: Ints) -> None:
        """So many pieces, and from lo to hi boards of each stock."""
        self._bounds = lower, upper = self._all_bounds(demand, lo, hi)
        for row in range(self.n_pieces + self.n_stocks):
            self._solver.changeRowBounds(row, float(lower[row]), float(upper[row]))

    def _all_bounds(self, demand: Ints, lo: Ints, hi: Ints) -> tuple[Floats, Floats]:
        upper = np.concatenate([np.full(self.n_pieces, highspy.kHighsInf), hi.astype(float)])
        return np.concatenate([demand, lo]).astype(float), upper

    def solve(self) -> tuple[float, Floats, Floats, Floats]:
        """Value, boards of each pattern, value of a piece of each demand, value of a board of each stock.

        The value is infinite where the boards cannot give the pieces.
        """
        solver = self._solver
        solver.run()
        if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            solver.clearSolver()
            solver.run()
        self.iterations += max(int(solver.getInfo().simplex_iteration_count), 0)
        solution = solver.getSolution()
        columns = np.array(solution.col_value)
        duals = np.array(solution.row_dual)
        value = float(solver.getInfo().objective_function_value)
        if columns[: self.n_pieces].sum() > FEASIBLE:
            value = float("inf")
        return value, columns[self.n_pieces :], np.maximum(duals[: self.n_pieces], 0.0), duals[self.n_pieces :]

    def solve_whole(self, start: dict[int, int], nodes: int, seconds: float, gap: float) -> Ints | None:
        """The best whole numbers of boards that the solver finds, from a plan on if there is one.

        Args:
            start: column and how many boards of it, of a plan that fits; empty for none.
            nodes: of the solver's tree, at most.
            seconds: an outer safety.
            gap: in cost, that is as good as none; with a plan to start from, one hundredth is, too.

        Returns:
            (patterns,), or None where it failed or was late; `by_clock` says whether the seconds ended it.
        """
        lower, upper = self._bounds
        first = np.zeros(self.n_pieces + len(self.patterns) if start else 0)
        for column, times in start.items():
            first[self.n_pieces + column] = times
        supports = [np.flatnonzero(pattern) for pattern in self.patterns]
        columns = [[i] for i in range(self.n_pieces)]
        columns += [[*rows.tolist(), self.n_pieces + s] for rows, s in zip(supports, self.stocks, strict=True)]
        entries = [np.append(p[rows], 1) for p, rows in zip(self.patterns, supports, strict=True)]
        costs = [self.column_cost(s, pattern) for s, pattern in zip(self.stocks, self.patterns, strict=True)]
        program = WholeProgram(
            costs=np.array([ARTIFICIAL] * self.n_pieces + costs),
            most=np.full(len(columns), highspy.kHighsInf),
            lower=lower,
            upper=upper,
            starts=np.cumsum([0, *(len(column) for column in columns)]).astype(np.int32),
            rows=np.concatenate(columns).astype(np.int32),
            values=np.concatenate([np.ones(self.n_pieces), *entries]).astype(float),
            first=first,
            nodes=nodes,
            seconds=seconds,
            share=0.01 if start else 0.0,
            gap=gap,
        )
        answer = solve_whole(program)
        self.by_clock = answer.by_clock
        self.iterations += answer.iterations
        found = answer.numbers
        if found is None or found[: self.n_pieces].any():
            return None
        return found[self.n_pieces :]


FEASIBLE = 1e-6
"""Pieces that artificial columns may give through rounding."""


CHOOSE_SIMPLEX = 0
"""The solver's option "simplex_strategy": primal where the last basis still fits, else dual. Its default is dual."""

NO_ROWS = np.empty(0, dtype=np.int32)
NO_VALUES = np.empty(0)
"""Of a row or column that is still empty."""


def as_rows(numbers: Sequence[int]) -> npt.NDArray[np.int32]:
    """Numbers of rows as the solver wants them."""
    return np.array(numbers, dtype=np.int32)
