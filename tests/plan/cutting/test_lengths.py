"""Lengths with the boards in mind, against every way tried."""

import itertools
import random

import pytest

from lacunar.plan.cutting import (
    BoardProblem,
    Effort,
    Span,
    Stock,
    check_certificate,
    choose_lengths,
    fewest_stops,
    solve_boards,
)
from lacunar.plan.cutting.lengths import LengthChoice
from plan.cutting.sawbench import cheapest, saw_up


def check(spans: list[Span], timber: BoardProblem, choice: LengthChoice, grid: int = 1) -> int:
    """Lengths within their spans, on marks, from boards that give them; what they cost at least."""
    assert all(span.lo <= length <= span.hi for span, length in zip(spans, choice.lengths, strict=True))
    assert all(length % grid == 0 for length in choice.lengths)
    assert saw_up(timber.cutting(choice.lengths), choice.boards.patterns)[0] == choice.boards.cost
    shortest = timber.cutting([-(-span.lo // grid) * grid for span in spans])
    least = solve_boards(shortest, Effort(tidy=False))
    assert check_certificate(shortest, least.certificate) == least.bound <= choice.boards.cost
    assert len(set(choice.lengths)) >= len(fewest_stops(spans, grid).marks)
    return least.bound


def distance(spans: list[Span], choice: LengthChoice) -> int:
    """From the wishes, over all pieces."""
    return sum(abs(length - span.wish) for length, span in zip(choice.lengths, spans, strict=True))


def best_by_trying(spans: list[Span], timber: BoardProblem) -> tuple[int, int, int]:
    """Least cost, marks and distance over all lengths, each with its cheapest boards."""
    costs: dict[tuple[int, ...], int] = {}
    best: tuple[int, int, int] | None = None
    for way in itertools.product(*(range(span.lo, span.hi + 1) for span in spans)):
        key = tuple(sorted(way))
        if key not in costs:
            cost = cheapest(timber.cutting(key))
            assert cost is not None
            costs[key] = cost
        rank = (costs[key], len(set(way)), sum(abs(n - span.wish) for n, span in zip(way, spans, strict=True)))
        best = rank if best is None else min(best, rank)
    assert best is not None
    return best


@pytest.mark.parametrize("block", range(10))
def test_brute_force_finds_nothing_better(block: int) -> None:
    """30 small cases a block: cost, then marks, then distance."""
    for seed in range(30 * block, 30 * block + 30):
        r = random.Random(seed)
        lengths = r.sample(range(24, 44), 2)
        timber = BoardProblem(
            stocks=tuple(Stock(length=n, price=n + r.randint(0, 6)) for n in lengths), kerf=1, end_waste=1
        )
        spans: list[Span] = []
        for _ in range(r.randint(2, 4)):
            lo = r.randint(6, 18)
            hi = lo + r.randint(0, 3)
            spans.append(Span(lo=lo, hi=hi, wish=r.randint(lo, hi)))
        choice = choose_lengths(spans, timber, effort=Effort(tidy=False))
        check(spans, timber, choice)
        found = (choice.boards.cost, len(set(choice.lengths)), distance(spans, choice))
        assert found == best_by_trying(spans, timber), seed


def many(seed: int) -> tuple[list[Span], BoardProblem]:
    """Six coffers of eight slats, 1/64 in."""
    r = random.Random(seed)
    spans: list[Span] = []
    for _ in range(6):
        base = r.randint(30 * 64, 60 * 64)
        for _ in range(8):
            lo = base + r.randint(0, 20)
            hi = lo + r.randint(24, 40)
            spans.append(Span(lo=lo, hi=hi, wish=(lo + hi) // 2))
    prices = zip((6, 8, 10, 12, 16), (487, 611, 817, 930, 1290), strict=True)
    return spans, BoardProblem(stocks=tuple(Stock(length=f * 768, price=p) for f, p in prices), kerf=8, end_waste=16)


@pytest.mark.parametrize("seed", [0, 1, 2])
def test_a_ceiling_costs_what_its_shortest_lengths_cost(seed: int) -> None:
    spans, timber = many(seed)
    choice = choose_lengths(spans, timber, grid=4)
    assert choice.boards.cost == check(spans, timber, choice, grid=4)
    wished = solve_boards(timber.cutting([span.wish for span in spans]), Effort(tidy=False))
    assert choice.boards.cost <= wished.cost
    assert len(set(choice.lengths)) < len({span.lo for span in spans})


def test_five_sixteenths_off_give_two_slats_a_board() -> None:
    """48 in slats with 1/8 in kerf and 1/4 in lost at each end: 8 ft gives one, at 47 11/16 in it gives two."""
    timber = BoardProblem(
        stocks=(Stock(length=96 * 64, price=980), Stock(length=120 * 64, price=1400)), kerf=8, end_waste=16
    )
    spans = [Span(lo=48 * 64 - 24, hi=48 * 64, wish=48 * 64)] * 10
    choice = choose_lengths(spans, timber, grid=4)
    assert choice.boards.cost == 5 * 980
    assert set(choice.lengths) == {48 * 64 - 20}
    assert 2 * 48 * 64 + 8 + 2 * 16 > 96 * 64 >= 2 * choice.lengths[0] + 8 + 2 * 16
    assert solve_boards(timber.cutting([48 * 64] * 10)).cost == 5 * 1400


def test_a_piece_that_no_line_of_the_tape_serves_is_cut_to_measure() -> None:
    timber = BoardProblem(stocks=(Stock(length=100, price=5),), kerf=1, end_waste=1)
    choice = choose_lengths([Span(lo=21, hi=23, wish=22), Span(lo=22, hi=26, wish=25)], timber, grid=4)
    assert choice.lengths == (21, 24)
