"""Fans: what turned slats take of a coffer, measured on the outlines as drawn."""

import itertools

import pytest
from hypothesis import assume
from hypothesis import strategies as st
from shapely import LineString, Polygon

from lacunar.geometry import Line
from lacunar.layout import Coffer, Layout, Side, Slat, arrange_layout
from lacunar.survey import solve_survey
from lacunar.units import INCH
from strategies import Quad, Wish, config_of, quad, sampled, text_of

PASSAGE = """
title = "Passage"
units = "in"
[room]
height = "8 ft"
[room.measured]
AB = "3 ft"
BC = "20 ft"
CD = "3 ft 1/2 in"
DA = "20 ft 3 in"
AC = "20 ft 2 3/4 in"
[cross_beams]
rows = 0
[slats]
run = "AB"
stock = "1x4"
gap = "1/4 in"
[trim]
width = "3/4 in"
height = "3/4 in"
"""
"""64 slats turned by up to 5 degrees: together they take 1/4 in more than they are wide."""


def laid(text: str) -> Layout:
    config = config_of(text)
    return arrange_layout(solve_survey(config), config)


def slats_of(layout: Layout, coffer: Coffer) -> list[Slat]:
    return [slat for slat in layout.slats if slat.coffer == coffer.id]


def opposite(coffer: Coffer) -> Side:
    base = coffer.sides[coffer.start_side].line
    return max(coffer.sides, key=lambda side: -(base.offset(side.start) + base.offset(side.end)))


def edge_gap(slat: Slat, side: Side) -> float:
    return Polygon(slat.outline).distance(LineString([side.start, side.end]))


def long_edges(slat: Slat, base: Line) -> tuple[Line, Line]:
    """The edge towards the start side and the other one, in the frame of that side: along it, and depth below it."""
    points = sorted((base.along(p), -base.offset(p)) for p in slat.outline)
    one, other = (sorted(points[:2], key=lambda p: p[1]), sorted(points[2:], key=lambda p: p[1]))
    return Line.through(one[0], other[0]), Line.through(one[1], other[1])


def depth(edge: Line, at: float) -> float:
    return edge.crossing(Line((at, 0.0), (0.0, 1.0)))[1]


def gaps_at(slats: list[Slat], base: Line, at: float) -> list[float]:
    edges = [long_edges(slat, base) for slat in slats]
    return [depth(near, at) - depth(far, at) for (_, far), (near, _) in itertools.pairwise(edges)]


def check_fan(layout: Layout, coffer: Coffer) -> None:
    slats, base, far = slats_of(layout, coffer), coffer.sides[coffer.start_side].line, opposite(coffer)
    assert edge_gap(slats[0], coffer.sides[coffer.start_side]) == pytest.approx(coffer.edge_gaps[0], abs=1e-6)
    assert edge_gap(slats[-1], far) == pytest.approx(coffer.edge_gaps[1], abs=1e-6)
    narrow, wide = sorted((-base.offset(p), base.along(p)) for p in (far.start, far.end))
    assert gaps_at(slats, base, narrow[1]) == pytest.approx([coffer.gap] * (len(slats) - 1), abs=1e-6)
    assert gaps_at(slats, base, wide[1]) == pytest.approx([coffer.gap_end] * (len(slats) - 1), abs=1e-6)
    for one, other in itertools.combinations([Polygon(slat.outline) for slat in slats], 2):
        assert one.distance(other) > 0.0


def test_the_last_edge_gap_of_a_long_fan_comes_out_as_designed() -> None:
    layout = laid(PASSAGE)
    (coffer,) = layout.coffers
    assert coffer.wedge == "fan"
    assert coffer.edge_gaps == pytest.approx((INCH / 4.0, INCH / 4.0), abs=1e-9)
    check_fan(layout, coffer)


@sampled(
    50,
    150,
    width=st.floats(900.0, 3000.0),
    depth=st.floats(900.0, 8000.0),
    skews=st.tuples(*[st.floats(-90.0, 90.0)] * 5),
    wish=st.builds(
        Wish,
        beams=st.just(0),
        cross=st.just(False),
        run=st.sampled_from(["AB", "BC"]),
        start=st.sampled_from(['["AB", "DA"]', '["CD", "BC"]', '"centre"']),
        gap=st.sampled_from([0.125, 0.25, 0.5, 1.0]),
        wedge=st.sampled_from(["auto", "fan"]),
        board=st.sampled_from([1.5, 3.5, 9.25]),
    ),
)
def test_every_fan_has_the_gaps_of_its_numbers(
    width: float, depth: float, skews: tuple[float, float, float, float, float], wish: Wish
) -> None:
    room: Quad = quad(width, depth, skews)
    layout = laid(text_of(room, wish))
    (coffer,) = layout.coffers
    assume(coffer.wedge == "fan")
    check_fan(layout, coffer)
    least = INCH / 16.0
    assert all(gap >= least - 1e-6 for gap in coffer.edge_gaps)
    slats = slats_of(layout, coffer)
    if len(slats) > 2:
        assert all(slat.width >= wish.board * INCH / 2.0 - 1e-6 for slat in slats)
