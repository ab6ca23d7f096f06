"""Furring in the cost: boards, screws, nails and paint."""

import math

import pytest

from cost.costing import CONFIG_PRICES, DEPTH, WIDTH, Case, item
from lacunar.cost.surfaces import M2, behind_surface, surface_before, whole_surface

JOISTS = '[framing]\njoists = {{ along = "{}", first = 200, spacing = 400 }}\n'
BOARD = '[[shop.board]]\nstock = "1x3"\nlength = 4200\nprice = 2\n'
SCREWS = '[[shop.pack]]\nname = "furring screw"\nholds = 200\nprice = 9\n'


def furred() -> Case:
    """Slats run along AB in a room without beams, and so do the joists."""
    return Case(JOISTS.format("AB") + '[furring]\nstock = "1x3"\n' + CONFIG_PRICES + BOARD + SCREWS)


def test_furring_is_bought_and_its_screws_are_counted() -> None:
    case = furred()
    strips = [part for part in case.parts if part.kind == "furring"]
    joists = len(case.layout.joists.lines)
    cost = case.cost()
    # Two screws in each strip at each joist that has an inch of strip on both sides.
    assert len(strips) > 5
    assert item(cost, "furring screw").need == sum(len(part.joists) * 2 for part in strips)
    assert {len(part.joists) for part in strips} <= {joists, joists - 1, joists - 2}
    assert item(cost, "furring screw").price == 9.0
    boards = item(cost, "1x3")
    assert boards.need * 4200.0 > math.fsum(part.length for part in strips)
    assert boards.total == 2.0 * boards.count
    # Slats' nails alone are slat nails, and leave holes to fill.
    slats = [part for part in case.parts if part.kind == "slat"]
    assert item(cost, "slat nail").need == sum(len(part.nails) for part in slats)
    assert item(cost, "putty").need == item(cost, "slat nail").need + item(cost, "trim nail").need


def test_the_nail_that_is_bought_is_the_one_that_stays_in_the_furring() -> None:
    """Slats 20 thick and furring 19.05: 38 mm."""
    assert item(furred().cost(), "slat nail").what.endswith("38 mm")
    assert item(Case(JOISTS.format("BC")).cost(), "slat nail").what.endswith("64 mm")


def test_why_there_is_furring_is_said_and_no_more() -> None:
    notes = furred().cost().notes
    assert [note for note in notes if "furring" in note] == [
        "furring is counted: the slats of every coffer run along the joists"
    ]
    asked = Case(JOISTS.format("AB") + "[furring]\nuse = true\n").cost().notes
    assert not [note for note in asked if "furring" in note]


def test_the_paint_behind_the_gaps_goes_on_the_furring_too() -> None:
    """Undersides take the place of the ceiling that they cover; edges and ends are more."""
    case = furred()
    strips = [part for part in case.parts if part.kind == "furring"]
    thick = 0.75 * 25.4
    edges = sum(2.0 * (part.length + 2.5 * 25.4) * thick for part in strips)
    assert behind_surface(case.room, case.layout, case.parts) == pytest.approx((WIDTH * DEPTH + edges) * M2)
    wood = sum(whole_surface(part) for part in case.parts if part.kind in ("slat", "trim"))
    assert surface_before(case.layout, case.parts) == pytest.approx(wood)
