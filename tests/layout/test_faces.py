"""Each coffer's own plane under a ceiling out of flat: against linear programs, and nowhere above the plaster."""

import importlib
import math
from itertools import combinations, pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import strategies as st
from shapely import Polygon

from lacunar.geometry import Point, Ring, area, centroid
from lacunar.layout import Layout, arrange_layout, ceiling_gaps, ceiling_steps, surface_over
from lacunar.layout.bars import ceiling_points
from lacunar.layout.faces import SAME, highest_under
from lacunar.parts import make_parts
from lacunar.survey import Room, ceiling_height, solve_survey
from layout.test_properties import arranged_or_refused
from strategies import Quad, Wish, config_of, quad, quads, sampled, text_of, wishes

FLAT = quad(4000.0, 3000.0)


def with_heights(room: Quad, wish: Wish, heights: str, more: str = "") -> tuple[Room, Layout]:
    config = config_of(text_of(room, wish, more).replace("height = 2700", f"heights = {{ {heights} }}"))
    measured = solve_survey(config)
    return measured, arrange_layout(measured, config)


def heights_of(offs: tuple[float, ...]) -> str:
    names = ("A", "B", "C", "D", "centre")
    return ", ".join(f"{name} = {2700.0 + off}" for name, off in zip(names, offs, strict=True))


def turns(room: Room, ring: Ring) -> list[Point]:
    """Where the ceiling over a ring can turn, by another way than the layout's: cut by shapely into the triangles."""
    rim = [*room.points, room.points[0]]
    found: list[Point] = []
    for a, b in pairwise(rim):
        piece = Polygon([room.centre[:2], a, b]).intersection(Polygon(ring))
        if isinstance(piece, Polygon) and not piece.is_empty:
            found += [(float(x), float(y)) for x, y in piece.exterior.coords]
    return found


def best_height(room: Room, ring: Ring) -> float:
    """How high any plane can lie over the middle of a ring: scipy's answer."""
    cx, cy = centroid(ring)
    points = turns(room, ring)
    rows = np.array([(1.0, x - cx, y - cy) for x, y in points])
    room_below = np.array([ceiling_height(room, point) for point in points])
    optimize: Any = importlib.import_module("scipy.optimize")  # has no type stubs
    solved = optimize.linprog((-1.0, 0.0, 0.0), A_ub=rows, b_ub=room_below, bounds=[(None, None)] * 3)
    return -float(solved.fun)


offs = st.tuples(*[st.floats(-30.0, 30.0, allow_nan=False)] * 5)


@sampled(15, 60, room=quads(), wish=wishes(), off=offs, furred=st.booleans())
def test_nothing_stands_in_the_plaster_and_nothing_could_hang_higher(
    room: Quad, wish: Wish, off: tuple[float, ...], furred: bool
) -> None:
    if arranged_or_refused(room, wish) is None:
        return
    more = "[furring]\nuse = true\n" if furred else ""
    measured, layout = with_heights(room, wish, heights_of(off), more)
    for coffer in layout.coffers:
        for point in turns(measured, coffer.outline):
            assert coffer.ceiling.at(point) <= ceiling_height(measured, point) + 1e-6
        middle = centroid(coffer.outline)
        best = best_height(measured, coffer.outline)
        # The whole slack only where it makes the largest gap smaller; never higher than any plane can be.
        assert best - SAME - 1e-6 <= coffer.ceiling.at(middle) <= best + 1e-6
    for part in make_parts(layout):
        if part.kind in ("slat", "trim", "furring"):
            for point in (*part.outline, *turns(measured, part.outline)):
                assert part.top.at(point) <= ceiling_height(measured, point) + 1e-6


@sampled(12, 40, room=quads(), off=offs)
def test_without_slack_the_plane_is_the_best_there_is(room: Quad, off: tuple[float, ...]) -> None:
    measured, layout = with_heights(room, Wish(rows=1), heights_of(off))
    for coffer in layout.coffers:
        ring = coffer.outline
        points = [(x, y, ceiling_height(measured, (x, y))) for x, y in ceiling_points(measured, ring)]
        plane = highest_under(points, centroid(ring), 0.0)
        assert plane.at(centroid(ring)) == pytest.approx(best_height(measured, ring), abs=1e-6)


@pytest.mark.parametrize("slope", [(0.0, 0.0), (0.004, -0.007)])
def test_a_flat_ceiling_is_every_coffers_plane(slope: tuple[float, float]) -> None:
    """To the last digit, level or not."""
    sx, sy = slope
    offs = [sx * x + sy * y for x, y in ((0.0, 3000.0), (4000.0, 3000.0), (4000.0, 0.0), (0.0, 0.0), (2000.0, 1500.0))]
    room, layout = with_heights(FLAT, Wish(), heights_of(tuple(offs)))
    assert {coffer.ceiling for coffer in layout.coffers} == {room.ceiling}
    for gap in ceiling_gaps(room, layout):
        assert (gap.mean, gap.largest, gap.shim) == (0.0, 0.0, 0.0)
    assert {step.size for step in ceiling_steps(layout)} == {0.0}
    assert surface_over(room, layout.outline) == ((layout.outline, room.ceiling),)


def test_a_sag_under_one_coffer_leaves_its_slats_level() -> None:
    """Planes that lean to any side have the same mean gap, and twice the largest."""
    room, layout = with_heights(FLAT, Wish(beams=0, cross=False), heights_of((0.0, 0.0, 0.0, 0.0, -20.0)))
    (coffer,) = layout.coffers
    assert (coffer.ceiling.sx, coffer.ceiling.sy) == pytest.approx((0.0, 0.0), abs=1e-9)
    assert coffer.ceiling.z0 == pytest.approx(2680.0)
    (gap,) = ceiling_gaps(room, layout)
    # A pyramid upside down holds a third less than the box around it.
    assert (gap.largest, gap.mean) == pytest.approx((20.0, 20.0 * 2.0 / 3.0))
    assert 0.0 < gap.shim < 20.0


def test_a_middle_that_arches_rests_on_the_corners() -> None:
    room, layout = with_heights(FLAT, Wish(beams=0, cross=False), heights_of((0.0, 0.0, 0.0, 0.0, 12.0)))
    (gap,) = ceiling_gaps(room, layout)
    assert (gap.largest, gap.mean) == pytest.approx((12.0, 4.0))
    assert gap.at == pytest.approx((2000.0, 1500.0))


def test_coffers_beside_one_fold_differ_by_a_step() -> None:
    """One beam along the middle of a ceiling that is folded there like a roof: both coffers lie against their half."""
    marks = '[room.marks]\nm1 = { wall = "AB", from = "A", at = 2000 }\nn1 = { wall = "CD", from = "D", at = 2000 }\n'
    heights = "A = 2700, B = 2700, C = 2700, D = 2700, centre = 2720, m1 = 2720, n1 = 2720"
    room, layout = with_heights(FLAT, Wish(beams=1, cross=False), heights, marks)
    left, right = layout.coffers
    assert (left.ceiling.sx, right.ceiling.sx) == pytest.approx((0.01, -0.01))
    assert [gap.largest for gap in ceiling_gaps(room, layout)] == [0.0, 0.0]
    (step,) = ceiling_steps(layout)
    assert (step.bar, step.size) == ("E1", pytest.approx(0.0, abs=1e-9))
    tilted = "A = 2700, B = 2700, C = 2700, D = 2700, centre = 2720, m1 = 2730, n1 = 2710"
    room, layout = with_heights(FLAT, Wish(beams=1, cross=False), tilted, marks)
    left, right = layout.coffers
    (step,) = ceiling_steps(layout)
    along = [(2000.0, y) for y in (0.0, 3000.0)]
    most = max(abs(left.ceiling.at(point) - right.ceiling.at(point)) for point in along)
    assert step.size == pytest.approx(most, abs=1e-6)


@sampled(12, 40, room=quads(), off=offs)
def test_gaps_are_those_of_the_surface(room: Quad, off: tuple[float, ...]) -> None:
    """Against a fine grid of points; the pieces of the surface make up the whole ceiling."""
    measured, layout = with_heights(room, Wish(beams=1, rows=1), heights_of(off))
    for coffer, gap in zip(layout.coffers, ceiling_gaps(measured, layout), strict=True):
        a, b, c, d = (np.array(side.start) for side in coffer.sides)
        shares = (np.arange(24) + 0.5) / 24.0
        points = [(1 - v) * ((1 - u) * a + u * b) + v * ((1 - u) * d + u * c) for u in shares for v in shares]
        found = [ceiling_height(measured, (x, y)) - coffer.ceiling.at((x, y)) for x, y in np.array(points).tolist()]
        assert max(found) <= gap.largest + 1e-6
        assert gap.largest - max(found) < 5.0
        assert gap.mean == pytest.approx(sum(found) / len(found), abs=0.05 + 0.02 * gap.largest)
        assert gap.shim <= gap.largest + 1e-9
        pieces = surface_over(measured, coffer.outline)
        assert math.fsum(area(ring) for ring, _ in pieces) == pytest.approx(area(coffer.outline), rel=1e-9)
        for ring, plane in pieces:
            assert plane.at(centroid(ring)) == pytest.approx(ceiling_height(measured, centroid(ring)), abs=1e-6)


U_SHAPED = ((0, 4000), (6000, 4000), (6000, 0), (4200, 0), (4200, 2000), (1800, 2000), (1800, 0), (0, 0))


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_room_whose_corners_no_place_sees_together(seed: int) -> None:
    """Triangles lie behind one another there; corners are as high as measured, and nothing stands in the plaster."""
    offs = np.random.default_rng(seed).uniform(-30.0, 30.0, 9).round(2).tolist()
    names = "ABCDEFGH"
    heights = ", ".join(f"{name} = {2700.0 + off}" for name, off in zip((*names, "centre"), offs, strict=True))
    spots = dict(zip(names, U_SHAPED, strict=True))
    measured = "\n".join(f"{a}{b} = {math.dist(spots[a], spots[b])!r}" for a, b in combinations(names, 2))
    ends = '{ wall = "AB", from = "A", at = 2955 }, { wall = "EF", from = "F", at = 1155 }'
    config = config_of(
        f'title = "U"\nunits = "mm"\n[room]\ncorners = "{names}"\nheights = {{ {heights} }}\n'
        f'[room.measured]\n{measured}\n[[beam]]\nname = "E1"\nwidth = 90\ndepth = 140\nends = [{ends}]\n'
        "[slats]\nwidth = 90\nthickness = 20\n[trim]\nwidth = 20\nheight = 20\n"
    )
    room = solve_survey(config)
    layout = arrange_layout(room, config)
    for name, off in zip(names, offs, strict=False):
        x, y = room.corner(name)
        assert ceiling_height(room, (x, y)) == pytest.approx(2700.0 + off, abs=1e-6)
    for part in make_parts(layout):
        if part.kind in ("slat", "trim"):
            assert all(part.top.at(point) <= ceiling_height(room, point) + 1e-3 for point in part.outline)
