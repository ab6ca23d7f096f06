"""Rules 6 and 7 as arithmetic. Every expected number is worked out in the row's comment, in inches."""

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from lacunar.layout.fill import FAN_LIMIT, Rule, fill
from lacunar.units import INCH


def rule(
    *,
    width: float = 3.5,
    gap: float = 0.25,
    edge_gap: float = 0.25,
    least_edge_gap: float = 1 / 16,
    narrowest_rip: float = 1.75,
    kerf: float = 0.125,
    hidden: float = 0.5,
    wedge: str = "auto",
    centred: bool = False,
) -> Rule:
    return Rule(
        width=width * INCH,
        gap=gap * INCH,
        edge_gap=edge_gap * INCH,
        least_edge_gap=least_edge_gap * INCH,
        narrowest_rip=narrowest_rip * INCH,
        kerf=kerf * INCH,
        hidden=hidden * INCH,
        wedge=wedge,
        centred=centred,
    )


# clear, widths, edge gaps; w 3 1/2, g 1/4, e 1/4: pitch 3 3/4, ten slats with nine gaps take 37 1/4
EVEN = [
    # 37 3/4 - 1/2 = 37 1/4: ten fit exactly, nothing is left
    pytest.param(37.75, [3.5] * 10, (0.25, 0.25), id="exact fit"),
    # 1/8 more: last = 37 3/8 - 37 1/2 = -1/8, what is left is 1/8: half to each edge gap
    pytest.param(37.875, [3.5] * 10, (0.3125, 0.3125), id="an eighth over goes to the edge gaps"),
    # 1/4 more: last = 0 exactly: still no last slat, 1/4 to share
    pytest.param(38.0, [3.5] * 10, (0.375, 0.375), id="last slat of no width"),
    # last = 1/2: a sliver; one full slat less and two rips of (3 1/2 + 1/2) / 2 = 2
    pytest.param(38.5, [2.0, *[3.5] * 9, 2.0], (0.25, 0.25), id="sliver"),
    # last = 1 11/16 is just too narrow: rips of 2 19/32
    pytest.param(39.6875, [2.59375, *[3.5] * 9, 2.59375], (0.25, 0.25), id="just under half a board"),
    # last = 1 3/4 is allowed
    pytest.param(39.75, [*[3.5] * 10, 1.75], (0.25, 0.25), id="half a board"),
    # last = 3: ripped
    pytest.param(41.0, [*[3.5] * 10, 3.0], (0.25, 0.25), id="three inches"),
    # last = 3 1/4 is 1/4 short, more than kerf + 1/16 = 3/16: ripped
    pytest.param(41.25, [*[3.5] * 10, 3.25], (0.25, 0.25), id="a quarter short is ripped"),
    # last = 3 5/16 is 3/16 short: a full slat, 3/32 out of each edge gap
    pytest.param(41.3125, [3.5] * 11, (0.15625, 0.15625), id="nearly full"),
    # last = 3 7/16 is 1/16 short: 1/32 out of each
    pytest.param(41.4375, [3.5] * 11, (0.21875, 0.21875), id="a sixteenth short"),
    # two inches clear: no full slat fits, one rip of 1 1/2
    pytest.param(2.0, [1.5], (0.25, 0.25), id="one narrow slat"),
    # one full slat and no more
    pytest.param(4.0, [3.5], (0.25, 0.25), id="one full slat"),
    # one slat and a sliver of 1: two rips of 2 1/4
    pytest.param(5.25, [2.25, 2.25], (0.25, 0.25), id="one and a sliver"),
]


@pytest.mark.parametrize(("clear", "widths", "edge_gaps"), EVEN)
def test_rule_6(clear: float, widths: list[float], edge_gaps: tuple[float, float]) -> None:
    filling = fill(clear * INCH, 0.0, rule())
    assert [w / INCH for w in filling.widths] == pytest.approx(widths, abs=1e-9)
    assert [e / INCH for e in filling.edge_gaps] == pytest.approx(edge_gaps, abs=1e-9)
    assert filling.wedge == "none"


def test_nearly_full_without_room_in_the_edge_gaps_makes_two_rips() -> None:
    # edge gap 1/8, least 1/16: 3/16 short would leave 1/32; rips of (3 1/2 + 3 5/16) / 2 = 3 13/32
    filling = fill((11 * 3.5 + 10 * 0.25 - 3 / 16 + 0.25) * INCH, 0.0, rule(edge_gap=0.125))
    assert [w / INCH for w in filling.widths] == pytest.approx([3.40625, *[3.5] * 9, 3.40625], abs=1e-9)
    assert filling.edge_gaps == pytest.approx((0.125 * INCH, 0.125 * INCH))


def test_edge_gap_of_nothing_is_never_eaten() -> None:
    # least_edge_gap above edge_gap does not count: min(0, 1/16) = 0, and 1/16 short would make it negative
    filling = fill((11 * 3.5 + 10 * 0.25 - 1 / 16) * INCH, 0.0, rule(edge_gap=0.0))
    assert filling.widths[0] == pytest.approx((3.5 - 1 / 32) * INCH)
    assert filling.edge_gaps == (0.0, 0.0)


def test_ten_full_and_one_ripped() -> None:
    # 40 1/2 clear: 40 less ten pitches of 3 3/4 is 2 1/2
    filling = fill(40.5 * INCH, 0.0, rule())
    assert filling.n_full == 10
    assert [w / INCH for w, r in zip(filling.widths, filling.ripped, strict=True) if r] == pytest.approx([2.5])


CENTRED = [
    # 40 between; n full, rips (40 - (n + 1) / 4 - 3 1/2 n) / 2: n = 9 gives 3; n = 10 gives 1 1/8, too narrow
    pytest.param(40.5, 9, 3.0, id="nine full"),
    # 37 1/4 between: n = 9 gives 1 5/8, too narrow; n = 8 gives 3 1/2: rips as wide as a board
    pytest.param(37.75, 8, 3.5, id="rips of a full board"),
    # 37 1/2 between: n = 9 gives 1 3/4
    pytest.param(38.0, 9, 1.75, id="narrowest rips"),
]


@pytest.mark.parametrize(("clear", "full", "rip"), CENTRED)
def test_centred(clear: float, full: int, rip: float) -> None:
    filling = fill(clear * INCH, 0.0, rule(centred=True))
    assert len(filling.widths) == full + 2
    assert filling.widths[0] == filling.widths[-1] == pytest.approx(rip * INCH, abs=1e-9)


# clear 40 1/2 (ten full, one of 2 1/2, ten gaps), trim hides 1/2 past an edge gap of 1/4: 1/4 may be left
WEDGES = [
    pytest.param(0.25, "leave", 0.25, 2.5, 0.5, id="left in the last edge gap"),
    pytest.param(0.2501, "fan", 0.27501, 2.5, 0.25, id="just too much to leave"),
    pytest.param(1.0, "fan", 0.35, 2.5, 0.25, id="an inch over ten gaps"),
    pytest.param(1.0, "taper", 0.25, 3.5, 0.25, id="an inch over forced"),
]


@pytest.mark.parametrize(("change", "wedge", "gap_end", "last_end", "edge_end"), WEDGES)
def test_rule_7(change: float, wedge: str, gap_end: float, last_end: float, edge_end: float) -> None:
    forced = wedge if wedge == "taper" else "auto"
    filling = fill(40.5 * INCH, change * INCH, rule(wedge=forced))
    assert filling.wedge == wedge
    assert filling.gap_end == pytest.approx(gap_end * INCH, abs=1e-9)
    assert filling.widths_end[-1] == pytest.approx(last_end * INCH, abs=1e-9)
    assert filling.edge_gap_end == pytest.approx(edge_end * INCH, abs=1e-9)


def test_more_than_an_eighth_a_gap_is_tapered_over_as_few_slats_as_take_it() -> None:
    # 1 1/2 over: 2 1/2 would become 4, wider than the board; two rips of (3 1/2 + 2 1/2) / 2 = 3 would become 3 3/4;
    # three of (40 - 9 x 3 3/4 - 1/2) / 3 = 1 11/12 become 2 5/12
    filling = fill(40.5 * INCH, 1.5 * INCH, rule())
    assert filling.wedge == "taper"
    assert [w / INCH for w in filling.widths] == pytest.approx([23 / 12, *[3.5] * 9, 23 / 12, 23 / 12])
    assert [w / INCH for w in filling.widths_end] == pytest.approx([29 / 12, *[3.5] * 9, 29 / 12, 29 / 12])


def test_two_rips_both_taper() -> None:
    # 38 1/2 clear: two rips of 2; 1 1/2 over: both grow to 2 3/4
    filling = fill(38.5 * INCH, 1.5 * INCH, rule())
    assert filling.widths_end[0] == filling.widths_end[-1] == pytest.approx(2.75 * INCH)


def test_forced_leave_leaves_whatever_it_is() -> None:
    filling = fill(40.5 * INCH, 2.0 * INCH, rule(wedge="leave"))
    assert filling.edge_gap_end == pytest.approx(2.25 * INCH)


@given(
    clear=st.floats(2.0 * INCH, 200.0 * INCH),
    change=st.one_of(st.just(0.0), st.floats(0.0, 3.0 * INCH)),
    width=st.floats(1.5, 9.25),
    gap=st.floats(0.0, 1.0),
    edge_gap=st.floats(0.0, 0.5),
    centred=st.booleans(),
)
@example(clear=(11 * 3.5 + 10 * 0.25 + 0.5) * INCH, change=0.0, width=3.5, gap=0.25, edge_gap=0.25, centred=False)
def test_slats_and_gaps_make_the_coffer(
    clear: float, change: float, width: float, gap: float, edge_gap: float, centred: bool
) -> None:
    r = rule(width=width, gap=gap, edge_gap=edge_gap, narrowest_rip=width / 2, centred=centred)
    if clear <= 2 * edge_gap * INCH + 1.0:
        return
    f = fill(clear, change, r)
    gaps = len(f.widths) - 1
    assert sum(f.widths) + gaps * f.gap + sum(f.edge_gaps) == pytest.approx(clear, abs=1e-6)
    wide = sum(f.widths_end) + gaps * f.gap_end + f.edge_gaps[0] + f.edge_gap_end
    assert wide == pytest.approx(clear + change, abs=1e-6)
    assert all(w <= r.width + 1e-6 for w in (*f.widths, *f.widths_end))
    assert all(w == pytest.approx(r.width) for w, ripped in zip(f.widths, f.ripped, strict=True) if not ripped)
    if len(f.widths) > 2:
        assert all(w >= r.narrowest_rip - 1e-6 for w in f.widths)
    if f.wedge == "fan":
        assert math.isclose(f.gap_end - f.gap, change / gaps, abs_tol=1e-9)
        assert f.gap_end - f.gap <= FAN_LIMIT + 1e-6
