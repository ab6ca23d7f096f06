"""Which parts share a shape, and where each stands."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacunar.geometry import Plane, Point, Point3
from lacunar.parts import Part, rings
from lacunar.solids import Placement, share_shapes
from solids.sample_parts import (
    INCH,
    LEVEL,
    every_shape,
    holed_slat,
    notched_slat,
    part,
    slat,
    timber,
    trim,
    turned,
)


def back(placement: Placement, point: Point3) -> Point3:
    """A point of the frame in the room, written out."""
    (c, s), (x, y, z) = placement.direction, placement.origin
    return (x + c * point[0] - s * point[1], y + s * point[0] + c * point[1], z + point[2])


def n_shapes(*parts: Part) -> int:
    return len(share_shapes([replace(one, id=f"P{number}") for number, one in enumerate(parts)]).patterns)


@pytest.mark.parametrize("sample", every_shape(), ids=lambda sample: sample.id)
def test_a_pattern_put_in_its_place_is_the_part(sample: Part) -> None:
    sharing = share_shapes([sample])
    placement = sharing.placed[sample.id].placement
    pattern = sharing.patterns[0]
    assert math.hypot(*placement.direction) == pytest.approx(1.0, abs=1e-15)
    for found, expected in zip(rings(pattern), rings(sample), strict=True):
        for a, b in zip(found, expected, strict=True):
            assert math.dist(back(placement, a), b) < 1e-9
    for a, b in zip(pattern.pockets, sample.pockets, strict=True):
        assert math.dist(back(placement, a.mouth), b.mouth) < 1e-9
        tip = back(placement, (a.mouth[0] + a.direction[0], a.mouth[1] + a.direction[1], a.mouth[2] + a.direction[2]))
        assert math.dist(tip, tuple(m + d for m, d in zip(b.mouth, b.direction, strict=True))) < 1e-9


@given(
    angle=st.floats(-3.2, 3.2),
    origin=st.tuples(st.floats(-2e4, 2e4), st.floats(-2e4, 2e4)),
    rise=st.floats(-500.0, 500.0),
)
def test_a_shift_and_a_turn_about_the_plumb_line_keep_the_shape(angle: float, origin: Point, rise: float) -> None:
    moved = slat("P", origin=origin, angle=angle, bottom=LEVEL.lifted(rise))
    assert n_shapes(slat("P"), moved) == 1


def test_half_of_a_64th_of_an_inch_is_shared_too() -> None:
    """Numbers that fall midway between two cells: the noise of a turn must not send alike parts to both."""
    angles = [0.1 * k for k in range(60)]
    parts = [slat("P", length=9.0 * INCH + INCH / 128.0, width=INCH / 64.0 + INCH, angle=angle) for angle in angles]
    assert n_shapes(*parts) == 1


def test_every_shape_is_its_own() -> None:
    assert n_shapes(*every_shape()) == len(every_shape())


def test_a_strip_turned_end_for_end_is_the_same() -> None:
    """The axis starts at the end nearer the first corner, so opposite strips are drawn the other way round."""
    strip = trim("C1-T1")
    opposite = trim("C1-T3", origin=(900.0, 900.0), angle=math.pi)
    opposite = replace(opposite, axis=(opposite.axis[1], opposite.axis[0]))
    assert n_shapes(strip, opposite) == 1


def test_a_ring_that_starts_at_another_corner_is_the_same() -> None:
    one = holed_slat("P")
    other = replace(
        one,
        outline=one.outline[2:] + one.outline[:2],
        holes=(one.holes[1][3:] + one.holes[1][:3], one.holes[0]),
    )
    assert n_shapes(one, other) == 1


@pytest.mark.parametrize(
    "other",
    [
        replace(slat("P"), kind="trim"),
        replace(slat("P"), stock="1x3"),
        replace(slat("P"), species="red oak"),
        slat("P", length=1000.00001),
        slat("P", bottom=Plane(z0=2600.0, sx=1e-7)),
        replace(slat("P"), top=LEVEL.lifted(19.05001)),
    ],
    ids=["kind", "stock", "species", "length", "slope", "thickness"],
)
def test_what_keeps_parts_apart(other: Part) -> None:
    assert n_shapes(slat("P"), other) == 2


def test_a_mirror_image_is_another_shape() -> None:
    strip = trim("P")
    mirrored = tuple((-x, y) for x, y in reversed(strip.outline))
    assert n_shapes(strip, part("Q", mirrored, strip.bottom, strip.top, kind="trim", stock="1x2")) == 2


def test_pockets_keep_parts_apart() -> None:
    piece = timber("X1-1")
    assert n_shapes(piece, timber("X1-2", origin=(5000.0, 100.0), angle=0.4)) == 2, "its top slopes otherwise there"
    level = replace(piece, top=Plane(z0=2575.0), bottom=Plane(z0=2390.0))
    assert n_shapes(level, replace(level, pockets=level.pockets[:5])) == 2
    assert n_shapes(level, replace(level, pockets=level.pockets[::-1])) == 1


def test_corners_alike_but_not_the_volume() -> None:
    """Two shavings 0.01 mm thick whose thickness differs by less than a corner may, and by 1 in 1e5."""
    one = replace(slat("P"), top=LEVEL.lifted(0.0100004))
    assert n_shapes(one, replace(one, top=LEVEL.lifted(0.0100005))) == 2


def test_numbers_of_patterns_follow_the_parts() -> None:
    parts = [slat("A"), notched_slat("B"), slat("C", origin=(70.0, 70.0), angle=1.0)]
    sharing = share_shapes(parts)
    assert [sharing.placed[name].pattern for name in "ABC"] == [0, 1, 0]
    assert [pattern.id for pattern in sharing.patterns] == ["A", "B"]
    assert turned(sharing.patterns[0].outline, (0.0, 0.0), 0.0)[0] == pytest.approx((0.0, -44.45))
