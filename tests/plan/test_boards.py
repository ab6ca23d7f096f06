"""Parts on boards: capacity, choice of boards, what lies at hand, what cannot be served."""

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lacunar.plan import Plan, make_plan
from plan.cases import CASES, Case
from plan.planning import FOOT, INCH, board, config, part, parts
from plan.sawing import saw_up, tape_of

KERF, WASTE = INCH / 8.0, INCH / 4.0
NO_CULL = "cull = 0\n"


def _lengths(plan: Plan) -> list[float]:
    return sorted(round(b.length / FOOT, 6) for b in plan.boards)


@pytest.mark.parametrize("count", [1, 2, 5])
def test_parts_that_fill_a_board_exactly_fit(count: int) -> None:
    # count parts and count - 1 kerfs in 8 ft less 1/4 in at each end
    length = (8.0 * FOOT - 2.0 * WASTE - (count - 1) * KERF) / count
    # On the mark below: what is left is less than a mark for each.
    mark = INCH / 16.0
    shop = config(NO_CULL + board("1x4", "8 ft", 10.0))
    wanted = parts([length // mark * mark] * count)
    plan = make_plan(wanted, shop)
    assert len(plan.boards) == 1
    assert plan.boards[0].offcut < count * mark
    saw_up(plan, wanted, shop)
    longer = parts([(length // mark + 1.0) * mark] * count)
    plan = make_plan(longer, shop)
    assert len(plan.boards) == (0 if count == 1 else 2)
    assert len(plan.unserved) == (1 if count == 1 else 0)


def test_a_64th_too_much_is_too_much() -> None:
    """Set lengths are on no mark; they are counted in whole 64ths, rounded up."""
    shop = config(NO_CULL + board("1x4", "8 ft", 10.0))
    half = (95.5 - 0.125) / 2.0 * INCH
    for length, boards in ((half, 1), (half - 0.1, 1), (half + 0.001, 2)):
        wanted = parts([length] * 2, interval=(length, length))
        plan = make_plan(wanted, shop)
        assert len(plan.boards) == boards
        saw_up(plan, wanted, shop)


def test_offcut_waste_and_cuts_by_hand() -> None:
    wanted = parts([40.0 * INCH, 30.0 * INCH])
    plan = make_plan(wanted, config(NO_CULL + board("1x4", "8 ft", 10.0)))
    (only,) = plan.boards
    assert [(c.part, c.start / INCH, c.end / INCH) for c in only.cuts] == [
        ("C1-S001", pytest.approx(0.25), pytest.approx(40.25)),
        ("C1-S002", pytest.approx(40.375), pytest.approx(70.375)),
    ]
    # 96 - 1/4 - 40 - 1/8 - 30 - 1/8 - 1/4
    assert only.offcut == pytest.approx(25.25 * INCH)
    assert plan.board_length == pytest.approx(96.0 * INCH)
    assert plan.used_length == pytest.approx(70.0 * INCH)
    assert plan.waste == pytest.approx(26.0 / 96.0)


def test_default_boards_have_no_price() -> None:
    plan = make_plan(parts([90.0 * INCH, 100.0 * INCH]), config())
    # 8 + 10 ft hold what 16 ft does not: 90 + 100 in and a kerf are within 16 ft less its ends.
    assert _lengths(plan) == [16.0]
    assert plan.cost is None
    assert plan.lower_bound is None
    # Board length is what counts then: 190 in need more than 15 ft 10 in, and 16 ft is the least sum of lengths.
    assert plan.gap == 0.0
    assert plan.proven
    assert all(line.price is None and line.total is None for line in plan.buy)
    metric = make_plan(parts([2350.0]), config(units="mm"))
    assert [b.length for b in metric.boards] == [2400.0]


def test_without_prices_the_shortest_total_length_wins() -> None:
    # 4 x 47 in: two on each 8 ft board, or four on one of 16 ft.
    plan = make_plan(parts([47.0 * INCH] * 4), config())
    assert plan.board_length == pytest.approx(16.0 * FOOT)
    assert plan.proven


def test_the_cheapest_length_wins() -> None:
    shop = NO_CULL + board("1x4", "8 ft", 10.0) + board("1x4", "16 ft", 25.0)
    plan = make_plan(parts([47.0 * INCH] * 4), config(shop))
    assert _lengths(plan) == [8.0, 8.0]
    assert plan.cost == 20.0
    shop = NO_CULL + board("1x4", "8 ft", 10.0) + board("1x4", "16 ft", 19.0)
    plan = make_plan(parts([47.0 * INCH] * 4), config(shop))
    assert _lengths(plan) == [16.0]
    assert plan.cost == 19.0


def test_every_board_is_made_as_cheap_as_will_do() -> None:
    shop = NO_CULL + board("1x4", "8 ft", 10.0) + board("1x4", "12 ft", 14.0)
    # Two of 70 in fill a 12 ft board; the third is alone, and 8 ft will do for it.
    plan = make_plan(parts([70.0 * INCH] * 3), config(shop))
    assert _lengths(plan) == [8.0, 12.0]
    assert plan.cost == 24.0


def test_one_length_is_proved_where_the_bound_is_met() -> None:
    plan = make_plan(parts([50.0 * INCH] * 7), config(NO_CULL + board("1x4", "8 ft", 9.0)))
    # More than half a board each: seven boards, no fewer.
    assert plan.cost == 63.0
    assert plan.lower_bound == 63.0
    assert plan.gap == 0.0
    assert plan.proven


@pytest.mark.parametrize(("count", "spare"), [(1, 1), (10, 1), (11, 2), (20, 2), (21, 3)])
def test_cull_is_rounded_up_for_each_length(count: int, spare: int) -> None:
    plan = make_plan(parts([90.0 * INCH] * count), config("cull = 0.10\n" + board("1x4", "8 ft", 10.0)))
    (line,) = plan.buy
    assert (line.count, line.spare) == (count, spare)
    assert line.total == 10.0 * (count + spare)
    assert plan.cost == line.total
    # Every board is full, and spares are rounded up in the bound too.
    assert plan.lower_bound == plan.cost
    assert plan.proven


def test_boards_on_hand_come_first_and_cost_nothing() -> None:
    shop = NO_CULL + board("1x4", "8 ft", 10.0) + board("1x4", "10 ft", on_hand=2)
    wanted = parts([60.0 * INCH] * 5)
    plan = make_plan(wanted, config(shop))
    saw_up(plan, wanted, config(shop))
    assert _lengths(plan) == [8.0, 8.0, 8.0, 10.0, 10.0]
    assert [b.price for b in plan.boards] == [0.0, 0.0, 10.0, 10.0, 10.0]
    assert [(line.length, line.count) for line in plan.buy] == [(8.0 * FOOT, 3)]
    assert plan.cost == 30.0


def test_boards_on_hand_with_a_price_can_be_bought_too() -> None:
    shop = NO_CULL + board("1x4", "8 ft", 10.0, on_hand=1)
    plan = make_plan(parts([60.0 * INCH] * 3), config(shop))
    assert plan.cost == 20.0
    assert len(plan.boards) == 3


def test_nothing_is_left_over_for_sale() -> None:
    plan = make_plan(parts([60.0 * INCH] * 3), config(NO_CULL + board("1x4", "8 ft", on_hand=2)))
    assert len(plan.boards) == 2
    assert [item.reason for item in plan.unserved] == [
        "the boards of 1x4 that there are do not give all of them (shop.board: on_hand, supply)"
    ]
    assert plan.cost == 0.0
    assert plan.lower_bound == 0.0


def test_no_more_is_bought_than_there_is() -> None:
    shop = NO_CULL + board("1x4", "8 ft", 10.0, supply=2) + board("1x4", "10 ft", 20.0, supply=1)
    wanted = parts([60.0 * INCH] * 5)
    plan = make_plan(wanted, config(shop))
    saw_up(plan, wanted, config(shop))
    assert _lengths(plan) == [8.0, 8.0, 10.0]
    assert len(plan.unserved) == 2
    assert {item.reason for item in plan.unserved} == {
        "the boards of 1x4 that there are do not give all of them (shop.board: on_hand, supply)"
    }
    none = make_plan(wanted, config(NO_CULL + board("1x4", "8 ft", 10.0, supply=0)))
    assert none.boards == ()
    assert len(none.unserved) == 5


def test_two_kinds_of_wood_share_what_there_is() -> None:
    shop = NO_CULL + board("1x4", "8 ft", 10.0, on_hand=1, supply=2)
    wanted = (*parts([90.0 * INCH] * 2), *parts([90.0 * INCH] * 2, prefix="C2-S", species="red oak"))
    plan = make_plan(wanted, config(shop))
    saw_up(plan, wanted, config(shop))
    assert [b.price for b in plan.boards] == [0.0, 10.0, 10.0]
    assert [item.part for item in plan.unserved] == ["C2-S002"]


def test_boards_that_measure_otherwise_than_sold() -> None:
    wanted = parts([95.75 * INCH])
    long = config(NO_CULL + board("1x4", "8 ft", 10.0, actual="8 ft 0 1/4 in"))
    plan = make_plan(wanted, long)
    saw_up(plan, wanted, long)
    assert plan.boards[0].length == pytest.approx(8.0 * FOOT)
    short = config(NO_CULL + board("1x4", "8 ft", 10.0, actual="7 ft 11 3/4 in"))
    wanted = parts([95.5 * INCH])
    plan = make_plan(wanted, short)
    assert plan.boards == ()


def test_what_the_car_cannot_take_is_not_bought() -> None:
    shop = NO_CULL + 'longest = "12 ft"\n' + board("1x4", "10 ft", 10.0) + board("1x4", "16 ft", 12.0)
    plan = make_plan(parts([50.0 * INCH] * 4), config(shop))
    assert _lengths(plan) == [10.0, 10.0]
    too_long = make_plan(parts([150.0 * INCH]), config(shop))
    assert too_long.boards == ()
    reason = "12 ft 6 in long; the longest 1x4 that fits the car, 10 ft 0 in, gives 9 ft 11 1/2 in once both ends are "
    assert [item.reason for item in too_long.unserved] == [reason + "squared"]
    shop = NO_CULL + 'longest = "9 ft"\n' + board("1x4", "10 ft", 10.0) + board("1x6", "8 ft", 12.0)
    nothing = make_plan(parts([50.0 * INCH]), config(shop))
    assert nothing.unserved[0].reason == "every 1x4 is longer than 9 ft 0 in, the longest that fits the car"


def test_unserved_parts_say_why_and_the_rest_is_planned() -> None:
    wanted = (*parts([97.0 * INCH, 50.0 * INCH]), part("X1-1", 500.0, stock="4x8", kind="cross beam"))
    shop = NO_CULL + board("1x4", "8 ft", 10.0)
    plan = make_plan(wanted, config(shop))
    reasons = {item.part: item.reason for item in plan.unserved}
    assert reasons == {
        "C1-S001": "8 ft 1 in long; the longest 1x4, 8 ft 0 in, gives 7 ft 11 1/2 in once both ends are squared",
        "X1-1": "4x8 is not in the shop table; add a [[shop.board]] for it",
    }
    saw_up(plan, wanted, config(shop))
    assert set(plan.lengths) == {"C1-S001", "C1-S002", "X1-1"}


def test_lengths_are_the_designed_ones_and_existing_beams_are_not_cut() -> None:
    wanted = (*parts([50.0 * INCH]), part("E1", 3000.0, stock="", kind="existing beam", bought=False))
    plan = make_plan(wanted, config())
    assert plan.lengths == {"C1-S001": 50.0 * INCH}
    assert [cut.part for b in plan.boards for cut in b.cuts] == ["C1-S001"]


def test_stocks_and_species_share_no_board() -> None:
    wanted = (
        *parts([20.0 * INCH] * 2),
        *parts([20.0 * INCH] * 2, prefix="C2-S", species="red oak"),
        *parts([20.0 * INCH] * 2, prefix="C3-S", stock="1x6"),
    )
    plan = make_plan(wanted, config())
    saw_up(plan, wanted, config())
    assert [[cut.part[:2] for cut in b.cuts] for b in plan.boards] == [["C1"] * 2, ["C2"] * 2, ["C3"] * 2]


def test_no_parts_no_boards() -> None:
    plan = make_plan((), config())
    assert plan.boards == ()
    assert plan.cost == 0.0
    assert plan.waste == 0.0
    assert plan.settings == ()


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_cost_and_bound_stand_on_either_side_of_proved_optima(case: Case) -> None:
    tick = INCH / 32.0
    shop = NO_CULL + f'kerf = "{case.kerf}/32 in"\nend_waste = "{case.end_waste}/32 in"\n'
    shop += "".join(board("1x4", f"{length / 32} in", price) for length, price in case.boards)
    wanted = parts([length * tick for length, n in zip(case.lengths, case.demands, strict=True) for _ in range(n)])
    plan = make_plan(wanted, config(shop))
    saw_up(plan, wanted, config(shop))
    assert plan.cost is not None
    assert plan.lower_bound is not None
    assert plan.lower_bound <= case.optimum + 1e-6
    assert plan.cost == pytest.approx(case.optimum)
    assert plan.lower_bound == pytest.approx(case.optimum)
    assert plan.proven


@given(
    st.lists(st.floats(100.0, 2300.0), min_size=1, max_size=40),
    st.floats(0.5, 6.0),
    st.floats(6.0, 40.0),
    st.lists(st.tuples(st.sampled_from([2400.0, 3000.0, 3600.0, 4800.0]), st.floats(5.0, 50.0), st.integers(0, 3))),
)
@settings(max_examples=60, deadline=None)
def test_a_saw_that_cuts_every_board_gets_every_part_once(
    lengths: list[float], kerf: float, waste: float, sold: list[tuple[float, float, int]]
) -> None:
    shop = f"kerf = {kerf!r}\nend_waste = {waste!r}\n"
    shop += "".join(board("1x4", f"{length} mm", price, on_hand) for length, price, on_hand in _once(sold))
    wanted = parts(lengths)
    plan = make_plan(wanted, config(shop, units="mm"))
    saw_up(plan, wanted, config(shop, units="mm"))
    assert 0.0 <= plan.waste < 1.0 or not plan.boards
    left_out = {item.part for item in plan.unserved}
    assert tape_of(config(units="mm")).tick == pytest.approx(0.1)
    assert plan.used_length == pytest.approx(sum(math.floor(p.length + 0.5) for p in wanted if p.id not in left_out))
    if plan.lower_bound is not None:
        assert plan.cost is not None
        assert plan.lower_bound <= plan.cost * (1.0 + 1e-12)
    bought = {(line.length, line.count) for line in plan.buy}
    counted = {length: sum(b.length == length and b.price != 0.0 for b in plan.boards) for length, _ in bought}
    assert bought == set(counted.items())


def _once(sold: list[tuple[float, float, int]]) -> list[tuple[float, float, int]]:
    return list({row[0]: row for row in sold}.values())


@given(st.lists(st.sampled_from([400.0, 650.0, 655.0, 1200.0]), min_size=2, max_size=25), st.randoms())
@settings(max_examples=40, deadline=None)
def test_order_of_the_parts_changes_no_cost(lengths: list[float], shuffler: random.Random) -> None:
    shop = board("1x4", "8 ft", 10.0) + board("1x4", "12 ft", 14.0)
    wanted = list(parts(lengths))
    plan = make_plan(wanted, config(shop))
    assert make_plan(wanted, config(shop)) == plan
    shuffler.shuffle(wanted)
    other = make_plan(wanted, config(shop))
    assert other.cost == plan.cost
    assert [b.length for b in other.boards] == [b.length for b in plan.boards]
    assert math.isclose(other.waste, plan.waste)
