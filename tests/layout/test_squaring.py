"""Rule 8: square-cut slats. Expected numbers are worked out in inches beside each row."""

import math

import pytest

from lacunar.geometry import Line
from lacunar.layout.squaring import EndRule, Reach, nearest_mark, reach, square_length
from lacunar.units import INCH

RULE = EndRule(end_gap=INCH / 4, least_end_gap=INCH / 16, hidden=INCH / 2, mark=INCH / 16)


def square(tight: float, lean: tuple[float, float], stretch: float = 1.0) -> tuple[float, float, float] | None:
    """Designed, shortest and longest, in inches."""
    inner = (lean[0] * INCH, (lean[0] + tight) * INCH)
    outer = (0.0, (lean[0] + tight + lean[1]) * INCH)
    found = square_length(Reach(inner=inner, outer=outer), RULE, stretch)
    return None if found is None else (found[0] / INCH, found[1][0] / INCH, found[1][1] / INCH)


# tight, leans -> designed, shortest, longest (inches)
ROWS = [
    # 47 - 1/2; 47 + 0 - 1; 47 - 1/8
    pytest.param(47.0, (0.0, 0.0), 46.5, 46.0, 46.875, id="square"),
    # a lean of 1/8 at one end costs 1/4 of the shortest
    pytest.param(47.0, (0.125, 0.0), 46.5, 46.25, 46.875, id="one side leans"),
    pytest.param(47.0, (0.0625, 0.125), 46.5, 46.25, 46.875, id="the larger lean counts"),
    # shortest 47 + 3/4 - 1 = 46 3/4 passes the wish of 46 1/2: the nearest mark inside is 46 3/4
    pytest.param(47.0, (0.375, 0.0), 46.75, 46.75, 46.875, id="wish held to the interval"),
    # 46.93 - 1/2 = 46.43: nearest sixteenth 46 7/16
    pytest.param(46.93, (0.0, 0.0), 46.4375, 45.93, 46.805, id="nearest mark"),
    # shortest 46.865, longest 46.873: no sixteenth between; held to the interval as it is
    pytest.param(46.998, (0.4335, 0.0), 46.865, 46.865, 46.873, id="no mark inside"),
]


@pytest.mark.parametrize(("tight", "lean", "designed", "shortest", "longest"), ROWS)
def test_rule_8(tight: float, lean: tuple[float, float], designed: float, shortest: float, longest: float) -> None:
    assert square(tight, lean) == pytest.approx((designed, shortest, longest), abs=1e-9)


def test_a_lean_that_no_square_cut_can_hide() -> None:
    # 2 x lean > 2 x (1/2 - 1/16): from a lean of 7/16 on
    assert square(47.0, (0.4374, 0.0)) is not None
    assert square(47.0, (0.4376, 0.0)) is None


def test_a_sloping_ceiling_makes_slats_longer_than_the_plan() -> None:
    length = square(47.0, (0.0, 0.0), stretch=1.01)
    assert length is not None
    assert length[2] == pytest.approx(47.0 * 1.01 - 0.125)


def test_reach_of_leaning_sides() -> None:
    # sides lean 3 mm and 2 mm over a slat 100 wide; a slat from y = 100 to y = 0
    ring = ((3.0, 0.0), (1000.0, 0.0), (998.0, 100.0), (0.0, 100.0))
    axis = Line((0.0, 100.0), (1.0, 0.0))
    found = reach(ring, axis, axis.shifted(-100.0), axis)
    assert found is not None
    assert (found.inner, found.outer) == ((3.0, 998.0), (0.0, 1000.0))
    assert found.tight == 995.0
    assert found.lean == (3.0, 2.0)


@pytest.mark.parametrize(
    ("wished", "low", "high", "mark", "got"),
    [
        (10.4, 9.0, 12.0, 1.0, 10.0),
        (10.5, 9.0, 12.0, 1.0, 11.0),
        (12.9, 9.0, 12.0, 1.0, 12.0),
        (8.2, 8.6, 12.0, 1.0, 9.0),
        (8.2, 8.3, 8.9, 1.0, 8.3),
        (9.0, 8.3, 8.9, 1.0, 8.9),
    ],
)
def test_nearest_mark_within_the_interval(wished: float, low: float, high: float, mark: float, got: float) -> None:
    assert math.isclose(nearest_mark(wished, low, high, mark), got, abs_tol=1e-9)
