"""Widths half way: beams and walls that bow."""

import pytest

from lacunar.survey import find_bows, solve_survey
from survey.measuring import Corners, config_from, distances, walls

ROOM: Corners = {"A": (0.0, 4100.0), "B": (5200.0, 4080.0), "C": (5230.0, 10.0), "D": (-25.0, 0.0)}
SIX = [*walls("ABCD"), "AC", "BD"]
MIDS = {"ab": ("AB", 2600.0), "cd": ("CD", 2627.0)}
BEAM = """
[[beam]]
name = "E1"
width = 90
depth = 180
ends = [{ wall = "AB", from = "A", at = 1600 }, { wall = "CD", from = "D", at = 1610 }]
"""


@pytest.mark.parametrize(("middle", "amount", "surely"), [(96.0, 6.0, False), (99.0, 9.0, True), (81.0, -9.0, True)])
def test_a_beam_by_its_middle(middle: float, amount: float, surely: bool) -> None:
    # Two widths read with 1.5 mm each: 3.29 sqrt 2 1.5 = 7.0 mm.
    config = config_from(distances(ROOM, SIX), more=f"{BEAM}middle = {middle}")
    (bow,) = find_bows(config, solve_survey(config))
    assert (bow.name, bow.amount, bow.surely) == ("E1", pytest.approx(amount), surely)
    plain = config_from(distances(ROOM, SIX), more=BEAM)
    assert find_bows(plain, solve_survey(plain)) == ()


@pytest.mark.parametrize(("by", "surely"), [(0.0, False), (4.0, False), (14.0, True), (-14.0, True)])
def test_walls_by_the_width_between_their_middles(by: float, surely: bool) -> None:
    read = distances(ROOM, [*SIX, "ab-C", "ab-D", "cd-A", "cd-B", "ab-cd"], MIDS)
    straight = read["ab-cd"]
    read["ab-cd"] += by
    config = config_from(read, marks=MIDS)
    (bow,) = find_bows(config, solve_survey(config))
    assert bow.between == ("AB", "CD")
    # The corners and marks are exact without it.
    assert bow.expected == pytest.approx(straight, abs=1e-3)
    assert bow.amount == pytest.approx(by, abs=1e-3)
    assert bow.surely == surely


def test_a_width_near_a_corner_tells_of_no_bow() -> None:
    marks = {"ab": ("AB", 900.0), "cd": ("CD", 4300.0)}
    config = config_from(distances(ROOM, [*SIX, "ab-cd"], marks), marks=marks)
    assert find_bows(config, solve_survey(config)) == ()
