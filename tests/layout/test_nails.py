"""Rule 12: nails and the joists that they catch (common practice, no source)."""

from dataclasses import replace

import pytest
from shapely import Polygon

from lacunar.geometry import Line
from lacunar.layout import Nailing, Slat
from lacunar.layout.nails import Bearer, nail_slat

INCH = 25.4
RULE = Nailing(per_joist=2, from_end=INCH, length=2.5 * INCH)


def joists(*at: float) -> tuple[Bearer, ...]:
    return tuple(Bearer(line=Line((x, 0.0), (0.0, 1.0)), width=1.5 * INCH) for x in at)


def strip(x: float, low: float, high: float) -> Bearer:
    """A strip of furring 2 1/2 in wide, from one height of the page to another."""
    half = 1.25 * INCH
    body = Polygon([(x - half, low), (x + half, low), (x + half, high), (x - half, high)])
    return Bearer(line=Line((x, 0.0), (0.0, 1.0)), width=2.0 * half, body=body)


def slat(width: float = 88.9, length: float = 1000.0) -> Slat:
    half = width / 2.0
    return Slat(
        id="C1-S01",
        kind="slat",
        coffer="C1",
        number=1,
        outline=((0.0, -half), (length, -half), (length, half), (0.0, half)),
        axis=((0.0, 0.0), (length, 0.0)),
        width=width,
        length=length,
        tight=length,
    )


def test_two_nails_on_each_joist_three_quarters_from_the_edges() -> None:
    nails, caught = nail_slat(slat(), joists(200.0, 606.4), RULE)
    assert caught == (0, 1)
    assert sorted(x for x, _ in nails) == pytest.approx([200.0, 200.0, 606.4, 606.4])
    assert sorted(y for _, y in nails) == pytest.approx([-25.4, -25.4, 25.4, 25.4])


def test_a_narrow_rip_takes_one_nail_on_its_middle() -> None:
    nails, _ = nail_slat(slat(width=1.99 * INCH), joists(200.0), RULE)
    assert nails == ((200.0, 0.0),)


def test_a_joist_at_the_very_end_is_caught_off_its_centre() -> None:
    # 10 mm from the end: the nail moves to 25.4, 15.4 off; the joist allows 19.05 - 9.525 = 9.525 only
    assert nail_slat(slat(), joists(10.0), RULE)[1] == ()
    # 16 mm: 9.4 off
    nails, caught = nail_slat(slat(), joists(16.0), RULE)
    assert caught == (0,)
    assert {x for x, _ in nails} == {25.4}


def test_joists_beside_the_slat_or_along_it_are_not_caught() -> None:
    assert nail_slat(slat(), joists(-100.0, 1100.0), RULE) == ((), ())
    along = Bearer(line=Line((0.0, 10.0), (1.0, 0.0)), width=38.1)
    assert nail_slat(slat(), (along,), RULE) == ((), ())


def test_a_stump_of_less_than_two_inches_takes_no_nail() -> None:
    assert nail_slat(slat(length=50.0), joists(25.0), RULE) == ((), ())


def test_a_strip_of_furring_is_caught_where_it_is_and_nowhere_else() -> None:
    # The slat's two rows stand at -25.4 and 25.4 across it.
    nails, caught = nail_slat(slat(), (strip(500.0, 26.0, 100.0), strip(200.0, -100.0, 100.0)), RULE)
    assert (caught, [round(y, 6) for _, y in nails]) == ((1,), [-25.4, 25.4])
    nails, caught = nail_slat(slat(), (strip(200.0, -100.0, 0.0),), RULE)
    assert (caught, [round(y, 6) for _, y in nails]) == ((0,), [-25.4])
    assert nail_slat(slat(), (strip(200.0, 26.0, 100.0),), RULE) == ((), ())


def test_a_nail_near_the_end_stays_three_eighths_inside_a_strip() -> None:
    # It may move 1 1/4 - 3/8 = 7/8 in along the slat, to an inch from its end.
    assert nail_slat(slat(), (strip(0.13 * INCH, -100.0, 100.0),), RULE)[0][0][0] == pytest.approx(INCH)
    assert nail_slat(slat(), (strip(0.12 * INCH, -100.0, 100.0),), RULE) == ((), ())


def test_a_nail_keeps_its_inch_from_an_end_that_may_still_be_cut_back() -> None:
    """8 mm may go off each end: the nail at 30 mm moves to 33.4; on a narrow joist as far as that lets it, 9.525 mm."""
    short = replace(slat(), interval=(984.0, 1004.0))
    for at, where in ((30.0, 33.4), (20.0, 29.525), (500.0, 500.0), (975.0, 966.6), (984.0, 974.475)):
        nails, caught = nail_slat(short, joists(at), RULE)
        assert caught == (0,)
        assert [x for x, _ in nails] == pytest.approx([where] * 2)
    # What is caught is what was caught before.
    assert nail_slat(short, joists(10.0), RULE)[1] == nail_slat(slat(), joists(10.0), RULE)[1] == ()


def test_a_slat_hardly_longer_than_its_nail_wants() -> None:
    """60 mm, of which 12 may go: an inch from both ends leaves no room, so the nail stays in the middle."""
    stump = replace(slat(length=60.0), interval=(48.0, 60.0))
    assert {x for x, _ in nail_slat(stump, joists(25.4), RULE)[0]} == {30.0}
