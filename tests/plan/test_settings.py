"""Saw settings: stops, fences, mitres."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lacunar.geometry import Line
from lacunar.plan import Setting, make_plan, opening
from plan.planning import INCH, config, mitred, part, parts

LIMIT = INCH / 64.0
WIDTH = 19.05


def _stops(found: tuple[Setting, ...]) -> list[tuple[str, float, tuple[str, ...]]]:
    return [(s.stock, round((s.stop or 0.0) / INCH, 6), s.parts) for s in found if s.stop is not None]


def _mitres(found: tuple[Setting, ...]) -> list[tuple[float, tuple[str, ...]]]:
    return [(s.mitre_deg, s.parts) for s in found if s.mitre_deg is not None]


def test_equal_lengths_share_a_stop_the_longest_first() -> None:
    wanted = parts([30.0 * INCH, 40.0 * INCH, 30.0 * INCH, 40.0 * INCH + 0.3])
    plan = make_plan(wanted, config())
    assert _stops(plan.settings) == [
        ("1x4", 40.0, ("C1-S002", "C1-S004")),
        ("1x4", 30.0, ("C1-S001", "C1-S003")),
    ]
    assert [s.id for s in plan.settings] == ["stop-1", "stop-2"]


def test_a_stop_is_on_the_mark_and_within_half_a_mark_of_its_parts() -> None:
    wanted = parts([1000.0 + 0.21 * k for k in range(60)])
    plan = make_plan(wanted, config())
    lengths = {p.id: p.length for p in wanted}
    mark = INCH / 16.0
    for setting in plan.settings:
        assert setting.stop is not None
        assert abs(setting.stop / mark - round(setting.stop / mark)) < 1e-9
        assert all(abs(lengths[name] - setting.stop) <= mark / 2.0 + 1e-9 for name in setting.parts)
    assert sorted(name for setting in plan.settings for name in setting.parts) == sorted(lengths)


def test_beams_and_trim_go_by_a_finer_mark() -> None:
    lengths = [30.0 * INCH, 30.02 * INCH]
    assert [s.stop for s in make_plan(parts(lengths), config()).settings] == [30.0 * INCH]
    beams = parts(lengths, prefix="X1-", kind="cross beam", stock="4x8")
    assert [s.stop for s in make_plan(beams, config()).settings] == pytest.approx([30.03125 * INCH, 30.0 * INCH])


def test_a_mark_outside_the_interval_is_no_stop() -> None:
    wanted = (part("C1-S01", 762.4, interval=(762.3, 762.5)),)
    plan = make_plan(wanted, config())
    # The first 1/64 in above its shortest; it is cut to measure.
    assert [s.stop for s in plan.settings] == [pytest.approx(1921.0 / 64.0 * INCH)]
    assert [s.apart for s in plan.settings] == [True]


def test_a_length_between_two_marks_is_cut_to_measure() -> None:
    """Where it was set or kept, too: a stump beside a lamp, say, that may be neither longer nor shorter."""
    parts = [
        part("C1-S01", 10.5 * INCH, interval=(10.5 * INCH, 10.5 * INCH)),
        part("C1-S02", 10.53 * INCH, interval=(10.53 * INCH, 10.53 * INCH)),
    ]
    stops = {s.parts: s.apart for s in make_plan(parts, config()).settings if s.stop is not None}
    assert stops == {("C1-S01",): False, ("C1-S02",): True}


def test_stocks_have_their_own_stops() -> None:
    wanted = (*parts([500.0]), *parts([500.0], prefix="C2-S", stock="1x6"))
    plan = make_plan(wanted, config(units="mm"))
    assert [(s.stock, s.stop, s.parts) for s in plan.settings] == [
        ("1x4", 500.0, ("C1-S001",)),
        ("1x6", 500.0, ("C2-S001",)),
    ]


def test_rips_share_a_fence_by_width() -> None:
    wanted = [
        part("C1-S01", 800.0, ripped=True, width=60.0),
        part("C1-S11", 800.0, ripped=True, width=60.1),
        part("C2-S11", 800.0, ripped=True, width=45.0),
        part("C3-S11", 800.0, ripped=True, width=45.0, width_end=49.0),
        part("C4-S01", 800.0),
    ]
    plan = make_plan(wanted, config(units="mm"))
    assert [(s.id, s.fence, s.parts) for s in plan.settings if s.fence is not None] == [
        ("fence-1", 60.0, ("C1-S01", "C1-S11")),
        ("fence-2", 49.0, ("C3-S11",)),
        ("fence-3", 45.0, ("C2-S11",)),
    ]
    assert [s.fence_end for s in plan.settings if s.fence is not None] == [None, 45.0, None]


@pytest.mark.parametrize(
    ("corner_deg", "mitre_deg", "per_inch"),
    # Flat trim at a corner of W degrees: mitre 90 - W / 2, and its opening per inch of width if cut at 45.
    # Source: geometry, from memory.
    [(88.0, 46.0, 0.0494), (89.0, 45.5, 0.0247), (91.0, 44.5, 0.0247), (92.0, 44.0, 0.0494), (93.5, 43.25, 0.0865)],
)
def test_opening_of_a_flat_mitre_cut_at_45(corner_deg: float, mitre_deg: float, per_inch: float) -> None:
    assert 90.0 - corner_deg / 2.0 == mitre_deg
    assert opening(INCH, 45.0, mitre_deg, 2) / INCH == pytest.approx(per_inch, abs=1e-4)


@given(st.floats(30.0, 60.0), st.floats(-3.0, 3.0), st.floats(5.0, 100.0))
def test_opening_is_what_two_strips_leave_between_them(true_deg: float, off: float, width: float) -> None:
    cut = math.radians(true_deg + off)
    # Strip 1 lies along +x with its inner edge on y = 0, strip 2 along the corner's other side; both are cut at `cut`
    # and meet at the inner corner. Their end faces, from there outwards:
    corner = math.pi - 2.0 * math.radians(true_deg)
    one = Line((0.0, 0.0), (-math.sin(cut), -math.cos(cut)))
    bisector = math.pi + corner / 2.0
    across = math.cos(2.0 * bisector), math.sin(2.0 * bisector)
    # Strip 2 is strip 1 mirrored in the bisector of the corner.
    two = Line(
        (0.0, 0.0),
        (
            across[0] * one.direction[0] + across[1] * one.direction[1],
            across[1] * one.direction[0] - across[0] * one.direction[1],
        ),
    )
    far = one.at(width / math.cos(cut))
    square = Line(far, one.left)
    gap = math.dist(far, square.crossing(two))
    assert opening(width, true_deg + off, true_deg, 2) == pytest.approx(gap, rel=1e-9, abs=1e-9)


def test_45_stays_where_the_joint_opens_a_64th() -> None:
    # w / cos 45 tan(2 d) = 1/64 in
    most = math.degrees(math.atan(LIMIT * math.cos(math.radians(45.0)) / WIDTH)) / 2.0
    inside, outside = 45.0 + most - 1e-4, 45.0 + most + 1e-4
    plan = make_plan((mitred("C1-T1", 900.0, (inside, 45.0 - most + 1e-4)),), config())
    assert _mitres(plan.settings) == [(45.0, ("C1-T1",))]
    plan = make_plan((mitred("C1-T1", 900.0, (outside, 45.0)),), config())
    own = [angle for angle, _ in _mitres(plan.settings)]
    assert len(own) == 2
    assert own[1] == 45.0
    assert opening(WIDTH, own[0], outside, 2) <= LIMIT


def test_ends_that_are_alike_share_an_angle_on_the_scale() -> None:
    wanted = (
        mitred("C1-T1", 900.0, (44.0, 46.05)),
        mitred("C1-T2", 900.0, (46.1, 44.1)),
        mitred("C1-T3", 900.0, (44.05, 45.0)),
    )
    plan = make_plan(wanted, config())
    found = _mitres(plan.settings)
    assert [names for _, names in found] == [("C1-T1", "C1-T2"), ("C1-T3",), ("C1-T1", "C1-T2", "C1-T3")]
    assert [round(angle, 1) == angle for angle, _ in found] == [True] * 3


@given(st.lists(st.tuples(st.floats(41.0, 49.0), st.floats(41.0, 49.0)), min_size=1, max_size=12))
@settings(max_examples=100, deadline=None)
def test_every_joint_closes_at_one_of_its_settings(angles: list[tuple[float, float]]) -> None:
    wanted = [mitred(f"C{i}-T1", 900.0, pair) for i, pair in enumerate(angles, 1)]
    plan = make_plan(wanted, config())
    for strip in wanted:
        own = [s.mitre_deg for s in plan.settings if strip.id in s.parts and s.mitre_deg is not None]
        for end in strip.ends:
            best = min(opening(WIDTH, angle, end.mitre_deg, 2) for angle in own)
            assert best <= LIMIT + 1e-6
            if opening(WIDTH, 45.0, end.mitre_deg, 2) <= LIMIT:
                assert 45.0 in own
    assert len({s.mitre_deg for s in plan.settings}) == len([s for s in plan.settings if s.stop is None]) + 1


def test_beams_leaning_ends_are_cut_so_and_square_ones_need_no_setting() -> None:
    ends = replace(mitred("X1-1", 900.0, (1.4, -0.02)), kind="cross beam", stock="4x8", width=88.9)
    other = replace(mitred("X1-2", 900.0, (-1.4, 0.0)), kind="cross beam", stock="4x8", width=88.9)
    plan = make_plan((ends, other), config())
    # tan(0.02 deg) over 3 1/2 in is 0.03 mm: square does.
    assert _mitres(plan.settings) == [(1.4, ("X1-1",)), (-1.4, ("X1-2",))]


def test_butted_trim_is_square() -> None:
    strip = mitred("C1-T1", 900.0, (0.3, -0.3))
    plan = make_plan((strip,), config(more='[trim]\ncorners = "butt"'))
    assert _mitres(plan.settings) == []
    mitres = _mitres(make_plan((mitred("C1-T1", 900.0, (-45.0, 45.0)),), config()).settings)
    assert mitres == [(45.0, ("C1-T1",)), (-45.0, ("C1-T1",))]
