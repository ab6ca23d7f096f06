"""Ceiling heights: corners, the middle, the best plane."""

import pytest

from lacunar.geometry import Plane
from lacunar.survey import ceiling_height, solve_survey
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
