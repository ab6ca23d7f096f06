"""Ceilings out of level, twisted and sagging: against closed forms."""

import math

import pytest

from lacunar.survey import Heights, Room, ceiling_height, ceiling_run, describe_heights, solve_survey
from survey.measuring import L_ROOM, config_from, distances, walls

APPROX = 1e-9


def _room(heights: str) -> Room:
    """4 m by 3 m, A top left."""
    return solve_survey(config_from({"AB": 4000.0, "BC": 3000.0}, room=f"heights = {{ {heights} }}"))


def _described(heights: str) -> Heights:
    return describe_heights(_room(heights))


def test_a_level_ceiling_has_nothing_to_tell() -> None:
    heights = describe_heights(solve_survey(config_from({"AB": 4000.0, "BC": 3000.0}, room="height = 2700")))
    assert (heights.slope, heights.falls, heights.fall, heights.sag, heights.twist) == (0.0, "", 0.0, 0.0, 0.0)
    assert (heights.rms, heights.shim) == (0.0, 0.0)
    assert all((run.rise, run.gap, run.belly, run.middle) == (0.0, 0.0, 0.0, 0.0) for run in heights.walls)


def test_a_tilted_ceiling_is_flat() -> None:
    # 10 mm a metre up to the right, 5 mm a metre up towards CD: see the corners.
    heights = _described("A = 2685, B = 2725, C = 2740, D = 2700")
    assert heights.slope == pytest.approx(math.hypot(10.0, 5.0))
    assert heights.falls == "DA"
    assert (heights.highest, heights.lowest, heights.fall) == ("C", "A", 55.0)
    assert heights.rms == pytest.approx(0.0, abs=APPROX)
    assert heights.shim == pytest.approx(0.0, abs=APPROX)
    assert heights.twist == pytest.approx(0.0)
    assert [run.rise for run in heights.walls] == pytest.approx([40.0, 15.0, -40.0, -15.0])
    assert [run.name for run in heights.walls] == ["AB", "BC", "CD", "DA"]


def test_a_sagging_ceiling() -> None:
    heights = _described("A = 2700, B = 2700, C = 2700, D = 2700, centre = 2675")
    assert heights.sag == pytest.approx(25.0)
    # Best face at 2695: corners 5 above it, centre 20 below; furring on a face through the centre makes up 25.
    assert [point.residual for point in heights.points] == pytest.approx([5.0] * 4 + [-20.0])
    assert [point.shim for point in heights.points] == pytest.approx([25.0] * 4 + [0.0])
    assert heights.shim == pytest.approx(25.0)
    assert heights.rms == pytest.approx(math.sqrt((4 * 25.0 + 400.0) / 5.0))
    assert (heights.lowest, heights.fall) == ("centre", 25.0)


def test_a_twisted_ceiling() -> None:
    heights = _described("A = 2700, B = 2712, C = 2700, D = 2712")
    # No plane but the level one at the mean: every corner 6 off, the diagonals 12 above each other.
    assert heights.twist == pytest.approx(-12.0)
    assert [point.residual for point in heights.points] == pytest.approx([-6.0, 6.0, -6.0, 6.0, 0.0])
    assert heights.sag == pytest.approx(0.0)
    assert heights.shim == pytest.approx(12.0)


def test_a_beam_across_a_belly_is_scribed_and_one_along_a_wall_is_not() -> None:
    room = _room("A = 2700, B = 2700, C = 2700, D = 2700, centre = 2675")
    across = ceiling_run(room, (2000.0, 3000.0), (2000.0, 0.0))
    assert (across.gap, across.rise) == (0.0, 0.0)
    assert across.belly == pytest.approx(25.0)
    assert across.middle == pytest.approx(-25.0)
    # Half a metre from the wall the line meets the creases to A and to B at 500 / 1500 of their length.
    near = ceiling_run(room, (0.0, 2500.0), (4000.0, 2500.0))
    assert near.belly == pytest.approx(25.0 / 3.0)
    assert room.walls[0] == "AB"
    assert ceiling_run(room, *room.wall("AB")).belly == 0.0


def test_over_a_hump_the_gap_is_open() -> None:
    run = ceiling_run(_room("A = 2700, B = 2700, C = 2700, D = 2700, centre = 2730"), (0.0, 1500.0), (4000.0, 1500.0))
    assert run.gap == pytest.approx(30.0)
    assert run.belly == 0.0


def test_a_run_is_what_many_heights_along_it_say() -> None:
    room = _room("A = 2700, B = 2720, C = 2695, D = 2712, centre = 2690")
    start, end = (350.0, 2800.0), (3800.0, 200.0)
    run = ceiling_run(room, start, end)
    shares = [k / 2000.0 for k in range(2001)]
    heights = [
        ceiling_height(room, (start[0] + s * (end[0] - start[0]), start[1] + s * (end[1] - start[1]))) for s in shares
    ]
    off = [z - heights[0] - s * (heights[-1] - heights[0]) for s, z in zip(shares, heights, strict=True)]
    assert run.belly == pytest.approx(-min(off), abs=0.05)
    assert run.gap == pytest.approx(max(off), abs=0.05)
    assert run.rise == pytest.approx(heights[-1] - heights[0])
    assert run.middle == pytest.approx(off[1000])


def test_rooms_of_six_corners_have_no_twist() -> None:
    names = "".join(L_ROOM)
    measured = distances(L_ROOM, [*walls(names), "AD", "BD", "DF"])
    heights = describe_heights(solve_survey(config_from(measured, corners=names)))
    assert heights.twist is None
    assert len(heights.points) == 7
    assert len(heights.walls) == 6


def test_marks_along_walls_have_their_say() -> None:
    heights = "heights = { A = 2700, B = 2700, C = 2700, D = 2700, m1 = 2688, m2 = 2715 }"
    marks = """[room.marks]
m1 = { wall = "AB", from = "B", at = 1000 }
m2 = { wall = "CD", from = "D", at = 2000 }
"""
    room = solve_survey(config_from({"AB": 4000.0, "BC": 3000.0}, room=heights, more=marks))
    described = describe_heights(room)
    assert [point.name for point in described.points] == ["A", "m1", "B", "C", "m2", "D", "centre"]
    assert (described.lowest, described.highest, described.fall) == ("m1", "m2", 27.0)
    ab, bc, cd, _ = described.walls
    assert (ab.belly, ab.gap) == (pytest.approx(12.0), 0.0)
    # Half way lies 2/3 of the way from A to the mark.
    assert ab.middle == pytest.approx(-8.0)
    assert (cd.gap, cd.belly) == (pytest.approx(15.0), 0.0)
    assert (bc.gap, bc.belly) == (0.0, 0.0)


@pytest.mark.parametrize("turn", [0.3, 1.1, 2.9])
def test_a_mark_is_met_along_its_wall_however_the_room_is_turned(turn: float) -> None:
    """Rounding puts a mark a hair to either side of its wall; the run along the wall must not miss it."""
    a, b, c = math.cos(turn), math.sin(turn), 1.7
    corners = {
        "A": (0.0, 3000.0), "B": (4000.0 + 100.0 * a, 3000.0 + 100.0 * b), "C": (4000.0, 0.0), "D": (-31.0 * c, 0.0)
    }  # fmt: skip
    measured = distances(corners, [*walls("ABCD"), "AC"])
    heights = "heights = { A = 2700, B = 2700, C = 2700, D = 2700, m1 = 2690, m2 = 2690, m3 = 2690, m4 = 2690 }"
    marks = {f"m{k}": (wall, 1111.1) for k, wall in enumerate(walls("ABCD"), 1)}
    room = solve_survey(config_from(measured, marks=marks, room=heights))
    assert [run.belly for run in describe_heights(room).walls] == pytest.approx([10.0] * 4)
