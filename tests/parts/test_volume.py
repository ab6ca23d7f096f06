"""Closed forms of prisms and pockets, and which pockets fit."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacunar.geometry import Plane
from lacunar.parts import Pocket, drilled, gross_volume, pocket_volume, undrilled, volume
from solids.sample_parts import (
    INCH,
    LEVEL,
    holed_slat,
    notched_slat,
    part,
    slat,
    timber,
    turned,
)


def test_level_board_is_length_times_width_times_thickness() -> None:
    board = slat("C1-S01", length=1219.2, width=88.9, origin=(21000.0, 17000.0), angle=0.7)
    assert volume(board) == pytest.approx(1219.2 * 88.9 * 19.05, rel=1e-13)


def test_wedge_is_half_a_box() -> None:
    wedge = part("W", ((0.0, 0.0), (600.0, 0.0), (600.0, 80.0), (0.0, 80.0)), LEVEL, Plane(z0=2600.0, sx=0.1))
    assert gross_volume(wedge) == pytest.approx(600.0 * 80.0 * 60.0 / 2.0, rel=1e-12)


def test_triangle_under_a_slope_is_a_third_of_its_prism() -> None:
    """Height 0 at two corners and 30 at the third: a pyramid of base 1/2 40 x 90, height 30."""
    top = Plane(z0=2600.0, sy=30.0 / 90.0)
    pyramid = part("P", ((0.0, 0.0), (40.0, 0.0), (0.0, 90.0)), LEVEL, top)
    assert gross_volume(pyramid) == pytest.approx(40.0 * 90.0 / 2.0 * 30.0 / 3.0, rel=1e-12)


def test_hole_takes_its_own_height_not_the_middle_one() -> None:
    """A 20 x 20 hole at x 80..100 under a roof that rises 1 in 10 is 9 mm high at its middle, not 5."""
    outline = ((0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (0.0, 50.0))
    hole = ((79.0, 10.0), (99.0, 10.0), (99.0, 30.0), (79.0, 30.0))
    roof = part("R", outline, LEVEL, Plane(z0=2600.0, sx=0.1), holes=(hole,))
    assert gross_volume(roof) == pytest.approx(100.0 * 50.0 * 5.0 - 20.0 * 20.0 * 8.9, rel=1e-12)


def test_notches_and_holes_of_64_corners() -> None:
    disc = 32.0 * 30.0**2 * math.sin(2.0 * math.pi / 64.0)
    assert volume(holed_slat("C1-S05", LEVEL)) == pytest.approx((1000.0 * 88.9 - disc - 60.0 * 50.0) * 19.05, rel=1e-12)
    bite = 16.0 * 40.0**2 * math.sin(math.pi / 32.0)
    assert volume(notched_slat("C1-S04", LEVEL)) == pytest.approx(
        (1000.0 * 88.9 - bite - 50.0 * 28.9) * 19.05, rel=1e-12
    )


def test_pocket_of_the_rule() -> None:
    """A 3/8 in bore at 15 degrees that leaves the end grain 3/4 in from the face."""
    pocket = timber("X1-1").pockets[0]
    assert pocket.bore_length + pocket.pilot_length == pytest.approx(0.75 * INCH / math.sin(math.radians(15.0)))
    bore = math.pi * (0.1875 * INCH) ** 2 * pocket.bore_length
    assert pocket_volume(pocket) == pytest.approx(bore + math.pi * (0.075 * INCH) ** 2 * 30.0, rel=1e-13)


def test_all_pockets_of_a_sound_piece_are_drilled() -> None:
    piece = timber("X1-1")
    assert drilled(piece) == piece.pockets
    assert len(piece.pockets) == 6
    assert undrilled(piece) == ()
    assert volume(piece) == gross_volume(piece) - sum(pocket_volume(pocket) for pocket in piece.pockets)


def _moved(pocket: Pocket, *, x: float = 0.0, y: float = 0.0, z: float = 0.0) -> Pocket:
    mx, my, mz = pocket.mouth
    return replace(pocket, mouth=(mx + x, my + y, mz + z))


@pytest.mark.parametrize(
    ("what", "change"),
    [
        ("breaks out of the top", {"z": 27.0}),
        ("breaks out of the bottom", {"z": -151.0}),
        ("starts inside the wood", {"y": -1.0}),
        ("ends inside the wood", {"x": -5.0}),
        ("leaves past the end", {"x": 5.0}),
    ],
)
def test_a_pocket_that_does_not_fit_is_named_and_left_out(what: str, change: dict[str, float]) -> None:
    piece = timber("X1-1", origin=(0.0, 0.0), angle=0.0)
    bad = _moved(piece.pockets[3], **change)
    spoilt = replace(piece, pockets=(*piece.pockets[:3], bad, *piece.pockets[4:]))
    assert undrilled(spoilt) == (bad,), what
    left = sum(pocket_volume(pocket) for pocket in spoilt.pockets if pocket is not bad)
    assert volume(spoilt) == pytest.approx(gross_volume(spoilt) - left, rel=1e-15)


@pytest.mark.parametrize(("margin", "fits"), [(0.02, True), (-0.02, False)])
def test_a_shoulder_that_breaks_out_of_the_side_by_a_fiftieth_is_left_out(margin: float, fits: bool) -> None:
    piece = timber("X1-1", origin=(0.0, 0.0), angle=0.0)
    pocket = piece.pockets[3]
    least = pocket.bore / 2.0 / math.tan(math.radians(15.0))
    whole = pocket.bore_length + pocket.pilot_length
    bore_length = least + margin / math.sin(math.radians(15.0))
    short = replace(pocket, bore_length=bore_length, pilot_length=whole - bore_length)
    assert undrilled(replace(piece, pockets=(short,))) == (() if fits else (short,))


def test_of_two_that_meet_the_second_is_named() -> None:
    """In a piece 1 1/2 in wide both axes leave the end grain at the same point."""
    piece = timber("X1-1", width=38.1)
    assert [(pocket.end, pocket.side, pocket.level) for pocket in undrilled(piece)] == [
        (0, "right", "high"),
        (1, "right", "high"),
    ]


def test_a_pocket_drilled_twice_is_named_once() -> None:
    piece = timber("X1-1")
    twice = replace(piece, pockets=(piece.pockets[0], piece.pockets[0]))
    assert undrilled(twice) == (piece.pockets[0],)
    assert volume(twice) == pytest.approx(gross_volume(piece) - pocket_volume(piece.pockets[0]), rel=1e-15)


def test_mouths_that_overlap_are_named() -> None:
    """A piece so short that the mouths of both ends, 36.8 mm long each, run into each other."""
    short = timber("X1-1", length=170.0)
    assert undrilled(short)
    assert all(pocket.end == 1 for pocket in undrilled(short))


def test_a_pilot_as_wide_as_its_bore_has_no_shoulder() -> None:
    piece = timber("X1-1")
    bad = replace(piece.pockets[0], pilot=piece.pockets[0].bore)
    assert undrilled(replace(piece, pockets=(bad,))) == (bad,)


def test_a_bite_in_the_wood_that_the_hole_crosses() -> None:
    """The bore of a sound piece runs through a slot sawn in the other side's face."""
    piece = timber("X1-1", origin=(0.0, 0.0), angle=0.0)
    a, b, c, d = piece.outline
    slot = ((660.0, 44.45), (660.0, 30.0), (650.0, 30.0), (650.0, 44.45))
    slotted = replace(piece, outline=(a, b, c, *slot, d))
    names = [(pocket.end, pocket.side, pocket.level) for pocket in undrilled(slotted)]
    assert names == [(1, "left", "high"), (1, "left", "low")]


@given(
    angle=st.floats(0.0, 6.3),
    x=st.floats(-9000.0, 9000.0),
    y=st.floats(-9000.0, 9000.0),
    slope=st.tuples(st.floats(-0.2, 0.2), st.floats(-0.2, 0.2)),
)
def test_moving_a_part_keeps_its_volume(angle: float, x: float, y: float, slope: tuple[float, float]) -> None:
    ring = ((0.0, 0.0), (400.0, -30.0), (420.0, 90.0), (200.0, 40.0), (10.0, 80.0))
    bottom, rise = Plane(z0=0.0), Plane(z0=200.0, sx=slope[0], sy=slope[1])
    place = turned(ring, (x, y), angle)
    c, s = math.cos(angle), math.sin(angle)
    sx, sy = c * slope[0] - s * slope[1], s * slope[0] + c * slope[1]
    top = Plane(z0=200.0 - sx * x - sy * y, sx=sx, sy=sy)
    assert gross_volume(part("B", place, bottom, top)) == pytest.approx(
        gross_volume(part("A", ring, bottom, rise)), rel=1e-9
    )
