"""The margin that is kept from both ends of an interval, and when it is not."""

import math

import pytest

from lacunar.config import Config
from lacunar.plan import Plan, make_plan
from plan.planning import INCH, board, config, part

MARGIN = 'margin = "1/8 in"'


def _room(margin: str, shop: str = "") -> Config:
    return config("cull = 0\n" + (shop or board("1x4", "8 ft", 10.0)), more=f"[slats]\n{margin}")


def _planned(intervals: list[tuple[float, float, float]], room: Config) -> Plan:
    wanted = [
        part(f"C1-S{i:02d}", wish * INCH, interval=(lo * INCH, hi * INCH))
        for i, (lo, wish, hi) in enumerate(intervals, 1)
    ]
    return make_plan(wanted, room)


def test_a_margin_costs_stops_rather_than_fit() -> None:
    # One mark, 40 in, serves both: but only at the very end of either interval.
    intervals = [(39.0, 39.5, 40.0), (40.0, 40.5, 41.0)]
    bare = _planned(intervals, _room("margin = 0"))
    assert set(bare.lengths.values()) == {40.0 * INCH}
    kept = _planned(intervals, _room(MARGIN))
    assert [round(length / INCH, 6) for length in kept.lengths.values()] == [39.5, 40.5]
    assert kept.cost == bare.cost


def test_boards_come_before_the_margin() -> None:
    # Two slats of 47 5/8 in and a kerf fill an 8 ft board less both ends: 47 11/16 and more do not.
    tight = (47.5, 47.9, 48.5)
    (section,) = _planned([tight, tight], _room(MARGIN)).sections
    assert (section.cost, section.lower_bound, section.proven) == (10.0, 10.0, True)
    at_most = _planned([(47.625, 47.9, 48.5)] * 2, _room(MARGIN))
    assert at_most.cost == 10.0
    # The longest mark of which two fit lies within 1/8 in of the shortest that will do.
    assert set(at_most.lengths.values()) == {47.6875 * INCH}


def test_a_margin_is_a_quarter_of_a_narrow_interval_at_most() -> None:
    (length,) = _planned([(40.0, 40.0, 40.25)], _room(MARGIN)).lengths.values()
    assert length == 40.0625 * INCH


def test_a_given_number_of_stops_is_kept_and_the_rest_is_cut_to_measure() -> None:
    intervals = [(39.0, 39.5, 40.0)] * 3 + [(41.0, 41.5, 42.0)] * 2 + [(43.0, 43.5, 44.0)]
    free = _planned(intervals, _room("margin = 0"))
    assert [(s.stops, s.apart, s.fewest) for s in free.sections] == [(3, 0, 3)]
    two = _planned(intervals, _room("margin = 0", "stops = 2\n" + board("1x4", "8 ft", 10.0)))
    assert [(s.stops, s.apart, s.fewest) for s in two.sections] == [(2, 1, 3)]
    (measured,) = [s for s in two.settings if s.apart]
    assert measured.parts == ("C1-S06",)
    assert two.lengths["C1-S06"] == 43.5 * INCH


SAFE = 3.0 * math.hypot(1.5 + 0.0002 * 41.0 * INCH, INCH / 16.0 / math.sqrt(12.0), 0.5) / INCH
"""in. Three standard deviations of a slat of 41 in: one reading, the mark that it is put on, a cut; 7/32 in."""


def _measured(intervals: list[tuple[float, float, float]], slats: str = "", shop: str = "") -> Plan:
    """Planned with intervals that were measured; `slats` stands in the table of that name."""
    rows = [
        f'C1-S{i:02d} = {{ shortest = "{lo} in", longest = "{hi} in" }}' for i, (lo, _, hi) in enumerate(intervals, 1)
    ]
    field = "\n".join(["[field]", *rows])
    shop = shop or "cull = 0\n" + board("1x4", "8 ft", 10.0)
    return _planned(intervals, config(shop, more=f"[slats]\n{slats}\n{field}"))


def test_measured_slats_keep_three_standard_deviations_at_the_price_of_stops() -> None:
    # 40 in serves both, 3/16 in from the nearer end: more than the usual margin, less than three standard deviations.
    intervals = [(39.0, 39.5, 40.1875), (39.8125, 40.5, 41.0)]
    assert len(set(_planned(intervals, _room(MARGIN)).lengths.values())) == 1
    kept = _measured(intervals)
    assert len(set(kept.lengths.values())) == 2
    for (lo, _, hi), length in zip(intervals, kept.lengths.values(), strict=True):
        assert lo + SAFE <= length / INCH <= hi - SAFE
    (section,) = kept.sections
    assert (section.cost, section.proven, section.fewest) == (10.0, True, 1)


def test_a_margin_that_was_given_holds_for_measured_slats_too() -> None:
    intervals = [(39.0, 39.5, 40.1875), (39.8125, 40.5, 41.0)]
    for margin in (MARGIN, "margin = 0"):
        assert _measured(intervals, margin).lengths == _planned(intervals, _room(margin)).lengths
        assert len(set(_measured(intervals, margin).lengths.values())) == 1


@pytest.mark.parametrize(
    ("lo", "hi", "middle"), [(40.0, 40.25, 40.125), (40.0, 40.4375, 40.21875), (40.01, 40.04, 40.015625)]
)
def test_where_a_measured_interval_is_too_narrow_its_middle_is_best(lo: float, hi: float, middle: float) -> None:
    # The last has no mark at all and is cut to measure.
    (length,) = _measured([(lo, lo, hi)]).lengths.values()
    assert abs(length / INCH - middle) <= 1.0 / 32.0 + 1e-9
    assert lo <= length / INCH <= hi


def test_boards_come_before_the_measured_margin_and_give_what_is_left_of_them() -> None:
    # Two of 47 11/16 in fill a board; 3 standard deviations above the shortest would be 47 3/4 in.
    plan = _measured([(47.5, 47.9, 48.5), (47.5, 47.9, 47.9)])
    assert plan.cost == 10.0
    first, second = (length / INCH for length in plan.lengths.values())
    assert (first, second) == pytest.approx((47.6875, 47.6875))
    wide = _measured([(47.5, 47.9, 48.5)])
    assert 47.5 + SAFE <= wide.lengths["C1-S01"] / INCH <= 48.5 - SAFE


@pytest.mark.parametrize(("longer", "more"), [(10.5, 0.5), (13.0, 0.0)])
def test_a_measured_margin_may_cost_less_than_the_wood_that_it_saves(longer: float, more: float) -> None:
    # Two of 47 11/16 in fill a board of 8 ft, 1/11 in above the shortest: one slat in ten would be too short, of USD 5.
    shop = "cull = 0\n" + board("1x4", "8 ft", 10.0) + board("1x4", "10 ft", longer)
    plan = _measured([(47.6, 47.9, 48.5)] * 2, shop=shop)
    (section,) = plan.sections
    assert (section.cost, section.lower_bound, section.margin_cost) == (10.0 + more, 10.0, more)
    assert all((length >= (47.6 + SAFE) * INCH) == bool(more) for length in plan.lengths.values())
