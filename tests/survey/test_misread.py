"""A misread distance: found where the others can tell, and nobody blamed where they cannot."""

import importlib
import random
from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest

from lacunar.survey import Misread, Room, find_misread, solve_survey
from survey.measuring import Corners, assert_points, config_from, distances, framed, walls

ROOM: Corners = {"A": (0.0, 4100.0), "B": (5200.0, 4080.0), "C": (5230.0, 10.0), "D": (-25.0, 0.0)}
SIX = [*walls("ABCD"), "AC", "BD"]
MIDS = {"ab": ("AB", 2600.0), "bc": ("BC", 2035.0), "cd": ("CD", 2600.0), "da": ("DA", 2050.0)}
TO_FAR_CORNERS = ["ab-C", "ab-D", "bc-D", "bc-A", "cd-A", "cd-B", "da-B", "da-C"]


def _suspects(room: Room) -> list[str]:
    return [m.between for m in room.measured if m.suspect]


@pytest.mark.parametrize("wrong", SIX)
def test_with_one_redundancy_nobody_is_blamed(wrong: str) -> None:
    measured = distances(ROOM, SIX)
    measured[wrong] += 60.0
    room = solve_survey(config_from(measured))
    rated = [abs(m.w or 0.0) for m in room.measured]
    assert room.dof == 1
    assert min(rated) > 3.29
    assert max(rated) - min(rated) < 0.01 * max(rated)
    assert _suspects(room) == []


@pytest.mark.parametrize("wrong", [*SIX, *TO_FAR_CORNERS])
def test_wall_middles_expose_any_misread_distance(wrong: str) -> None:
    measured = distances(ROOM, [*SIX, *TO_FAR_CORNERS], MIDS)
    measured[wrong] += 25.0
    room = solve_survey(config_from(measured, marks=MIDS))
    assert _suspects(room) == [wrong]
    blamed = next(m for m in room.measured if m.suspect)
    assert blamed.residual < 0.0
    assert abs(blamed.w or 0.0) == max(abs(m.w or 0.0) for m in room.measured)


def test_a_mark_that_is_somewhere_else_is_blamed_itself() -> None:
    measured = distances(ROOM, [*SIX, *TO_FAR_CORNERS], MIDS)
    wall, at = MIDS["ab"]
    room = solve_survey(config_from(measured, marks={**MIDS, "ab": (wall, at + 30.0)}))
    assert _suspects(room) == ["A-ab"]


def test_readings_within_their_error_blame_nobody() -> None:
    draw = random.Random(5)
    measured = distances(ROOM, [*SIX, *TO_FAR_CORNERS], MIDS)
    read = {name: value + draw.gauss(0.0, 1.5 + 0.0002 * value) for name, value in measured.items()}
    room = solve_survey(config_from(read, marks=MIDS))
    assert _suspects(room) == []
    assert room.dof == 9
    assert_points(room.points, framed(ROOM), within=8.0)


def test_a_repeated_reading_is_blamed_where_a_third_one_sides_with_the_other() -> None:
    measured = distances(ROOM, SIX) | {"CA": distances(ROOM, ["AC"])["AC"] + 40.0}
    room = solve_survey(config_from(measured))
    assert _suspects(room) == ["CA"]
    # Without BD two readings stand against each other, and nothing tells which is wrong.
    del measured["BD"]
    room = solve_survey(config_from(measured))
    assert max(abs(m.w or 0.0) for m in room.measured) > 3.29
    assert _suspects(room) == []


def test_weights_follow_the_stated_error() -> None:
    # Default: 1.5 mm and 0.2 mm for each metre.
    room = solve_survey(config_from(distances(ROOM, SIX)))
    assert [m.sd for m in room.measured] == pytest.approx([1.5 + 0.0002 * m.read for m in room.measured])
    room = solve_survey(config_from(distances(ROOM, SIX), more='[survey]\nsd = "3 mm"\nsd_per_length = 0.001'))
    assert [m.sd for m in room.measured] == pytest.approx([3.0 + 0.001 * m.read for m in room.measured])


def test_another_library_finds_the_same_room() -> None:
    draw = random.Random(11)
    names = [*SIX, "ab-C", "cd-B"]
    marks = {name: MIDS[name] for name in ("ab", "cd")}
    read = {name: value + draw.uniform(-9.0, 9.0) for name, value in distances(ROOM, names, marks).items()}
    room = solve_survey(config_from(read, marks=marks))
    (bx, cx, cy, dx, dy), cost = _solved_by_scipy([5200.0, 5200.0, -4100.0, 0.0, -4100.0, 2600.0, 2600.0], read)
    expected = framed({"A": (0.0, 0.0), "B": (bx, 0.0), "C": (cx, cy), "D": (dx, dy)})
    assert_points(room.points, expected, within=1e-4)
    assert room.chi2 == pytest.approx(2.0 * cost, rel=1e-8)
    assert room.dof == 3


def _solved_by_scipy(start: list[float], read: Mapping[str, float]) -> tuple[list[float], float]:
    optimize: Any = importlib.import_module("scipy.optimize")  # has no type stubs
    tight = {"xtol": 1e-15, "ftol": 1e-15, "gtol": 1e-15}
    solved = optimize.least_squares(_misfits, start, args=(read,), method="lm", **tight)
    return [float(v) for v in solved.x[:5]], float(solved.cost)


def _misfits(x: "np.ndarray[tuple[int], np.dtype[np.float64]]", read: Mapping[str, float]) -> list[float]:
    """Written from scratch: misfit of each distance, and of the marks from A and C, over its standard deviation."""
    bx, cx, cy, dx, dy, ab, cd = (float(v) for v in x)
    points = {"A": (0.0, 0.0), "B": (bx, 0.0), "C": (cx, cy), "D": (dx, dy), "ab": (ab, 0.0)}
    long = np.hypot(dx - cx, dy - cy)
    points["cd"] = (cx + cd * (dx - cx) / long, cy + cd * (dy - cy) / long)
    rows = {**read, "A-ab": MIDS["ab"][1], "C-cd": MIDS["cd"][1]}
    found: list[float] = []
    for name, value in rows.items():
        p, q = name.split("-") if "-" in name else (name[0], name[1])
        length = np.hypot(points[p][0] - points[q][0], points[p][1] - points[q][1])
        found.append(float(length - value) / (1.5 + 0.0002 * value))
    return found


def _misread(read: Mapping[str, float], marks: Mapping[str, tuple[str, float]] | None = None) -> Misread | None:
    config = config_from(read, marks=marks)
    return find_misread(config, solve_survey(config))


@pytest.mark.parametrize("by", [-400.0, -25.4, 19.05, 25.4, 304.8])
@pytest.mark.parametrize("wrong", ["AB", "BD", "cd-B"])
def test_a_named_distance_is_off_by_what_it_was_misread_by(wrong: str, by: float) -> None:
    measured = distances(ROOM, [*SIX, *TO_FAR_CORNERS], MIDS)
    true = measured[wrong]
    measured[wrong] += by
    found = _misread(measured, MIDS)
    assert found is not None
    assert found.between == (wrong,)
    # Everything else is exact: taken out, the rest says what it should be, whatever the size.
    assert found.off[0] == pytest.approx(by, abs=1e-3)
    assert found.read[0] - found.off[0] == pytest.approx(true, abs=1e-3)
    assert found.fits
    assert found.would_tell == ()


def test_good_readings_raise_no_doubt() -> None:
    assert _misread(distances(ROOM, [*SIX, *TO_FAR_CORNERS], MIDS), MIDS) is None


@pytest.mark.parametrize("by", [25.0, 60.0, 500.0])
def test_four_walls_and_two_diagonals_doubt_all_six_whatever_the_size(by: float) -> None:
    measured = distances(ROOM, SIX)
    measured["AC"] += by
    found = _misread(measured)
    assert found is not None
    assert set(found.between) == set(SIX)
    off = dict(zip(found.between, found.off, strict=True))
    assert off["AC"] == pytest.approx(by, abs=1e-3)
    # A long AC and a long BD, or short walls, look alike.
    assert off["BD"] > 0.0
    assert max(off[wall] for wall in walls("ABCD")) < 0.0


@pytest.mark.parametrize("wrong", SIX)
def test_the_further_measurements_tell_which_one_it_is(wrong: str) -> None:
    measured = distances(ROOM, SIX)
    measured[wrong] += 40.0
    found = _misread(measured)
    assert found is not None
    assert found.would_leave == 1
    marks = {one.between.partition("-")[2]: (one.wall, one.expected) for one in found.would_tell if one.kind == "mark"}
    tapes = [one.between for one in found.would_tell if one.kind != "mark"]
    assert 0 < len(marks) <= 2
    assert len(tapes) <= 4
    more = distances(ROOM, tapes, marks)
    told = _misread({**measured, **more}, marks)
    assert told is not None
    assert told.between == (wrong,)


def test_two_misread_distances_are_not_taken_for_one() -> None:
    measured = distances(ROOM, [*SIX, *TO_FAR_CORNERS], MIDS)
    measured["AC"] += 60.0
    measured["bc-D"] -= 60.0
    found = _misread(measured, MIDS)
    assert found is not None
    assert found.between[0] in ("AC", "bc-D")
    assert not found.fits


def test_a_width_between_walls_may_be_a_bow() -> None:
    marks = {name: MIDS[name] for name in ("ab", "cd")}
    measured = distances(ROOM, [*SIX, "ab-C", "ab-D", "cd-A", "cd-B", "ab-cd"], marks)
    measured["ab-cd"] += 30.0
    found = _misread(measured, marks)
    assert found is not None
    assert found.between == ("ab-cd",)
    assert found.on_walls == (True,)
