"""Redundancy numbers, standard deviations of corners, and how small a misreading shows: against closed forms."""

import math

import numpy as np
import pytest

from lacunar.survey import Room, solve_survey
from lacunar.survey.chance import ALONE, W_CRITICAL
from lacunar.survey.reliability import FINDS, TELLS, correlations, smallest_told
from survey.measuring import BAY_ROOM, L_ROOM, U_ROOM, Corners, config_from, distances, walls

ROOM: Corners = {"A": (0.0, 4100.0), "B": (5200.0, 4080.0), "C": (5230.0, 10.0), "D": (-25.0, 0.0)}
SIX = [*walls("ABCD"), "AC", "BD"]
MIDS = {"ab": ("AB", 2600.0), "cd": ("CD", 2600.0)}


def _solved(corners: Corners, names: list[str], marks: dict[str, tuple[str, float]] | None = None) -> Room:
    read = {name: round(value / 2.0) * 2.0 for name, value in distances(corners, names, marks).items()}
    return solve_survey(config_from(read, corners="".join(corners), marks=marks))


@pytest.mark.parametrize(
    ("corners", "more", "marks"),
    [
        (ROOM, ["AC"], None),
        (ROOM, ["AC", "BD"], None),
        (ROOM, ["AC", "BD", "ab-C", "ab-D", "cd-A", "ab-cd"], MIDS),
        (BAY_ROOM, ["AC", "AD", "BE", "CE"], None),
        (L_ROOM, ["AC", "AD", "AE", "BD", "BF", "DF"], None),
        (U_ROOM, ["AE", "AF", "BE", "BF", "CE", "FH", "AG", "BD"], None),
    ],
)
def test_redundancy_numbers_add_up_to_the_degrees_of_freedom(
    corners: Corners, more: list[str], marks: dict[str, tuple[str, float]] | None
) -> None:
    room = _solved(corners, [*walls(corners), *more], marks)
    assert math.fsum(one.redundancy for one in room.measured) == pytest.approx(room.dof, abs=1e-9)
    assert all(-1e-12 <= one.redundancy <= 1.0 for one in room.measured)


def test_two_readings_of_one_distance_share_its_redundancy() -> None:
    # Nothing else tells of AB here: each of two equal readings has half of the one degree of freedom.
    room = solve_survey(
        config_from({"AB": 4000.0, "BA": 4004.0, "BC": 3000.0, "CD": 4000.0, "DA": 3000.0, "AC": 5000.0})
    )
    by_name = {one.between: one for one in room.measured}
    assert by_name["AB"].redundancy == pytest.approx(0.5, abs=1e-3)
    assert by_name["AB"].residual == pytest.approx(2.0, abs=1e-2)
    assert by_name["AC"].redundancy == pytest.approx(0.0, abs=1e-12)
    assert by_name["AC"].finds is None
    # An error of e leaves e / (sd sqrt 2) in w: FINDS sd sqrt 2 is found; the twin can never be cleared.
    assert by_name["AB"].finds == pytest.approx(FINDS * math.sqrt(2.0) * 2.3, rel=1e-3)
    assert by_name["AB"].names is None


def test_corner_deviations_of_a_room_without_redundancy_follow_the_triangle() -> None:
    # A is the origin and AB the axis; cx = (ab2 + ac2 - bc2) / 2ab. With a right angle at B: d cx / d ac = ac / ab,
    # d cx / d bc = -bc / ab, d cx / d ab = 1 - cx / ab = 0; cy2 = ac2 - cx2.
    ab, bc, ac = 4000.0, 3000.0, 5000.0
    room = solve_survey(config_from({"AB": ab, "BC": bc, "CD": ab, "DA": bc, "AC": ac}))
    sd = {name: 1.5 + 0.0002 * value for name, value in (("AB", ab), ("BC", bc), ("AC", ac))}
    assert room.sd["A"] == (0.0, 0.0)
    assert room.sd["B"] == pytest.approx((sd["AB"], 0.0), rel=1e-9)
    by_ac, by_bc = ac / ab, -bc / ab
    assert room.sd["C"][0] == pytest.approx(math.hypot(by_ac * sd["AC"], by_bc * sd["BC"]), rel=1e-6)
    # cy dcy = ac dac - cx dcx, with cx = ab.
    dy_ac, dy_bc, dy_ab = (ac - ab * by_ac) / bc, -ab * by_bc / bc, 0.0
    assert room.sd["C"][1] == pytest.approx(math.hypot(dy_ac * sd["AC"], dy_bc * sd["BC"], dy_ab), rel=1e-6)


def test_more_readings_make_corners_firmer() -> None:
    few, many = _solved(ROOM, SIX), _solved(ROOM, [*SIX, "ab-C", "ab-D", "cd-A", "cd-B"], MIDS)
    for corner in "CD":
        assert math.hypot(*many.sd[corner]) < math.hypot(*few.sd[corner])


def test_what_would_be_found_is_what_w_says() -> None:
    # A mean of n readings of one length: redundancy 1 - 1/n, correlations -1 / (n - 1).
    n, sd = 4, 2.0
    shares = np.eye(n) - np.full((n, n), 1.0 / n)
    assert correlations(shares)[0, 1] == pytest.approx(-1.0 / (n - 1))
    told = smallest_told(shares, np.full(n, sd))
    assert told[0, 0] == pytest.approx(FINDS * sd / math.sqrt(1.0 - 1.0 / n))
    rho = 1.0 / (n - 1)
    assert told[0, 1] == pytest.approx(TELLS * sd / math.sqrt((1.0 - 1.0 / n) * (1.0 - rho * rho)))
    assert np.isinf(smallest_told(np.full((2, 2), 0.5), np.full(2, sd))[0, 1])
    # The stated shares: 98 % above the critical value; two readings apart by ALONE in 95 %.
    assert pytest.approx(FINDS, abs=1e-12) == W_CRITICAL + 2.054
    assert pytest.approx(ALONE) == TELLS**2 - 2.0 * 1.645 * TELLS


@pytest.mark.parametrize(("corners", "more"), [(ROOM, ["AC", "BD"]), (L_ROOM, ["AC", "AD", "AE", "BD", "BF", "DF"])])
def test_an_error_shows_as_its_redundancy_says(corners: Corners, more: list[str]) -> None:
    names = [*walls(corners), *more]
    read = distances(corners, names)
    for wrong in names:
        room = solve_survey(config_from({**read, wrong: read[wrong] + 8.0}, corners="".join(corners)))
        one = next(m for m in room.measured if m.between == wrong)
        assert one.residual == pytest.approx(-8.0 * one.redundancy, rel=0.02, abs=1e-3)
        assert abs(one.w or 0.0) == pytest.approx(8.0 * math.sqrt(one.redundancy) / one.sd, rel=0.02)
