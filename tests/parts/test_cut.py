"""Parts at planned lengths."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LinearRing, Polygon, box

from lacunar.geometry import Ring, counter_clockwise
from lacunar.parts import Cutaway, Part, cut_to
from samples import slat


def test_the_designed_length_changes_nothing() -> None:
    part = slat()
    assert cut_to([part], {part.id: part.length})[0] is part
    assert cut_to([part], {})[0] is part


def test_both_ends_move_by_half() -> None:
    part = slat()
    (cut,) = cut_to([part], {part.id: 990.0})
    assert cut.length == 990.0
    assert sorted({x for x, _ in cut.outline}) == pytest.approx([5.0, 995.0])
    assert cut.axis == ((5.0, 0.0), (995.0, 0.0))


def test_a_stump_moves_its_free_end_only() -> None:
    part = replace(slat(), grow=(1.0, 0.0))
    (cut,) = cut_to([part], {part.id: 1003.0})
    assert sorted({x for x, _ in cut.outline}) == pytest.approx([-3.0, 1000.0])


def test_a_notch_stays_where_it_is() -> None:
    ring = (
        (0.0, -40.0),
        (400.0, -40.0),
        (400.0, -10.0),
        (500.0, -10.0),
        (500.0, -40.0),
        (1000.0, -40.0),
        (1000.0, 40.0),
        (0.0, 40.0),
    )
    taken = Cutaway(fixture="lamp", outline=ring[1:5], along=(400.0, 500.0), inside=False)
    part = replace(slat(), outline=ring, notches=(taken,))
    (cut,) = cut_to([part], {part.id: 1010.0})
    # It is told from the end, which moves away from it.
    assert cut.notches[0].along == (405.0, 505.0)
    assert cut.outline[1:5] == ring[1:5]
    assert cut.outline[0] == pytest.approx((-5.0, -40.0))
    assert cut.outline[5] == pytest.approx((1005.0, -40.0))


def test_a_mitred_end_moves_whole() -> None:
    part = replace(slat(), outline=((0.0, -40.0), (1000.0, -40.0), (960.0, 40.0), (30.0, 40.0)))
    (cut,) = cut_to([part], {part.id: 1002.0})
    assert [x for x, _ in cut.outline] == pytest.approx([-1.0, 1001.0, 961.0, 29.0])


@pytest.mark.parametrize("length", [980.0, 1010.0])
def test_the_edges_of_a_tapered_slat_stay_on_their_lines(length: float) -> None:
    outline = ((0.0, -30.0), (1000.0, -40.0), (1000.0, 40.0), (0.0, 30.0))
    part = replace(slat(), outline=outline, width=60.0, width_end=80.0, ripped=True)
    (cut,) = cut_to([part], {part.id: length})
    assert sorted({x for x, _ in cut.outline}) == pytest.approx([500.0 - length / 2.0, 500.0 + length / 2.0])
    # Each edge leans 10 mm over 1,000.
    assert all(abs(y) == pytest.approx(30.0 + x / 100.0) for x, y in cut.outline)
    assert cut.width == pytest.approx(60.0 - (length - 1000.0) / 100.0)
    assert cut.width_end == pytest.approx(80.0 + (length - 1000.0) / 100.0)


def notched(low: float, high: float, left: float, right: float) -> Part:
    """The sample slat less a rectangle: from and to along it, from and to across it, negative to the right."""
    whole = Polygon(slat().outline)
    cut = box(low, right, high, left)
    rest = whole.difference(cut)
    assert isinstance(rest, Polygon)
    inside = bool(whole.contains_properly(cut))
    notch = Cutaway(fixture="lamp", outline=ring(cut.exterior), along=(low, high), inside=inside)
    holes = tuple(ring(hole) for hole in rest.interiors)
    return replace(slat(), outline=ring(rest.exterior), holes=holes, notches=(notch,))


def ring(closed: LinearRing) -> Ring:
    return counter_clockwise(tuple((float(x), float(y)) for x, y in closed.coords[:-1]))


@pytest.mark.parametrize("tip", [300.0, 700.0, 1050.0])
def test_a_triangle_moves_at_its_long_points(tip: float) -> None:
    """What a corner of the coffer leaves of a slat, also where its tip stands beyond its other edge."""
    long = max(tip, 1000.0)
    triangle = replace(slat(), outline=((0.0, -40.0), (1000.0, -40.0), (tip, 40.0)), interval=None, length=long)
    cut = cut_to((replace(triangle, axis=((0.0, 0.0), (long, 0.0))),), {triangle.id: long + 2.0})[0]
    low, high = min(x for x, _ in cut.outline), max(x for x, _ in cut.outline)
    assert (low, high) == pytest.approx((-1.0, long + 1.0))
    assert cut.length == high - low


@given(
    low=st.integers(-20, 900),
    size=st.integers(21, 220),
    right=st.integers(-60, 20),
    width=st.integers(5, 55),
    length=st.integers(900, 1060),
)
def test_a_cut_out_stays_where_it_is_at_any_length(low: int, size: int, right: int, width: int, length: int) -> None:
    """The wood between the two cuts less the cut-out; the larger piece where it falls apart."""
    part = notched(low, low + size, right + width, right)
    (cut,) = cut_to([part], {part.id: float(length)})
    by = (length - 1000) / 2.0
    # A cut-out that lies in an end goes on beyond it.
    beyond = 100 if low <= 0 else 0, 100 if low + size >= 1000 else 0
    hole = box(low - beyond[0], right, low + size + beyond[1], right + width)
    left = box(-by, -40.0, 1000.0 + by, 40.0).difference(hole)
    wanted = max((g for g in getattr(left, "geoms", [left]) if isinstance(g, Polygon)), key=lambda piece: piece.area)
    made = Polygon(cut.outline, cut.holes)
    assert made.is_valid
    assert made.symmetric_difference(wanted).area < 1e-6
