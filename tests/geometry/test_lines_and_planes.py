"""Lines and planes against numpy: distances, crossings, turns, heights."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from lacunar.geometry import Line, Plane, Point, Segment, crossings, end_mitres, extent

NEAR = 1e-6
"""mm, for coordinates of up to 20 m."""

coordinate = st.floats(-20_000.0, 20_000.0)
points = st.tuples(coordinate, coordinate)
heights = st.floats(2_000.0, 4_000.0)


def line_of(start: Point, end: Point) -> Line:
    assume(math.dist(start, end) > 1.0)
    return Line.through(start, end)


@given(points, points, points)
def test_a_point_is_where_along_and_offset_say(start: Point, end: Point, point: Point) -> None:
    line = line_of(start, end)
    along, left = line.along(point), line.offset(point)
    assert line.at(along, left) == pytest.approx(point, abs=NEAR)
    # The cross product of numpy tells the distance from the line, the scalar product the way along it.
    way, to = np.subtract(end, start), np.subtract(point, start)
    assert left == pytest.approx((way[0] * to[1] - way[1] * to[0]) / np.linalg.norm(way), abs=NEAR)
    assert along == pytest.approx(way @ to / np.linalg.norm(way), abs=NEAR)
    assert line.shifted(left).offset(point) == pytest.approx(0.0, abs=NEAR)
    assert line.reversed().offset(point) == pytest.approx(-left, abs=NEAR)


@given(points, points, points, st.floats(0.05, math.pi - 0.05))
def test_lines_cross_where_a_linear_system_says(start: Point, end: Point, point: Point, angle: float) -> None:
    line = line_of(start, end)
    other = Line(point, line.direction).turned(angle)
    assert line.angle_to(other) == pytest.approx(angle)
    assert line.lean_to(other) == pytest.approx(min(angle, math.pi - angle))
    matrix = np.column_stack([line.direction, np.negative(other.direction)])
    t = float(np.linalg.solve(matrix, np.subtract(other.point, line.point))[0])
    assert line.crossing(other) == pytest.approx(line.at(t), abs=1e-5)


def test_parallel_lines_do_not_cross() -> None:
    line = Line.through((0.0, 0.0), (1.0, 0.0))
    with pytest.raises(ZeroDivisionError):
        line.crossing(line.shifted(5.0))


@given(points, points)
def test_a_segment_lies_between_its_ends(start: Point, end: Point) -> None:
    assume(math.dist(start, end) > 1.0)
    segment = Segment(start, end)
    assert segment.length == pytest.approx(math.dist(start, end))
    assert math.dist(segment.middle, start) == pytest.approx(segment.length / 2.0)
    assert extent((start, end), segment.line) == pytest.approx((0.0, segment.length), abs=NEAR)


@given(points, points, points, heights, heights, heights)
def test_a_plane_goes_through_its_points(a: Point, b: Point, c: Point, za: float, zb: float, zc: float) -> None:
    assume(abs(np.linalg.det([np.subtract(b, a), np.subtract(c, a)])) > 1e5)
    plane = Plane.through((*a, za), (*b, zb), (*c, zc))
    assume(math.hypot(plane.sx, plane.sy) < 1.0)
    assert [plane.at(p) for p in (a, b, c)] == pytest.approx([za, zb, zc], abs=1e-4)
    # A layer 1 mm thick across is as thick plumb as 1 over the cosine of the tilt.
    normal = np.array([-plane.sx, -plane.sy, 1.0])
    assert plane.plumb == pytest.approx(1.0 / (normal / np.linalg.norm(normal))[2])
    assert plane.lifted(7.0).at(a) == pytest.approx(plane.at(a) + 7.0)


@given(points, points, heights, heights)
def test_a_beam_s_bottom_is_level_across(start: Point, end: Point, low: float, high: float) -> None:
    line = line_of(start, end)
    length = math.dist(start, end)
    assume(length > 100.0)
    plane = Plane.along(start, end, low, high)
    assert (plane.at(start), plane.at(end)) == pytest.approx((low, high), abs=NEAR)
    assert plane.slope(line.left) == pytest.approx(0.0, abs=1e-9)
    assert plane.stretch(line.direction) * length == pytest.approx(math.hypot(length, high - low))


@pytest.mark.parametrize("degrees", [-30.0, 0.0, 12.5, 45.0])
def test_mitres_of_a_piece_that_was_cut_so(degrees: float) -> None:
    """A piece 1,000 mm long and 90 wide, its second end cut away from square; its left side longer where positive."""
    longer = 90.0 * math.tan(math.radians(degrees))
    ring = ((0.0, 0.0), (1000.0, 0.0), (1000.0 + longer, 90.0), (0.0, 90.0))
    axis = Line.through((0.0, 45.0), (1000.0, 45.0))
    first, second = end_mitres(ring, axis)
    assert (math.degrees(first), math.degrees(second)) == pytest.approx((0.0, degrees))
    assert sorted(crossings(ring, axis)) == pytest.approx([0.0, 1000.0 + longer / 2.0])
    assert sorted(crossings(ring, axis, 45.0 / 2.0)) == pytest.approx([0.0, 1000.0 + 0.75 * longer])
