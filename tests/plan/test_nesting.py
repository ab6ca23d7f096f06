"""Mitred strips that share cuts."""

import math

import pytest

from lacunar.plan import make_plan
from plan.planning import FOOT, INCH, board, config, mitred
from plan.saw_stand import stand_at_the_saw
from plan.sawing import check_strips_add_up, saw_up

WIDTH, KERF, WASTE = 0.75, 0.125, 0.25
"""In."""


def _fit(length: float, room: float) -> tuple[int, int]:
    """Strips of 45 degrees on one board, in: sharing cuts, and long point to long point."""
    shared = (room - WIDTH + KERF * math.sqrt(2.0)) / (length - WIDTH + KERF * math.sqrt(2.0))
    return math.floor(shared), math.floor((room + KERF) / (length + KERF))


@pytest.mark.parametrize("length", [10.0, 12.0, 16.1875, 24.375, 31.9375, 40.0])
def test_as_many_on_a_board_as_their_middles_and_slanted_kerfs_allow(length: float) -> None:
    shared, apart = _fit(length, 96.0 - 2.0 * WASTE)
    for count, boards in ((shared, 1), (shared + 1, 2)):
        wanted = tuple(mitred(f"C1-T{n:02d}", length * INCH, (45.0, 45.0)) for n in range(count))
        shop = config("cull = 0\n" + board("1x2", "8 ft", 3.0))
        plan = make_plan(wanted, shop)
        assert len(plan.boards) == boards
        saw_up(plan, wanted, shop)
        stand_at_the_saw(plan, shop)
        first = plan.boards[0]
        check_strips_add_up(first, [next(p for p in wanted if p.id == cut.part) for cut in first.cuts], shop)
    assert shared >= apart


def test_what_sharing_saves() -> None:
    """Eight strips of a foot: 8 (12 - 3/4) + 7 kerfs of 0.177 + 3/4 = 91.99 in; long point to long point 96.9 in."""
    assert _fit(12.0, 95.5) == (8, 7)
    wanted = tuple(mitred(f"C1-T{n}", FOOT, (45.0, 45.0)) for n in range(8))
    plan = make_plan(wanted, config("cull = 0\n"))
    assert [b.length for b in plan.boards] == [pytest.approx(8.0 * FOOT)]
    assert plan.used_length == pytest.approx(8 * 11.25 * INCH)


@pytest.mark.parametrize(
    "mitres",
    [
        [(45.0, 44.0), (46.0, 45.5), (43.0, 47.0), (45.0, 45.0)],
        [(-45.0, 45.0), (45.0, -45.0), (-45.0, -45.0), (45.0, 45.0)],
        [(-30.0, 60.0), (22.5, -67.5), (0.0, 45.0), (45.0, 0.0)],
        [(0.0, 0.0), (0.3, -0.3)],
        [(70.0, -70.0)] * 4,
    ],
)
def test_unequal_and_inside_out_ends_still_come_whole(mitres: list[tuple[float, float]]) -> None:
    wanted = tuple(mitred(f"C1-T{n}", 300.0 + 20.0 * n, pair) for n, pair in enumerate(mitres))
    plan = make_plan(wanted, config("cull = 0\n"))
    assert len(plan.boards) == 1
    assert plan.unserved == ()
    saw_up(plan, wanted, config("cull = 0\n"))


def test_butted_strips_share_no_cut() -> None:
    wanted = tuple(mitred(f"C1-T{n}", FOOT, (0.4, -0.4)) for n in range(8))
    shop = config("cull = 0\n", more='[trim]\ncorners = "butt"\n')
    plan = make_plan(wanted, shop)
    saw_up(plan, wanted, shop)
    assert all(cut.slants == (0.0, 0.0) for b in plan.boards for cut in b.cuts)
    # Long point to long point: 8 x 12 + 7 x 1/8 in are more than 95 1/2 in.
    assert plan.board_length > 8.5 * FOOT
