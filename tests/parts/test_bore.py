"""Rule 13: pockets at their closed-form place. Expected numbers in inches (common practice, no source)."""

import math
from dataclasses import replace

import pytest

from lacunar.config import Joint
from lacunar.geometry import Plane, Point, Ring
from lacunar.layout import Bar
from lacunar.parts.bore import bore_pockets

INCH = 25.4
RULE = Joint.model_construct(
    high=2,
    low=1,
    angle=math.radians(15.0),
    clearance=0.0,
    bore=0.375 * INCH,
    pilot=0.125 * INCH,
    offset=0.75 * INCH,
    drop=1.125 * INCH,
    screw=2.5 * INCH,
)


def piece(outline: Ring, axis: tuple[Point, Point]) -> Bar:
    return Bar(
        id="X1-1",
        kind="cross beam",
        outline=outline,
        axis=axis,
        length=1000.0,
        width=3.5 * INCH,
        stock="4x6",
        stock_depth=5.5 * INCH,
        species="douglas fir",
        bottom=Plane(z0=2400.0),
        top=Plane(z0=2400.0 + 5.5 * INCH),
        meets=("E1", "E2"),
        clear=(1000.0, 1000.0),
    )


HALF = 1.75 * INCH
SQUARE = piece(((0.0, -HALF), (1000.0, -HALF), (1000.0, HALF), (0.0, HALF)), ((0.0, 0.0), (1000.0, 0.0)))


def test_a_square_end_has_the_printed_numbers() -> None:
    pockets = [p for p in bore_pockets(SQUARE, RULE) if p.end == 0]
    assert [(p.side, p.level) for p in pockets] == [("left", "high"), ("right", "high"), ("left", "low")]
    high = pockets[0]
    assert high.mouth[0] / INCH == pytest.approx(2.799, abs=5e-4)
    assert high.mouth[1] == pytest.approx(HALF)
    assert high.mouth[2] == pytest.approx(2400.0 + (5.5 - 1.125) * INCH)
    assert high.bore / math.sin(RULE.angle) / INCH == pytest.approx(1.449, abs=5e-4)
    assert pockets[2].mouth[2] == pytest.approx(2400.0 + 1.125 * INCH)


def test_the_axis_leaves_the_end_grain_three_quarters_in_from_the_side_face() -> None:
    for pocket in bore_pockets(SQUARE, RULE):
        length = pocket.bore_length + pocket.pilot_length
        x, y = (pocket.mouth[i] + length * pocket.direction[i] for i in (0, 1))
        assert x == pytest.approx(1000.0 if pocket.end else 0.0, abs=1e-9)
        assert abs(y) == pytest.approx(HALF - 0.75 * INCH)
        assert math.hypot(*pocket.direction) == pytest.approx(1.0)
        assert pocket.normal[1] == pytest.approx(1.0 if pocket.side == "left" else -1.0)


def test_half_the_screw_stands_in_each_piece() -> None:
    pocket = bore_pockets(SQUARE, RULE)[0]
    assert pocket.pilot_length == pytest.approx(1.25 * INCH)
    assert pocket.bore_length == pytest.approx((0.75 / math.sin(RULE.angle) - 1.25) * INCH)


def test_a_long_screw_leaves_the_shoulder_inside_the_wood() -> None:
    pocket = bore_pockets(SQUARE, RULE.model_copy(update={"screw": 6.0 * INCH}))[0]
    # the shoulder's rim nearest the face: depth of its centre less radius x cos
    depth = pocket.bore_length * math.sin(RULE.angle)
    assert depth - pocket.bore / 2.0 * math.cos(RULE.angle) > 0.0


def test_a_mitred_end_keeps_the_distance_from_the_side_face() -> None:
    # end 1 cut 30 degrees: the left side is longer by 3 1/2 x tan 30
    more = 3.5 * INCH * math.tan(math.radians(30.0))
    bar = piece(
        ((0.0, -HALF), (1000.0, -HALF), (1000.0 + more, HALF), (0.0, HALF)), ((0.0, 0.0), (1000.0 + more / 2, 0.0))
    )
    for pocket in (p for p in bore_pockets(bar, RULE) if p.end == 1):
        length = pocket.bore_length + pocket.pilot_length
        x, y = (pocket.mouth[i] + length * pocket.direction[i] for i in (0, 1))
        assert abs(y) == pytest.approx(HALF - 0.75 * INCH)
        assert x == pytest.approx(1000.0 + (y + HALF) * math.tan(math.radians(30.0)))


def test_pockets_follow_a_sloping_top() -> None:
    bar = replace(SQUARE, top=Plane(z0=2500.0, sx=0.01))
    left, right = (next(p for p in bore_pockets(bar, RULE) if p.end == end) for end in (0, 1))
    assert right.mouth[2] - left.mouth[2] == pytest.approx(0.01 * (right.mouth[0] - left.mouth[0]))
