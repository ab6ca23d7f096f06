"""Ceiling heights: corners, the middle, the best plane."""

import pytest

from lacunar.geometry import Plane
from lacunar.survey import Room, ceiling_height, ceiling_rim, solve_survey
from survey.measuring import L_ROOM, config_from, distances, walls

SQUARE = {"AB": 4000.0, "BC": 3000.0}


def test_one_height_is_exactly_level() -> None:
    room = solve_survey(config_from(SQUARE, room="height = 2743.2"))
    assert room.ceiling == Plane(z0=2743.2, sx=0.0, sy=0.0)
    assert room.heights == (2743.2,) * 4
    assert room.centre == pytest.approx((2000.0, 1500.0, 2743.2))


def test_equal_heights_are_exactly_level() -> None:
    room = solve_survey(config_from(SQUARE, room="heights = { A = 2700.3, B = 2700.3, C = 2700.3, D = 2700.3 }"))
    assert room.ceiling == Plane(z0=2700.3, sx=0.0, sy=0.0)


def test_a_tilted_ceiling_is_met_exactly() -> None:
    # z = 2700 + x / 100 - y / 200 at the corners; their mean is the plane's height in the middle.
    room = solve_survey(config_from(SQUARE, room="heights = { A = 2685, B = 2725, C = 2740, D = 2700 }"))
    assert room.ceiling.z0 == pytest.approx(2700.0)
    assert room.ceiling.sx == pytest.approx(0.01)
    assert room.ceiling.sy == pytest.approx(-0.005)
    assert room.centre[2] == pytest.approx(2712.5)
    assert ceiling_height(room, (1000.0, 1000.0)) == pytest.approx(2705.0)


def test_a_sagging_middle_pulls_the_plane_down_evenly() -> None:
    heights = "heights = { A = 2700, B = 2700, C = 2700, D = 2700, centre = 2675 }"
    room = solve_survey(config_from(SQUARE, room=heights))
    # Level by symmetry, at the mean of five heights.
    assert room.ceiling.z0 == pytest.approx(2695.0)
    assert room.ceiling.sx == pytest.approx(0.0, abs=1e-12)
    assert room.ceiling.sy == pytest.approx(0.0, abs=1e-12)
    assert ceiling_height(room, (2000.0, 1500.0)) == pytest.approx(2675.0)
    assert ceiling_height(room, (2000.0, 2250.0)) == pytest.approx(2687.5)


def test_a_twisted_ceiling_has_the_plane_of_the_normal_equations() -> None:
    heights = "heights = { A = 2700, B = 2710, C = 2700, D = 2710, centre = 2705 }"
    room = solve_survey(config_from(SQUARE, room=heights))
    # Opposite corners rise and fall alike: no plane but the level one helps.
    assert room.ceiling.sx == pytest.approx(0.0, abs=1e-12)
    assert room.ceiling.sy == pytest.approx(0.0, abs=1e-12)
    assert room.ceiling.z0 == pytest.approx(2705.0)


def test_the_middle_of_an_l_room_sees_every_corner() -> None:
    names = "".join(L_ROOM)
    measured = distances(L_ROOM, [*walls(names), "AD", "BD", "DF", "AC"])
    room = solve_survey(config_from(measured, corners=names))
    x, y, _ = room.centre
    reflex = room.corner("D")
    # Left of CD's and above DE's lines: only from that corner of the room are C and E both in sight.
    assert x < reflex[0]
    assert y > reflex[1]


MARKED = """
heights = { A = 2700, B = 2700, m2 = 2688, C = 2700, D = 2700, m1 = 2712, m3 = 2694, centre = 2700 }
[room.marks]
m1 = { wall = "AB", from = "A", at = 2000 }
m2 = { wall = "CD", from = "D", at = 1000 }
m3 = { wall = "CD", from = "D", at = 3000 }
"""


def _marked() -> Room:
    heights, marks = MARKED.split("[room.marks]")
    return solve_survey(config_from(SQUARE, room=heights, more=f"[room.marks]{marks}"))


def test_marks_with_a_height_stand_in_the_rim_in_order_along_the_walls() -> None:
    rim = ceiling_rim(_marked())
    # CD runs from C at the right to D at the left, whatever corner its marks are measured from.
    assert list(rim) == ["A", "m1", "B", "C", "m3", "m2", "D"]
    assert rim["m1"] == pytest.approx((2000.0, 3000.0, 2712.0))
    assert rim["m2"] == pytest.approx((1000.0, 0.0, 2688.0))


def test_the_ceiling_folds_at_marks() -> None:
    room = _marked()
    # Along AB: up 12 in 2 m and down again; half way to the middle of the room half of that is left.
    assert ceiling_height(room, (1000.0, 3000.0)) == pytest.approx(2706.0)
    assert ceiling_height(room, (2000.0, 2250.0)) == pytest.approx(2706.0)
    # Along CD: 2694 at 3 m and 2688 at 1 m from D; back to 2700 in the corners.
    assert ceiling_height(room, (2000.0, 0.0)) == pytest.approx(2691.0)
    assert ceiling_height(room, (3500.0, 0.0)) == pytest.approx(2697.0)


def test_a_mark_without_a_height_leaves_the_corners_alone() -> None:
    marks = '[room.marks]\nm1 = { wall = "AB", from = "A", at = 1234 }'
    room = solve_survey(config_from(SQUARE, room="height = 2700", more=marks))
    assert list(ceiling_rim(room)) == ["A", "B", "C", "D"]
    assert not room.rim


def test_marks_pull_the_plane_and_not_the_mean_in_the_middle() -> None:
    heights = "heights = { A = 2700, B = 2700, C = 2700, D = 2700, m1 = 2712, m2 = 2712 }"
    marks = '[room.marks]\nm1 = { wall = "AB", from = "A", at = 2000 }\nm2 = { wall = "CD", from = "D", at = 2000 }'
    room = solve_survey(config_from(SQUARE, room=heights, more=marks))
    assert room.centre[2] == pytest.approx(2700.0)
    # Level by symmetry, at the mean of seven heights.
    assert room.ceiling.z0 == pytest.approx(2700.0 + 24.0 / 7.0)
    assert (room.ceiling.sx, room.ceiling.sy) == pytest.approx((0.0, 0.0), abs=1e-12)
