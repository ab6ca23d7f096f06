"""Diagonals of coffers: those that a tape can be held along, and what they say of a coffer that leans."""

import math
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon
from shapely import Point as Point2

from field.by_hand import copied, rows_of, sheet
from lacunar.config import read_config
from lacunar.field import apply_measures
from lacunar.field.coffer_fit import shear_of
from lacunar.field.coffer_frame import Frame, frames
from lacunar.field.coffers import diagonals
from lacunar.geometry import Point
from lacunar.layout import arrange_layout
from lacunar.survey import solve_survey
from strategies import Quad, Wish, config_of, quads, text_of


@pytest.fixture(scope="module")
def ell(configs: Path) -> Frame:
    """C4 of 8-l-shaped.toml: six sides, its fourth corner points in."""
    config = read_config(configs / "8-l-shaped.toml")
    layout = arrange_layout(solve_survey(config), config)
    (frame,) = (frame for frame in frames(layout) if len(frame.coffer.sides) == 6)
    return frame


def test_a_coffer_of_four_sides_has_both(configs: Path) -> None:
    names = [name for name in rows_of(configs / "3-square.toml", "coffers") if name.startswith("C5 diagonal")]
    assert names == ["C5 diagonal 1-3", "C5 diagonal 2-4"]


def test_in_a_coffer_of_six_sides_those_that_stay_inside(configs: Path, ell: Frame) -> None:
    """From the corner that points in to every other, and across each arm; none past it through the wall."""
    names = [name for name, _ in diagonals(ell)]
    assert names == [f"diagonal {ends}" for ends in ("1-3", "1-4", "1-5", "2-4", "2-6", "4-6")]
    corners = [side.start for side in ell.coffer.sides]
    inside = Polygon(corners).buffer(1e-6)
    for i, j in combinations(range(6), 2):
        share_a_side = j - i in (1, 5)
        steps = [
            (
                corners[i][0] + k / 500 * (corners[j][0] - corners[i][0]),
                corners[i][1] + k / 500 * (corners[j][1] - corners[i][1]),
            )
            for k in range(501)
        ]
        free = all(inside.covers(Point2(step)) for step in steps) and not share_a_side
        assert (f"diagonal {i + 1}-{j + 1}" in names) == free
    rows = rows_of(configs / "8-l-shaped.toml", "coffers")
    assert all(rows[f"{ell.coffer.id} {name}"].optional for name in names)


def test_none_bends_round_a_corner(ell: Frame) -> None:
    corners = [side.start for side in ell.coffer.sides]
    for _, ends in diagonals(ell):
        others = [corner for corner in corners if corner not in ends]
        assert min(LineString(ends).distance(Point2(corner)) for corner in others) > 10.0


def leaning(frame: Frame, shear: float, larger: float) -> dict[str, float]:
    """The diagonals of a coffer whose far side lies further along by `shear` per mm across, all of it larger."""

    def moved(point: Point) -> Point:
        along, across = frame.place(point)
        return (along + shear * across) * (1.0 + larger), across * (1.0 + larger)

    return {f"{frame.coffer.id} {name}": math.dist(moved(a), moved(b)) for name, (a, b) in diagonals(frame)}


SHEAR = st.floats(-0.004, 0.004)
LARGER = st.floats(-0.002, 0.002)


@settings(max_examples=100, deadline=None)
@given(shear=SHEAR, larger=LARGER, left_out=st.sets(st.sampled_from(range(6)), max_size=3))
def test_six_sides_tell_how_far_they_lean(ell: Frame, shear: float, larger: float, left_out: set[int]) -> None:
    """Whichever are measured, as long as they run both ways; within what the square of so small a lean makes."""
    told = leaning(ell, shear, larger)
    values = {name: mm for k, (name, mm) in enumerate(told.items()) if k not in left_out}
    ways = {_way(ell, *ends) > 0.0 for name, ends in diagonals(ell) if f"{ell.coffer.id} {name}" in values}
    found = shear_of(ell, values)
    if len(ways) == 2:
        assert found == pytest.approx(shear, abs=5.0 * (abs(shear) + abs(larger)) ** 2 + 1e-9)
    else:
        assert found == 0.0


def _way(frame: Frame, a: Point, b: Point) -> float:
    (p, u), (q, v) = frame.place(a), frame.place(b)
    return (q - p) * (v - u)


@settings(max_examples=60, deadline=None)
@given(room=quads(60.0), shear=SHEAR, larger=LARGER)
def test_four_sides_tell_how_far_they_lean(room: Quad, shear: float, larger: float) -> None:
    config = config_of(text_of(room, Wish(beams=1, rows=1)))
    for frame in frames(arrange_layout(solve_survey(config), config)):
        values = leaning(frame, shear, larger)
        assert shear_of(frame, values) == pytest.approx(shear, abs=5.0 * (abs(shear) + abs(larger)) ** 2 + 1e-9)
        one = dict(list(values.items())[:1])
        assert shear_of(frame, one) == 0.0


def test_slats_of_a_leaning_l_are_cut_for_it(configs: Path, tmp_path: Path, ell: Frame) -> None:
    """Its ends lean by the shear over a slat's width: the longest that still fits is so much shorter."""
    path = copied(configs / "8-l-shaped.toml", tmp_path)
    rows, id = rows_of(path, "coffers"), ell.coffer.id
    lengths = {name: f"{row.design!r} mm" for name, row in rows.items() if name.startswith(f"{id} length at ")}
    apply_measures(path, sheet(path, "coffers", lengths))
    before = read_config(path).field
    told = {name: f"{mm!r} mm" for name, mm in leaning(ell, 0.004, 0.0).items()}
    assert apply_measures(path, sheet(path, "coffers", {**lengths, **told})).notes == ()
    after = read_config(path).field
    pairs = [(before[slat].longest, after[slat].longest) for slat in before]
    shorter = [was - now for was, now in pairs if was is not None and now is not None]
    config = read_config(path)
    assert max(shorter) == pytest.approx(0.004 * config.slats.width, abs=0.05)
