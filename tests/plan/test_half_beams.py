"""Half beams are ripped from their own stock, whatever the slats are made of."""

from itertools import pairwise

import pytest

from lacunar.config import Config
from lacunar.parts import Part
from lacunar.plan import Plan, make_plan
from plan.planning import CONFIGS, INCH, config, part, planned
from plan.sawing import saw_up


def inch_room(slats: str) -> tuple[tuple[Part, ...], Config, Plan]:
    """With half beams along its walls, out of a 4x8: 3 1/2 by 7 1/4 in."""
    return planned(CONFIGS[3], (("cross_beams.walls", "half beam"), ("slats.stock", slats)))


@pytest.mark.parametrize("slats", ["1x4", "1x6"])
def test_each_comes_out_of_a_beam_of_its_own(slats: str) -> None:
    """1 3/4 in twice and a saw cut are more than 3 1/2 in."""
    parts, room, plan = inch_room(slats)
    saw_up(plan, parts, room)
    halves = {p.id for p in parts if p.kind == "half beam"}
    cuts = [cut for board in plan.boards for cut in board.cuts if cut.part in halves]
    assert len(cuts) >= 10
    assert all(cut.across == pytest.approx((0.0, 1.75 * INCH)) for cut in cuts)
    for board in plan.boards:
        along = sorted((cut.start, cut.end) for cut in board.cuts if cut.part in halves)
        assert all(a[1] < b[0] for a, b in pairwise(along)), "one behind the other"


def test_a_beam_and_a_slat_of_one_stock_lie_otherwise() -> None:
    """28x95: flat for slats, 95 across; upright for beams, 28 across."""
    shop = config(
        units="mm",
        more="[slats]\nwidth = 95\nthickness = 28\nmargin = 0\n"
        '[cross_beams]\nwidth = 28\ndepth = 95\nwalls = "half beam"\n',
    )
    assert shop.cross_beams is not None
    assert shop.cross_beams.stock == shop.slats.stock == "28x95"
    narrow = part("C1-S1", 900.0, stock="28x95", width=40.0, thickness=28.0, ripped=True)
    half = part("H1", 900.0, stock="28x95", width=14.0, thickness=95.0, ripped=True, kind="half beam")
    plan = make_plan((narrow, half), shop)
    saw_up(plan, (narrow, half), shop)
    assert plan.sections[0].saved == 0.0
