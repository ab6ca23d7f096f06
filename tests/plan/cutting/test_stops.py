"""Stops against proved numbers and against every way tried."""

import itertools
import random
from collections.abc import Sequence
from typing import Any

import pytest

from lacunar.plan.cutting import Span, best_stops, fewest_stops
from plan.cutting.sawbench import cases

P3 = cases("P3")


def spans_of(case: dict[str, Any]) -> list[Span]:
    return [Span(lo=lo, hi=hi, wish=hi) for lo, hi in zip(case["lo"], case["hi"], strict=True)]


@pytest.mark.parametrize("case", P3, ids=lambda case: case["name"])
def test_fewest_and_its_proof(case: dict[str, Any]) -> None:
    spans = spans_of(case)
    found = fewest_stops(spans, case["grid"])
    assert len(found.marks) == len(found.proof) == case["min_settings"]
    witnesses = [spans[i] for i in found.proof]
    for one, two in itertools.combinations(witnesses, 2):
        shared = range(-(-max(one.lo, two.lo) // case["grid"]) * case["grid"], min(one.hi, two.hi) + 1, case["grid"])
        assert not shared


@pytest.mark.parametrize("case", P3, ids=lambda case: case["name"])
def test_best_for_a_number_is_the_proved_one(case: dict[str, Any]) -> None:
    spans = spans_of(case)
    for count, gap in case["min_total_gap"].items():
        assert distance(spans, best_stops(spans, int(count), case["grid"])) == gap
    for count, left in list(case["min_uncovered"].items())[:12]:
        assert best_stops(spans, int(count), case["grid"]).count(None) == left


def distance(spans: list[Span], stops: Sequence[int | None]) -> int:
    """From the wishes, over all pieces that a mark serves."""
    return sum(abs(stop - span.wish) for span, stop in zip(spans, stops, strict=True) if stop is not None)


def best_by_trying(spans: list[Span], count: int, grid: int) -> tuple[int, int]:
    """Fewest unserved and least distance over all sets of marks."""
    marks = range(min(s.lo for s in spans) // grid * grid, max(s.hi for s in spans) + 1, grid)
    best = (len(spans), 0)
    for chosen in itertools.combinations(marks, min(count, len(marks))):
        inside = [[abs(m - s.wish) for m in chosen if s.lo <= m <= s.hi] for s in spans]
        best = min(best, (sum(not d for d in inside), sum(min(d) for d in inside if d)))
    return best


@pytest.mark.parametrize("block", range(10))
def test_brute_force_finds_no_better_marks(block: int) -> None:
    """30 small cases a block, wishes anywhere in the span, grids of 1 to 3."""
    for seed in range(30 * block, 30 * block + 30):
        r = random.Random(seed)
        grid = r.randint(1, 3)
        spans: list[Span] = []
        for _ in range(r.randint(2, 7)):
            lo = r.randint(10, 10 + 8 * grid)
            hi = lo + r.randint(0, 5 * grid)
            spans.append(Span(lo=lo, hi=hi, wish=r.randint(lo, hi)))
        for count in (1, 2, 3):
            found = best_stops(spans, count, grid)
            assert (found.count(None), distance(spans, found)) == best_by_trying(spans, count, grid), seed
            assert len(set(found) - {None}) <= count
        least = fewest_stops(spans, grid)
        served = [s for i, s in enumerate(spans) if i not in least.apart]
        if served:
            assert best_by_trying(served, len(least.marks), grid)[0] == 0
            assert len(least.marks) == 1 or best_by_trying(served, len(least.marks) - 1, grid)[0] > 0


def test_a_span_between_two_lines_of_the_tape_is_listed() -> None:
    spans = [Span(lo=5, hi=7, wish=6), Span(lo=6, hi=9, wish=8)]
    assert fewest_stops(spans, 4).apart == (0,)
    assert best_stops(spans, 2, 4) == (None, 8)
