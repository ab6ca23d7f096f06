"""Lengths chosen within their intervals, with the boards in mind."""

import itertools
import random
from collections.abc import Sequence
from functools import cache

import pytest

from lacunar.plan import make_plan
from plan.planning import FOOT, INCH, board, config, part, parts
from plan.sawing import saw_up

KERF, WASTE = 3, 6
"""mm."""


@pytest.mark.parametrize(
    ("count", "other", "share"),
    [
        # 8 ft less 1/4 in at each end is 95 1/2 in: two slats and a kerf where a slat is 47 11/16 in or less.
        (20, "", 1.0 / 2.0),
        # Of 10 ft at 12.50 come two as designed: 10 boards of 12.50 against 10 of 10.
        (20, board("1x4", "10 ft", 12.5), 1.0 / 5.0),
        # 11 boards for 21 slats; as designed 10 of 10 ft and one of 8 ft: 110 against 135.
        (21, board("1x4", "10 ft", 12.5), 25.0 / 135.0),
    ],
)
def test_slats_a_bit_over_half_a_board_are_cut_to_half_a_board(count: int, other: str, share: float) -> None:
    """Coffers of 48 in: 47 3/4 in by design, and 47 1/2 in would still be hidden."""
    shop = config("cull = 0\n" + board("1x4", "8 ft", 10.0) + other)
    designed = make_plan(parts([47.75 * INCH] * count), shop)
    wanted = parts([47.75 * INCH] * count, interval=(47.5 * INCH, 47.875 * INCH))
    chosen = make_plan(wanted, shop)
    saw_up(chosen, wanted, shop)
    assert designed.cost is not None
    assert chosen.cost is not None
    assert chosen.proven
    assert 1.0 - chosen.cost / designed.cost == pytest.approx(share)
    # The longest mark that two to a board allow is 47 11/16 in.
    assert max(chosen.lengths.values()) == pytest.approx(47.6875 * INCH)
    assert len([s for s in chosen.settings if s.stop is not None]) == 1


def test_the_design_may_be_longer_than_any_board() -> None:
    """8 ft less 1/4 in at each end is 95 1/2 in, and 95 1/4 in would do."""
    shop = config("cull = 0\n" + board("1x4", "8 ft", 10.0))
    wanted = parts([96.0 * INCH] * 5, interval=(95.25 * INCH, 96.5 * INCH))
    plan = make_plan(wanted, shop)
    saw_up(plan, wanted, shop)
    assert (plan.cost, plan.proven, plan.unserved) == (50.0, True, ())
    assert max(plan.lengths.values()) <= 95.5 * INCH + 1e-6


def test_where_cost_does_not_care_the_design_stays() -> None:
    wanted = parts([40.0 * INCH, 41.0 * INCH], interval=(39.5 * INCH, 41.5 * INCH))
    plan = make_plan(wanted, config("cull = 0\n" + board("1x4", "8 ft", 10.0)))
    assert len(set(plan.lengths.values())) == 1
    assert all(40.0 * INCH <= length <= 41.0 * INCH for length in plan.lengths.values())


def test_no_mark_in_the_interval() -> None:
    wanted = (part("C1-S01", 762.4, interval=(762.3, 762.5)),)
    plan = make_plan(wanted, config())
    # The first 1/64 in above 762.3 mm: 1921/64 in.
    assert plan.lengths == {"C1-S01": pytest.approx(1921.0 / 64.0 * INCH)}
    assert plan.settings[0].apart


def _least(ways: Sequence[range], boards: Sequence[tuple[int, int]]) -> int:
    """Cents, over all lengths within the intervals and all ways to cut them; mm."""

    @cache
    def cost(lengths: tuple[int, ...]) -> int:
        """Of the cheapest boards: the first piece with every set of others."""
        if not lengths:
            return 0
        best = 10**9
        first, rest = lengths[0], lengths[1:]
        for size in range(len(rest) + 1):
            for others in itertools.combinations(range(len(rest)), size):
                used = first + sum(rest[i] for i in others) + KERF * size
                fits = [price for length, price in boards if used <= length - 2 * WASTE]
                if fits:
                    left = tuple(rest[i] for i in range(len(rest)) if i not in others)
                    best = min(best, min(fits) + cost(left))
        return best

    return min(cost(tuple(sorted(way))) for way in set(itertools.product(*ways)))


@pytest.mark.parametrize("block", range(6))
def test_no_lengths_and_no_boards_are_cheaper(block: int) -> None:
    """50 small cases a block: three to six slats, intervals of one to four marks, one to three lengths of board."""
    proven = 0
    for seed in range(50 * block, 50 * block + 50):
        r = random.Random(seed)
        boards = [(n, r.randint(400, 900) + n // 3) for n in r.sample((1200, 1500, 1800, 2400), r.randint(1, 3))]
        usable = max(n for n, _ in boards) - 2 * WASTE
        ways: list[range] = []
        for _ in range(r.randint(3, 6)):
            # Near a half, a third and a quarter of a board, where marks count.
            base = r.choice(boards)[0] - 2 * WASTE
            low = min((base - KERF * 2) // r.choice((2, 2, 3, 4)) - r.randint(-2, 3), usable - 4)
            ways.append(range(low, low + r.randint(1, 4 if len(ways) < 4 else 2)))
        wanted = [
            part(
                f"C1-S{n}",
                float(r.choice(way)),
                interval=(float(way[0]), float(way[-1]) + (0.4 if len(way) == 1 else 0.0)),
            )
            for n, way in enumerate(ways)
        ]
        shop = config(
            f"cull = 0\nkerf = {KERF}\nend_waste = {WASTE}\n"
            + "".join(board("1x4", f"{n} mm", price / 100.0) for n, price in boards),
            units="mm",
        )
        plan = make_plan(wanted, shop)
        saw_up(plan, wanted, shop)
        assert plan.cost is not None
        assert plan.lower_bound is not None
        least = _least(ways, boards)
        assert round(plan.lower_bound * 100) <= least <= round(plan.cost * 100), seed
        proven += plan.proven
        if plan.proven:
            assert round(plan.cost * 100) == least, seed
    assert proven >= 48, "so small cases are proved"


def test_marks_are_those_of_the_tape() -> None:
    r = random.Random(1)
    wanted = [part(f"C1-S{n}", x := r.uniform(900.0, 1100.0), interval=(x - 6.0, x + 4.0)) for n in range(60)]
    for units, mark in (("in", INCH / 16.0), ("mm", 1.0)):
        shop = config(units=units)
        plan = make_plan(wanted, shop)
        saw_up(plan, wanted, shop)
        for slat in wanted:
            assert slat.interval is not None
            assert slat.interval[0] <= plan.lengths[slat.id] <= slat.interval[1]
            assert abs(plan.lengths[slat.id] / mark - round(plan.lengths[slat.id] / mark)) < 1e-9
        section = plan.sections[0]
        assert section.fewest <= section.stops
        spans = sorted(s.interval or (0.0, 0.0) for s in wanted if s.id in section.witness)
        assert len(spans) == section.fewest
        # No mark lies in two of them: rounded inwards they do not touch.
        inward = [(-(-low // mark), high // mark) for low, high in spans]
        assert all(a[1] < b[0] for a, b in itertools.pairwise(sorted(inward)))


def test_the_fewest_marks_are_those_of_whole_intervals() -> None:
    """They have 1009 and 1010 mm in common, whatever margin is kept from their ends where that costs nothing."""
    wanted = (part("C1-S1", 1005.0, interval=(1000.0, 1010.0)), part("C1-S2", 1015.0, interval=(1009.0, 1020.0)))
    plan = make_plan(wanted, config(units="mm"))
    assert plan.sections[0].fewest == 1
    assert plan.sections[0].stops in (1, 2)


def test_a_mark_near_the_end_of_an_interval_is_better_than_none() -> None:
    """Only 1000 mm lies in it, and 3 mm from either end lies nothing."""
    wanted = (part("C1-S1", 1000.3, interval=(999.9, 1000.9)),)
    plan = make_plan(wanted, config(units="mm"))
    assert plan.lengths == {"C1-S1": pytest.approx(1000.0)}
    assert not plan.settings[0].apart


def test_a_board_longer_than_sold_gives_what_it_measures() -> None:
    shop = "cull = 0\n" + board("1x4", "8 ft", 10.0, actual="8 ft 0 1/2 in")
    assert len(make_plan(parts([47.9 * INCH] * 2), config(shop)).boards) == 1
    assert len(make_plan(parts([47.9 * INCH] * 2), config("cull = 0\n" + board("1x4", "8 ft", 10.0))).boards) == 2
    assert make_plan(parts([47.9 * INCH] * 2), config(shop)).boards[0].length == 8.0 * FOOT
