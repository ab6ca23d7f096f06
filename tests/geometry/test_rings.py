"""Rings against shapely."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon

from lacunar.geometry import Point, Ring, area, centroid, counter_clockwise, signed_area, tidy


@st.composite
def stars(draw: st.DrawFn) -> Ring:
    """A ring round a point anywhere in 25 m, no corner on the line between its neighbours."""
    x, y = draw(st.tuples(st.floats(-25_000.0, 25_000.0), st.floats(-25_000.0, 25_000.0)))
    radii = draw(st.lists(st.floats(500.0, 4_000.0), min_size=3, max_size=9))
    step = 2.0 * math.pi / len(radii)
    return tuple((x + r * math.cos(n * step), y + r * math.sin(n * step)) for n, r in enumerate(radii))


@given(stars())
def test_areas_and_centres(ring: Ring) -> None:
    shape = Polygon(ring)
    assert area(ring) == pytest.approx(shape.area, rel=1e-9)
    assert signed_area(ring) == pytest.approx(shape.area, rel=1e-9)
    assert signed_area(ring[::-1]) == pytest.approx(-shape.area, rel=1e-9)
    assert centroid(ring) == pytest.approx((shape.centroid.x, shape.centroid.y), abs=1e-4)


@given(stars())
def test_a_ring_is_turned_and_keeps_its_first_point(ring: Ring) -> None:
    backwards = (ring[0], *ring[:0:-1])
    assert counter_clockwise(ring) == ring
    assert counter_clockwise(backwards) == ring


@given(stars(), st.data())
def test_points_that_shape_nothing_go(ring: Ring, data: st.DataObject) -> None:
    """Points twice, and points on a side, are dropped; the shape stays."""
    shaped = tidy(ring, 1e-3)
    more: list[Point] = []
    for a, b in zip(shaped, shaped[1:] + shaped[:1], strict=True):
        t = data.draw(st.floats(0.1, 0.9))
        more += [a, a, (a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))]
    again = tidy(tuple(more), 1e-3)
    assert Polygon(again).symmetric_difference(Polygon(ring)).area < 1e-3 * Polygon(ring).length
    assert len(again) == len(shaped)
