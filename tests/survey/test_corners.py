"""Corners from distances, against closed forms."""

import math

import pytest

from lacunar.config import read_config_text
from lacunar.survey import solve_survey
from survey.measuring import BAY_ROOM, L_ROOM, U_ROOM, Corners, assert_points, config_from, distances, framed, walls

APPROX = 1e-6


def test_two_walls_make_a_rectangle() -> None:
    room = solve_survey(config_from({"AB": 3700.0, "BC": 3480.0}))
    assert_points(room.points, [(0.0, 3480.0), (3700.0, 3480.0), (3700.0, 0.0), (0.0, 0.0)])
    assert room.square_assumed
    assert room.dof == 0


def test_four_walls_without_a_diagonal_are_square_at_a() -> None:
    # AB along the top, AD straight down: C lies 4000 from D and 3100 from B, away from A.
    # With |BD| = 5 m (3, 4, 5) and the law of cosines at D in triangle DBC.
    ab, da, bc, cd = 4000.0, 3000.0, 3100.0, 4050.0
    room = solve_survey(config_from({"AB": ab, "BC": bc, "CD": cd, "DA": da}))
    a, b, c, d = room.points
    assert (b[0] - a[0]) * (d[0] - a[0]) + (b[1] - a[1]) * (d[1] - a[1]) == pytest.approx(0.0, abs=1e-3)
    bd = 5000.0
    at_d = math.acos((bd**2 + cd**2 - bc**2) / (2.0 * bd * cd))
    lean = math.atan2(da, ab) - at_d
    expected = (d[0] + cd * math.cos(lean), d[1] + cd * math.sin(lean))
    assert c == pytest.approx(expected, abs=APPROX)
    assert room.square_assumed
    assert room.dof == 0
    assert room.chi2 == pytest.approx(0.0, abs=1e-12)


def test_three_walls_are_square_where_they_meet() -> None:
    room = solve_survey(config_from({"AB": 4000.0, "BC": 3000.0, "CD": 3900.0}))
    assert_points(room.points, [(0.0, 3000.0), (4000.0, 3000.0), (4000.0, 0.0), (100.0, 0.0)])
    room = solve_survey(config_from({"AB": 4000.0, "BC": 3000.0, "DA": 3100.0}))
    assert_points(room.points, [(0.0, 3100.0), (4000.0, 3100.0), (4000.0, 100.0), (0.0, 0.0)])


def test_four_walls_and_one_diagonal() -> None:
    # Triangles ABC and ACD: corner angles at A by the law of cosines, C and D by polar coordinates.
    ab, bc, cd, da, ac = 4654.55, 3705.225, 4638.675, 3714.75, 5949.95
    room = solve_survey(config_from({"AB": ab, "BC": bc, "CD": cd, "DA": da, "AC": ac}))
    to_c = math.acos((ab**2 + ac**2 - bc**2) / (2.0 * ab * ac))
    to_d = to_c + math.acos((ac**2 + da**2 - cd**2) / (2.0 * ac * da))
    polar = [
        (0.0, 0.0),
        (ab, 0.0),
        (ac * math.cos(to_c), -ac * math.sin(to_c)),
        (da * math.cos(to_d), -da * math.sin(to_d)),
    ]
    left, low = min(x for x, _ in polar), min(y for _, y in polar)
    assert_points(room.points, [(x - left, y - low) for x, y in polar])
    assert not room.square_assumed
    assert room.dof == 0
    assert all(m.w is None and not m.suspect for m in room.measured)


def test_right_room_from_inch_text() -> None:
    text = """
        [room]
        height = "9 ft"
        [room.measured]
        AB = "4 ft"
        BC = "3 ft"
        CD = "4 ft"
        DA = "3 ft"
        AC = "5 ft"
    """
    room = solve_survey(read_config_text(text, "room.toml"))
    assert room.points[2] == pytest.approx((1219.2, 0.0), abs=APPROX)
    assert room.points[0] == pytest.approx((0.0, 914.4), abs=APPROX)


@pytest.mark.parametrize(
    ("corners", "more"),
    [
        (L_ROOM, ["AC", "AD", "AE"]),
        (L_ROOM, ["BD", "BF", "DF"]),
        (L_ROOM, ["AD", "BD", "DF"]),
        (L_ROOM, ["AC", "AD", "AE", "BD", "BF", "DF"]),
        (BAY_ROOM, ["AC", "AD"]),
        (BAY_ROOM, ["BE", "CE"]),
        (BAY_ROOM, ["AC", "BE", "AD", "CE", "BD"]),
        (U_ROOM, ["AE", "AF", "BE", "BF", "CE", "FH"]),
        (U_ROOM, ["AE", "AF", "BE", "BF", "CE", "FH", "AG", "BD"]),
    ],
)
def test_more_corners_than_four(corners: Corners, more: list[str]) -> None:
    names = "".join(corners)
    room = solve_survey(config_from(distances(corners, [*walls(names), *more]), corners=names))
    assert_points(room.points, framed(corners))
    assert room.dof == len(names) + len(more) - (2 * len(names) - 3)


def test_a_triangle() -> None:
    room = solve_survey(config_from({"AB": 5000.0, "BC": 4000.0, "CA": 3000.0}, corners="ABC"))
    # 3, 4, 5: C lies 3000 * 4000 / 5000 below AB, 3000**2 / 5000 from A along it.
    assert_points(room.points, [(0.0, 2400.0), (5000.0, 2400.0), (1800.0, 0.0)])


def test_wall_behind_a_wardrobe_is_not_needed() -> None:
    corners: Corners = {"A": (0.0, 3000.0), "B": (4000.0, 3010.0), "C": (4050.0, 0.0), "D": (-20.0, 15.0)}
    room = solve_survey(config_from(distances(corners, ["AB", "BC", "CD", "AC", "BD"])))
    assert_points(room.points, framed(corners))


def test_marks_on_walls_stand_in_for_diagonals() -> None:
    corners: Corners = {"A": (0.0, 3000.0), "B": (4000.0, 3010.0), "C": (4050.0, 0.0), "D": (-20.0, 15.0)}
    marks = {"mid": ("AB", 2000.0), "low": ("CD", 1200.0)}
    measured = distances(corners, [*walls("ABCD"), "mid-C", "mid-D", "low-A"], marks)
    room = solve_survey(config_from(measured, marks=marks))
    assert_points(room.points, framed(corners))
    a = room.points[0]
    assert room.marks["mid"] == pytest.approx((a[0] + 2000.0, a[1]), abs=APPROX)
    assert room.dof == 2
    assert [m.between for m in room.measured] == [*measured, "A-mid", "C-low"]


def test_measurements_that_tell_too_little_of_this_room_leave_the_square_corner() -> None:
    # The width half way tells nothing of a rectangle's lean: A is square all the same, and the reading is checked.
    marks = {"top": ("AB", 2000.0), "low": ("CD", 2000.0)}
    measured = {"AB": 4000.0, "BC": 3000.0, "CD": 4000.0, "DA": 3000.0, "top-low": 3004.0}
    room = solve_survey(config_from(measured, marks=marks))
    assert room.square_assumed
    assert room.dof == 1
    reading = next(m for m in room.measured if m.between == "top-low")
    assert -4.0 < reading.residual < -1.0
