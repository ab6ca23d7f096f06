"""Where the ceiling folds: closed forms, and heights along lines that are straight from fold to fold."""

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon
from shapely import Point as Point2

from lacunar.geometry import Line, Point
from lacunar.layout.bars import ceiling_points
from lacunar.survey import Room, ceiling_height, fold_crossings, solve_survey
from strategies import Quad, quads
from survey.measuring import L_ROOM, config_from, distances, walls

HEIGHTS = "heights = { A = 2700, B = 2710, C = 2695, D = 2705, centre = 2680, m1 = 2688, m2 = 2715 }"
MARKS = """[room.marks]
m1 = { wall = "AB", from = "A", at = 1000 }
m2 = { wall = "CD", from = "D", at = 2000 }
"""


@pytest.fixture(scope="module")
def marked() -> Room:
    """4 m by 3 m, A top left, its centre at (2000, 1500): six folds, two of them to marks."""
    return solve_survey(config_from({"AB": 4000.0, "BC": 3000.0}, room=HEIGHTS, more=MARKS))


def along(room: Room, start: Point, end: Point) -> list[float]:
    return sorted(fold_crossings(room, Line.through(start, end)))


def test_a_line_meets_the_folds_that_it_passes(marked: Room) -> None:
    # Half a metre under AB, a third of the way to the centre: from A, m1 and B the folds run to (2000, 1500).
    third = 1.0 / 3.0
    wanted = [2000.0 * third, 1000.0 + 1000.0 * third, 4000.0 - 2000.0 * third]
    assert along(marked, (0.0, 2500.0), (4000.0, 2500.0)) == pytest.approx(wanted)


def test_a_line_past_the_end_of_a_fold_misses_it(marked: Room) -> None:
    assert along(marked, (0.0, 3100.0), (4000.0, 3100.0)) == []


def test_through_the_centre_all_folds_meet_there(marked: Room) -> None:
    assert set(along(marked, (0.0, 1500.0), (4000.0, 1500.0))) == {2000.0}
    # ... and a line along a fold has its end on the rim as well.
    assert along(marked, (2000.0, 0.0), (2000.0, 3000.0)) == pytest.approx([0.0, 1500.0])


def test_along_a_wall_folds_end_at_corners_and_marks(marked: Room) -> None:
    assert along(marked, (0.0, 3000.0), (4000.0, 3000.0)) == pytest.approx([0.0, 1000.0, 4000.0])


def test_a_board_round_the_centre_has_its_corners_the_folds_and_the_centre(marked: Room) -> None:
    # 200 mm wide, 100 long: inside it only the centre; six folds leave it, the one to m2 straight down.
    board = ((1900.0, 1450.0), (2100.0, 1450.0), (2100.0, 1550.0), (1900.0, 1550.0))
    points = ceiling_points(marked, board)
    # To A and B they leave through the upper side, to C and D through the lower one, to m1 next to that to A.
    wanted = [*board, (2000.0, 1500.0), (2000.0, 1450.0)]
    wanted += [(2000.0 + x, 1500.0 + y) for x in (-200.0 / 3.0, 200.0 / 3.0) for y in (-50.0, 50.0)]
    wanted += [(2000.0 - 100.0 / 3.0, 1550.0)]
    assert len(points) == len(wanted)
    for point in wanted:
        assert min(math.dist(point, other) for other in points) < 1e-6


def test_a_board_clear_of_all_folds_has_its_corners_alone(marked: Room) -> None:
    board = ((100.0, 1000.0), (200.0, 1000.0), (200.0, 1100.0), (100.0, 1100.0))
    assert ceiling_points(marked, board) == board


def bent(room: Room, start: Point, end: Point) -> float:
    """The most that the ceiling along a line leaves the straight lines between its crossings, over many places."""
    line, length = Line.through(start, end), math.dist(start, end)
    stops = sorted({0.0, length, *(at for at in fold_crossings(room, line) if 0.0 < at < length)})
    worst = 0.0
    for low, high in itertools.pairwise(stops):
        z0, z1 = (ceiling_height(room, line.at(at)) for at in (low, high))
        for share in (0.11, 0.37, 0.5, 0.83):
            there = ceiling_height(room, line.at(low + share * (high - low)))
            worst = max(worst, abs(there - z0 - share * (z1 - z0)))
    return worst


SHARE = st.floats(0.02, 0.98)
OFF = st.floats(-40.0, 40.0)


@settings(max_examples=80, deadline=None)
@given(room=quads(), heights=st.tuples(*[OFF] * 7), marks=st.tuples(SHARE, SHARE), places=st.tuples(*[SHARE] * 4))
def test_between_two_crossings_the_ceiling_is_straight(
    room: Quad, heights: tuple[float, ...], marks: tuple[float, float], places: tuple[float, float, float, float]
) -> None:
    names = ("A", "B", "C", "D", "centre", "m1", "m2")
    told = ", ".join(f"{name} = {2700.0 + off!r}" for name, off in zip(names, heights, strict=True))
    ends = {"AB": math.dist(room.a, room.b), "CD": math.dist(room.c, room.d)}
    lines = [
        f'm{k} = {{ wall = "{wall}", from = "{wall[0]}", at = {share * length!r} }}'
        for k, (share, (wall, length)) in enumerate(zip(marks, ends.items(), strict=True), 1)
    ]
    corners = {"A": room.a, "B": room.b, "C": room.c, "D": room.d}
    measured = distances(corners, [*walls("ABCD"), "AC"])
    solved = solve_survey(
        config_from(measured, room=f"heights = {{ {told} }}", more="\n".join(["[room.marks]", *lines]))
    )
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = solved.points

    def place(s: float, t: float) -> Point:
        """A place inside: s along, t away from AB."""
        x0, y0, x1, y1 = ax + s * (bx - ax), ay + s * (by - ay), dx + s * (cx - dx), dy + s * (cy - dy)
        return x0 + t * (x1 - x0), y0 + t * (y1 - y0)

    start, end = place(places[0], places[1]), place(places[2], places[3])
    if math.dist(start, end) > 1.0:
        assert bent(solved, start, end) < 1e-6


def test_in_a_room_of_six_corners_too() -> None:
    names = "".join(L_ROOM)
    measured = distances(L_ROOM, [*walls(names), "AD", "BD", "DF"])
    told = ", ".join(f"{name} = {2700.0 + 7.0 * k * (-1) ** k}" for k, name in enumerate(names))
    room = solve_survey(config_from(measured, corners=names, room=f"heights = {{ {told} }}"))
    floor = Polygon(room.points)
    grid = [(x, y) for x in range(150, 6000, 730) for y in range(150, 5000, 610) if floor.contains(Point2(x, y))]
    lines = [pair for pair in itertools.combinations(grid, 2) if floor.contains(LineString(pair))]
    assert len(lines) > 500
    assert max(bent(room, start, end) for start, end in lines) < 1e-6
