"""Rooms whose slats taper: every plan is proved, and its proof holds."""

import math

import pytest

from lacunar.plan import make_plan
from lacunar.plan.cutting import BoardProblem, check_certificate
from plan.proofs import proved_bound
from plan.sawing import saw_up
from plan.taper_rooms import taper_room
from strategies import config_of, parts_of

MOST_WAYS = 20_000

TAPERS = """
title = "Tapers"
units = "mm"
read_to = "1 mm"
[room]
height = 2500
[room.measured]
AB = 2000
BC = 1400
CD = 2060
DA = 1400
AC = 2456.2
BD = 2456.2
[cross_beams]
rows = 0
[slats]
width = 95
thickness = 18
run = "BC"
gap = 0
edge_gap = 0
wedge = "auto"
[trim]
width = 20
height = 20
corners = "butt"
[shop]
cull = 0
[[shop.board]]
stock = "18x95"
length = 2000
price = 4.00
[[shop.board]]
stock = "18x95"
length = 3000
price = 6.20
[[shop.board]]
stock = "20x20"
length = 2400
price = 2
"""


@pytest.mark.parametrize("block", [0, 1, *(pytest.param(block, marks=pytest.mark.long) for block in (2, 3))])
def test_every_room_with_tapers_is_proved(block: int) -> None:
    """10 rooms a block; their proofs are followed count by count where those are few."""
    counted = 0
    for seed in range(10 * block, 10 * block + 10):
        config, parts = taper_room(seed)
        plan = make_plan(parts, config)
        saw_up(plan, parts, config)
        assert plan.proven, seed
        percent = round(config.shop.cull * 100)
        for section in plan.sections:
            assert section.cost is not None
            claimed = round(section.cost * 100)
            for one in section.proofs:
                assert check_certificate(one.problem, one.certificate) == one.certificate.bound
                if ways(one.problem, claimed) <= MOST_WAYS:
                    assert proved_bound(one, claimed, percent) == claimed, seed
                    counted += 1
    assert counted >= 15


def ways(problem: BoardProblem, below: int) -> int:
    """Counts of boards up to a sum."""
    return math.prod(below // problem.price(s) + 1 for s in range(len(problem.stocks)))


def test_two_slats_to_a_board_of_3_m_and_no_taper_beside_another() -> None:
    config = config_of(TAPERS)
    parts = parts_of(config)
    plan = make_plan(parts, config)
    saw_up(plan, parts, config)
    slats = next(section for section in plan.sections if section.stock == "18x95")
    assert sum(part.stock == "18x95" and part.width_end is not None for part in parts) >= 2
    # 22 slats of nearly 1400: 11 boards of 6.20 against 22 of 4.00.
    assert (slats.cost, slats.lower_bound, slats.proven) == (pytest.approx(68.20), pytest.approx(68.20), True)
