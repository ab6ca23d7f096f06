"""Lines of the cost: what is counted, whole packs, what is unsure."""

import math
from dataclasses import replace

import pytest

from cost.costing import BEAM, CONFIG_PRICES, DEPTH, WIDTH, Case, buy, item
from lacunar.cost.fasteners import nails_in
from lacunar.cost.packs import whole
from lacunar.materials import SPECIES
from samples import slat


@pytest.mark.parametrize(
    ("amount", "holds", "on_hand", "count"),
    [
        (0.0, 100.0, 0, 0),
        (1.0, 100.0, 0, 1),
        (100.0, 100.0, 0, 1),
        (101.0, 100.0, 0, 2),
        (0.1 + 0.2, 0.1, 0, 3),  # 0.30000000000000004: the last digit buys no fourth can
        (250.0, 100.0, 2, 1),
        (250.0, 100.0, 5, 0),
    ],
)
def test_whole_packs(amount: float, holds: float, on_hand: int, count: int) -> None:
    assert whole(amount, holds, on_hand) == count


@pytest.mark.parametrize(
    ("length", "nails"),
    [
        (50.0, 1),  # no room for two, an inch from each end
        (50.8 + 300.0, 2),
        (50.8 + 301.0, 3),
        (50.8 + 900.0, 4),
        (20.0, 1),
    ],
)
def test_nails_in_a_strip(length: float, nails: int) -> None:
    assert nails_in(length, 300.0) == nails


def test_fasteners_are_counted_from_the_parts() -> None:
    case = Case(BEAM.format(keep="true") + "[cross_beams]\nwidth = 100\ndepth = 140\nrows = 1\n")
    cost = case.cost()
    nails = sum(len(part.nails) for part in case.parts)
    pieces = sum(part.kind == "cross beam" for part in case.parts)
    assert pieces == 2
    assert item(cost, "slat nail").need == nails > 0
    assert item(cost, "pocket screw").need == pieces * 2 * 3  # two high, one low at each end
    assert item(cost, "plug").need == pieces * 2
    strips = [part.length for part in case.parts if part.kind == "trim"]
    assert item(cost, "adhesive").need == pytest.approx(math.fsum(strips))
    trim = sum(math.ceil((length - 50.8) / 300.0) + 1 for length in strips)
    assert item(cost, "trim nail").need == trim
    assert item(cost, "putty").need == nails + trim


def test_what_a_ceiling_does_not_take_is_not_bought() -> None:
    names = [one.name for one in Case("[fasteners]\ntrim = { adhesive = false }\n").cost().items]
    assert "pocket screw" not in names
    assert "plug" not in names
    assert "adhesive" not in names


def test_a_share_is_bought_on_top_and_packs_on_hand_are_not() -> None:
    part = replace(slat(), nails=((100.0, 0.0),) * 95)
    pack = '[fasteners]\nspare = 0.10\n[[shop.pack]]\nname = "slat nail"\nholds = 50\nprice = 4\non_hand = 1\n'
    nails = item(Case(pack).cost(parts=(part,)), "slat nail")
    assert (nails.need, nails.holds) == (95, 50)
    assert nails.count == 2  # 104.5 is 105 nails, three boxes, one is there
    assert (nails.total, nails.low, nails.high, nails.unsure) == (8.0, 8.0, 8.0, "")


def test_a_box_of_unknown_content_holds_a_quarter_more_or_less() -> None:
    """1000 are taken; 3000 nails and a tenth on top: 3300 / 1250, / 1000, / 750."""
    part = replace(slat(), nails=((100.0, 0.0),) * 3000)
    nails = item(Case('[[shop.pack]]\nname = "slat nail"\nprice = 10\n').cost(parts=(part,)), "slat nail")
    assert (nails.low, nails.total, nails.high) == (30.0, 40.0, 50.0)
    assert nails.unsure == "what a pack holds is not given: 1000 are taken"


def test_coats_out_of_one_can_are_rounded_up_once() -> None:
    """Two coats on 1 m2 at 10 m2/l take 0.2 l; a can of a quarter litre does for both."""
    can = '{ kind = "clear", holds = "0.25 l", coverage = "10 m2/l", price = 9 }'
    finish = f'[finish]\ncoats = [ {can}, {{ kind = "clear" }} ]\n'
    block = replace(
        slat(), outline=((0.0, 0.0), (1000.0, 0.0), (1000.0, 480.0), (0.0, 480.0))
    )  # 2 (0.48 + 0.02 + 0.0096) m2
    (clear,) = [one for one in Case(finish).cost(parts=(block,)).items if one.group == "finish"]
    assert clear.need == pytest.approx(2 * 1.0192)
    assert (clear.count, clear.total, clear.unsure) == (1, 9.0, "")
    assert clear.what == "all sides, 2 coats"


def test_gallons_and_square_feet() -> None:
    """12 m2 twice at 400 sq ft (37.161216 m2) to the gallon: one gallon, or three quarts."""
    can = '[finish]\nbehind = "black"\n[[shop.pack]]\nname = "behind paint"\ncoverage = "400 sq ft/gal"\nprice = 30\n'
    paint = item(Case(can + 'holds = "1 gal"\n').cost(), "behind paint")
    assert paint.holds == pytest.approx(37.161216)
    assert (paint.count, paint.total) == (1, 30.0)
    assert item(Case(can + 'holds = "1 qt"\n').cost(), "behind paint").count == 3


def test_in_place_means_tape_and_walls() -> None:
    coats = '[finish]\nwhen = "after"\ncoats = [ { kind = "clear" } ]\n'
    cost = Case(coats).cost()
    assert item(cost, "masking tape").need == pytest.approx(2 * (WIDTH + DEPTH))
    assert item(cost, "wall paint").need == pytest.approx(2 * (WIDTH + DEPTH) * 2500.0 * 1e-6)
    before = Case(coats.replace("after", "before")).cost()
    assert {one.name for one in before.items if one.group == "finish"} == {"clear"}
    assert item(before, "clear").need > item(cost, "clear").need


def test_boards_on_hand_cost_nothing() -> None:
    own = CONFIG_PRICES.replace("price = 8\n", "price = 8\non_hand = 500\n")
    cost = Case(own).cost()
    assert not [one for one in cost.items if one.name == "20x90"]
    assert cost.of("boards") == pytest.approx(sum(one.count for one in cost.items if one.name == "20x20") * 3.0)


def test_the_cull_that_nobody_gave() -> None:
    """Of 30 boards 2, 3 or 5 on top at 5, 10 and 15 in a hundred, rounded up."""
    (boards,) = [one for one in Case().cost(buy=(buy(30, 3, 10.0),)).items if one.group == "boards"]
    assert (boards.low, boards.total, boards.high) == (320.0, 330.0, 350.0)
    given = Case("[shop]\ncull = 0.10\n").cost(buy=(buy(30, 3, 10.0),))
    (boards,) = [one for one in given.items if one.group == "boards"]
    assert (boards.low, boards.total, boards.high, boards.unsure) == (330.0, 330.0, 330.0, "")


def test_the_load() -> None:
    """Ten boards of 20 x 90 x 4200 mm, of pine at 12 % moisture; a car that takes 20 kg goes twice."""
    load = Case('[shop]\nheaviest = "20 kg"\n').cost(buy=(buy(9, 1, None),)).load
    pine = SPECIES["eastern white pine"].density
    assert load.mass_kg == pytest.approx(10 * 0.02 * 0.09 * 4.2 * pine)
    assert (load.boards, load.longest, load.too_long, load.loads) == (10, 4200.0, 0, math.ceil(load.mass_kg / 20.0))
    long = Case("[shop]\nlongest = 4000\n").cost(buy=(buy(9, 1, None), buy(2, 0, None, length=3900.0))).load
    assert (long.too_long, long.boards) == (10, 12)
    assert Case().cost(buy=(buy(1, 0, None, stock="odd"),)).load.unknown == 1
