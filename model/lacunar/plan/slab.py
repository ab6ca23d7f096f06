"""All counts of boards whose cost with spares lies between two sums, the cheapest first."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

Counts = npt.NDArray[np.int64]
Floats = npt.NDArray[np.float64]

MOST_LOOKED = 20_000_000
"""Counts of some of the stocks that are looked at, at most. Measured: some hundredths of a microsecond each."""

MARGIN = 1e-9
"""Relative: so near to a limit nothing is left out, for sums here are in floating point."""


def list_counts(
    totals: Sequence[Sequence[int]], worths: Sequence[tuple[Sequence[int], int]], least: int, below: int
) -> Counts | None:
    """Counts whose totals add up to `least` or more and less than `below`, and that hold what the pieces are worth.

    Stock after stock, and what cannot be made up by the stocks still to come is left out on the way.

    Args:
        totals: for each stock, ascending, of 0, 1, 2, ... boards with their spares.
        worths: of several vectors: the most that a board of each stock holds, and what all pieces need of it.
        least: sum of the totals, at least.
        below: and less than this.

    Returns:
        (rows, stocks), in order of their sum; None where there are too many to list.
    """
    tables = [np.array(some, dtype=np.int64) for some in totals]
    boards = np.array([some for some, _ in worths], dtype=np.float64).reshape(len(worths), len(totals))
    counts, spent = np.zeros((1, 0), dtype=np.int64), np.zeros(1, dtype=np.int64)
    need = np.array([[pieces for _, pieces in worths]], dtype=np.float64)
    slack, looked = MARGIN * np.abs(need[0]), 0
    for s, table in enumerate(tables):
        looked += len(table) * len(spent)
        if looked > MOST_LOOKED:
            return None
        rates = _rates(tables[s + 1 :], boards[:, s + 1 :])
        kept: list[tuple[Counts, Counts, Counts, Floats]] = []
        for n in range(len(table)):
            then, short = spent + table[n], need - n * boards[:, s]
            more = _products(short, rates, short > slack).max(axis=1, initial=0.0)
            rows = np.flatnonzero(then + more * (1.0 - MARGIN) < below)
            kept.append((rows, np.full(len(rows), n), then[rows], short[rows]))
        rows, numbers, spent, need = (np.concatenate(column) for column in zip(*kept, strict=True))
        counts = np.column_stack([counts[rows], numbers])
    counts, spent = counts[spent >= least], spent[spent >= least]
    order = np.lexsort((*counts.T[::-1], spent))
    return counts[order]


def _products(short: Floats, rates: Floats, where: npt.NDArray[np.bool_]) -> Floats:
    """Zero elsewhere, where nothing is short and an infinite rate means nothing."""
    return np.multiply(short, rates, where=where, out=np.zeros_like(short))


def _rates(tables: Sequence[Counts], boards: Floats) -> Floats:
    """The least that one unit of worth costs on any of these stocks, for each vector; infinite where none has it."""
    rates = np.full(len(boards), np.inf)
    for s, table in enumerate(tables):
        if len(table) < 2:
            continue
        cheapest = float((table[1:] / np.arange(1, len(table))).min())
        rates = np.minimum(rates, np.where(boards[:, s] > 0.0, cheapest / np.maximum(boards[:, s], 1e-300), np.inf))
    return rates
