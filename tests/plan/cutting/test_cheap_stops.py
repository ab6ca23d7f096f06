"""Marks by what lengths are worth, against every other choice of marks."""

import itertools
import random

import numpy as np

from lacunar.plan.cutting import BoardProblem, Rate, Span, Stock, cheapest_lengths, rate_of, solve_boards


def _rate(r: random.Random, most: int) -> Rate:
    lengths = sorted(r.sample(range(1, most), 4))
    values = np.maximum.accumulate([r.randint(0, 30) * 100 for _ in lengths])
    return Rate(np.array([0, *lengths], dtype=np.float64), np.array([1, *(values + 2)], dtype=np.float64))


def _worth(rate: Rate, lengths: tuple[int, ...] | list[int]) -> float:
    return float(rate.at(np.array(lengths)).sum())


def test_no_other_marks_are_worth_less() -> None:
    r = random.Random(3)
    few = 0
    for _ in range(150):
        spans = [Span(lo=(lo := r.randint(50, 80)), hi=lo + r.randint(0, 9), wish=lo) for _ in range(r.randint(1, 7))]
        rate, count = _rate(r, 95), r.randint(1, 4)
        found = cheapest_lengths(spans, (), rate, count)
        best: float | None = None
        for marks in itertools.combinations(range(50, 90), min(count, len(spans), 2)):
            served = [min((m for m in marks if span.lo <= m <= span.hi), default=None) for span in spans]
            if None not in served:
                worth = _worth(rate, [mark for mark in served if mark is not None])
                best = worth if best is None else min(best, worth)
        if found is not None:
            assert all(span.lo <= n <= span.hi for n, span in zip(found, spans, strict=True))
            assert len(set(found)) <= count
        if best is not None:
            assert found is not None
            assert _worth(rate, found) <= best + 1e-6
        few += best is not None
    assert few > 50


def test_too_few_marks_serve_not_all() -> None:
    spans = [Span(lo=10, hi=12, wish=10), Span(lo=13, hi=15, wish=13)]
    rate = Rate(np.array([0.0, 20.0]), np.array([1.0, 20.0]))
    assert cheapest_lengths(spans, (), rate, 1) is None
    assert cheapest_lengths(spans, (), rate, 9) == [10, 13]
    assert cheapest_lengths(spans, {1}, rate, 1) == [10, 13]
    assert cheapest_lengths(spans, {0, 1}, rate, 1) == [10, 13]


def test_a_proof_says_what_pieces_are_worth() -> None:
    """Of 40 two come out of a board of 90, of 50 one."""
    problem = BoardProblem(stocks=(Stock(length=90, price=900),)).cutting([40] * 4 + [50] * 3)
    rate = rate_of(problem, solve_boards(problem).certificate)
    small, middle, large = rate.at(np.array([40, 45, 50]))
    assert small <= middle <= large
    assert 0.0 < small < large
