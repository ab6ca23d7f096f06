"""Turns at the saw, and places in the rack, by hand."""

import pytest

from lacunar.plan import make_plan
from lacunar.plan.cutting.order import fewest_placements
from lacunar.plan.turns import make_steps
from plan.planning import INCH, board, config, part, parts
from plan.saw_stand import least_sets, replay, stand_at_the_saw
from plan.sawing import saw_up

EIGHT = board("1x4", "8 ft", 10.0)


@pytest.mark.parametrize(("stack", "sizes"), [(1, [1] * 5), (2, [2, 2, 1]), (3, [3, 2]), (8, [5])])
def test_boards_cut_alike_lie_in_a_stack(stack: int, sizes: list[int]) -> None:
    wanted = parts([45.0 * INCH] * 10)
    shop = config(f"cull = 0\nstack = {stack}\n" + EIGHT)
    plan = make_plan(wanted, shop)
    saw_up(plan, wanted, shop)
    stand_at_the_saw(plan, shop)
    assert [len(turn.boards) for turn in plan.turns] == sizes
    assert [turn.placed for turn in plan.turns] == [("stop-1",), *[()] * (len(sizes) - 1)]
    assert plan.sections[0].placements == plan.sections[0].least_placements == 1


@pytest.mark.parametrize(("flip_stops", "placements"), [(1, 4), (2, 2)])
def test_more_stops_on_the_stand_are_set_less_often(flip_stops: int, placements: int) -> None:
    """60 and 30 in on each of three boards: with one stop, every board after the first needs one new setting."""
    wanted = (*parts([60.0 * INCH] * 3), *parts([30.0 * INCH] * 3, prefix="C2-S"))
    shop = config(f"cull = 0\nflip_stops = {flip_stops}\n" + EIGHT)
    plan = make_plan(wanted, shop)
    stand_at_the_saw(plan, shop)
    assert len(plan.boards) == 3
    assert plan.sections[0].placements == placements


def test_stops_are_those_that_the_parts_are_cut_at() -> None:
    """Two rips of one section are cut to two stops; two sections of one length need not be to the same ones."""
    shop = config("cull = 0\nstack = 4\nflip_stops = 2\n" + EIGHT, more='[slats]\nstock = "1x4"\n')
    wanted = tuple(
        part(f"C1-R{n}", length * INCH, width=1.5 * INCH, ripped=True)
        for n, length in enumerate([70.0, 60.0, 70.0, 50.0])
    )
    plan = make_plan(wanted, shop)
    saw_up(plan, wanted, shop)
    stand_at_the_saw(plan, shop)
    stops = {s.id: (s.stop or 0.0) / INCH for s in plan.settings if s.stop is not None}
    for turn in plan.turns:
        assert {round(stops[name], 6) for name in turn.stops} <= {70.0, 60.0, 50.0}
    assert sorted(round(stops[name]) for turn in plan.turns for name in turn.placed) in ([50, 60, 70], [50, 60, 70, 70])


def test_steps_by_hand() -> None:
    steps = make_steps([0, 0, 1, 2], [("a", "b"), ("a", "b"), ("b", "c"), ("a",)], 1)
    assert [(s.boards, s.stops, s.placed) for s in steps] == [
        ((0, 2), ("a", "b"), ("a", "b")),
        ((2, 3), ("b", "c"), ("c",)),
        ((3, 4), ("a",), ("a",)),
    ]
    # With two stops b goes when c comes, since a is needed once more.
    two = make_steps([0, 0, 1, 2], [("a", "b"), ("a", "b"), ("b", "c"), ("a",)], 2)
    assert [s.placed for s in two] == [("a", "b"), ("c",), ()]
    # Boards that could lie in one stack but are cut to other stops do not.
    assert [s.boards for s in make_steps([0, 0], [("a",), ("b",)], 1)] == [(0, 1), (1, 2)]
    assert make_steps([], [], 1) == ()
    used = [frozenset(names) for names in ("ab", "bc", "a")]
    assert fewest_placements(used, 2) == 3
    # Every board but the first can start on the stop that stands: 2 + 1 + 0.
    assert fewest_placements(used, 1) == 3


def test_the_stand_refuses_what_cannot_be() -> None:
    replay([(("a", "b"), ("a", "b")), (("b",), ())], 1)
    with pytest.raises(AssertionError, match="never set"):
        replay([(("a", "b"), ("a",))], 2)
    with pytest.raises(AssertionError, match="at once"):
        replay([(("a", "b"), ("a", "b")), (("a",), ())], 1)
    with pytest.raises(AssertionError):
        replay([(("a",), ("a",)), (("a",), ("a",))], 1)
    assert least_sets(["a", "b", "c", "a", "b"], 2) == 4


def test_places_in_the_rack_follow_the_order_on_site() -> None:
    wanted = (
        part("C2-T1", 500.0, kind="trim", stock="1x2", coffer="C2"),
        part("C1-S01", 700.0, coffer="C1"),
        part("C1-S02", 700.0, coffer="C1"),
        part("C1-S03", 650.0, coffer="C1"),
        part("C2-S01", 700.0, coffer="C2"),
        part("X1-1", 900.0, kind="cross beam", stock="4x8", coffer=None),
        part("X1-2", 900.0, kind="cross beam", stock="4x8", coffer=None),
        part("X2-1", 900.0, kind="cross beam", stock="4x8", coffer=None),
    )
    assert dict(make_plan(wanted, config(units="mm")).slots) == {
        "X1-1": 1, "X1-2": 1, "X2-1": 2, "C1-S01": 3, "C1-S02": 3, "C1-S03": 4, "C2-S01": 5, "C2-T1": 6,
    }  # fmt: skip
