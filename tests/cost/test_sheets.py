"""Sheet goods: closed form counts, rectangles against brute force, the range, what the car carries, what is said."""

import math
from collections.abc import Iterator, Sequence
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon

from cost.costing import BEAM, DEPTH, WIDTH, Case, buy, item
from lacunar.cost import Cost, SheetLoad
from lacunar.cost.sheet_cuts import Sides, around, cut_sheets, per_sheet

M2 = 1e-6
SHEET = WIDTH * DEPTH / 3_125_000.0
"""Sheets of 2500 x 1250 mm that the room's area makes: 3.84."""

TWO_COFFERS = BEAM.format(keep="true")
"""1950 mm wide both, 3000 mm deep."""


def sheets(rest: str, more: str = "") -> Cost:
    return Case(f'{more}[[shop.sheet]]\nname = "ply"\n{rest}\n').cost()


@pytest.mark.parametrize(
    ("rest", "count"),
    [
        ('covers = "floor"', math.ceil(1.1 * SHEET)),  # 4.22
        ('covers = "floor"\nspare = 0', math.ceil(SHEET)),
        ('covers = "floor"\nspare = 0\nwidth = 1000\nlength = 2000', 6),  # exactly six: nothing of a seventh
        ('covers = "ceiling"\nspare = 0.5', math.ceil(1.5 * SHEET)),
        ('covers = "coffers"\nspare = 0.5', math.ceil(1.5 * SHEET)),  # the only coffer is larger than a sheet
        ('covers = "coffers"\nlength = 4000\nwidth = 3000', 1),
        ('covers = "coffers"\nlength = 3000\nwidth = 4000', 1),
        ('covers = "floor"\non_hand = 2', 3),
        ('covers = "floor"\non_hand = 9', 0),
        ("count = 3", 3),
        ("count = 3\non_hand = 1", 2),
    ],
)
def test_how_many(rest: str, count: int) -> None:
    assert item(sheets(f"{rest}\nprice = 7"), "ply").count == count
    assert item(sheets(f"{rest}\nprice = 7"), "ply").total == 7.0 * count


def test_coffers_count_without_the_beam_between_them() -> None:
    cost = sheets('covers = "coffers"\nlength = 500\nwidth = 500\nspare = 0', TWO_COFFERS)
    ply = item(cost, "ply")
    assert ply.need == pytest.approx(2 * 1950 * 3000 * M2)
    assert (ply.count, ply.unit, ply.holds) == (math.ceil(2 * 1950 * 3000 / 250_000), "m2", 0.25)
    assert item(sheets('covers = "floor"', TWO_COFFERS), "ply").need == pytest.approx(12.0)
    assert item(sheets('covers = "ceiling"', TWO_COFFERS), "ply").need == pytest.approx(12.0)


def test_a_piece_for_each_coffer_or_by_area() -> None:
    """A sheet of 4 x 3 m gives two pieces of 1.95 x 3 m, one of 3.2 x 2 m one, one of 2.9 m none."""
    uses = {
        (4000, 3000): (1, "in the coffers, a piece for each coffer"),
        (3200, 2000): (2, "in the coffers, a piece for each coffer"),
        (2900, 2000): (3, "in the coffers, by area: every coffer is larger than a sheet"),  # 1.1 x 11.7 / 5.8
        (2900, 2900): (2, "in the coffers, by area: every coffer is larger than a sheet"),  # 1.1 x 11.7 / 8.41
    }
    for (length, width), (count, use) in uses.items():
        ply = item(sheets(f'covers = "coffers"\nlength = {length}\nwidth = {width}', TWO_COFFERS), "ply")
        assert (ply.count, ply.what) == (count, f"{length} mm x {width} mm, {use}")


def test_small_and_large_coffers() -> None:
    """Beside a beam at 1 m lie 1 x 3 m, a piece of a sheet of 3.2 x 1.25 m, and 2.9 x 3 m, by area."""
    more = TWO_COFFERS.replace("1950", "1000")
    ply = item(sheets('covers = "coffers"\nlength = 3200', more), "ply")
    assert ply.count == 1 + math.ceil(1.1 * 2900 * 3000 / (3200 * 1250))
    assert ply.what == "3200 mm x 1250 mm, in the coffers, a piece for each of 1, by area for 1 larger than a sheet"
    assert ply.need == pytest.approx(3900 * 3000 * M2)
    assert ply.unsure


def test_what_whole_pieces_cost_more_than_joints_is_said() -> None:
    """A sheet of 3.8 x 3.6 m gives one piece of 1.95 x 3 m; of 13.68 m2, one is 1.1 x 11.7 m2."""
    wide = 'covers = "coffers"\nlength = 3800\nwidth = 3600'
    assert item(sheets(wide, TWO_COFFERS), "ply").what.endswith("a piece for each coffer (about 1 with joints)")


def test_a_spare_that_nobody_gave_makes_the_range() -> None:
    """12 m2 in sheets of 0.5 m2: 24 at best, 26.4 as taken, 28.8 at worst; what is there is taken off each."""
    rest = 'covers = "floor"\nlength = 1000\nwidth = 500\nprice = 2'
    cost = sheets(rest)
    ply = item(cost, "ply")
    assert (ply.low, ply.total, ply.high) == (48.0, 54.0, 58.0)
    assert ply.unsure == "spare is not given: 10% is taken for what is cut off"
    assert [(mover.what, mover.low, mover.high) for mover in cost.movers] == [("ply", -6.0, 4.0)]
    there = item(sheets(f"{rest}\non_hand = 26"), "ply")
    assert (there.low, there.total, there.high) == (0.0, 2.0, 6.0)
    sure = sheets(f"{rest}\nspare = 0.1")
    assert (item(sure, "ply").total, item(sure, "ply").unsure, sure.movers) == (54.0, "", ())
    assert item(sheets("count = 5\nprice = 2"), "ply").unsure == ""


def test_whole_pieces_leave_nothing_unsure() -> None:
    assert sheets('covers = "coffers"\nlength = 4000\nwidth = 3000\nprice = 9').movers == ()


def test_sheets_are_taxed_and_stand_between_boards_and_fasteners() -> None:
    shares = "[shop]\ntax = 0.10\ncontingency = 0.50\ncull = 0\n"
    case = Case(f'{shares}[[shop.sheet]]\nname = "ply"\ncount = 4\nprice = 25\n')
    cost = case.cost(parts=(), buy=(buy(1, 0, 50.0),))
    assert cost.of("sheets") == 100.0
    assert (cost.goods, cost.tax, cost.contingency) == pytest.approx((150.0, 15.0, 82.5))
    assert list(dict.fromkeys(one.group for one in case.cost().items)) == ["boards", "sheets", "fasteners"]


def test_a_sheet_without_a_price_is_lacking() -> None:
    assert "ply" in sheets("count = 4").lacking
    assert "ply" not in sheets("count = 4\non_hand = 4").lacking


def test_the_car() -> None:
    case = Case(
        "[shop]\nlongest = 2600\n"
        '[[shop.sheet]]\nname = "ply"\ncount = 4\non_hand = 1\nmass = "10 kg"\n'
        '[[shop.sheet]]\nname = "wide"\ncount = 2\nlength = 1000\nwidth = 2700\n'
        '[[shop.sheet]]\nname = "there"\ncount = 2\non_hand = 2\nlength = 5000\n'
    )
    load = case.cost(parts=(), buy=()).load
    assert load.sheets == (
        SheetLoad(name="ply", count=3, length=2500.0, width=1250.0),
        SheetLoad(name="wide", count=2, length=1000.0, width=2700.0),
    )
    assert (load.mass_kg, load.unknown, load.too_long, load.boards, load.longest) == (30.0, 2, 2, 0, 0.0)
    boards = case.cost(parts=(), buy=(buy(3, 0, None, stock="odd"),)).load
    assert (boards.unknown, boards.too_long) == (5, 5)


def test_trade_sizes() -> None:
    metric = Case('[[shop.sheet]]\nname = "ply"\ncount = 1\n').config
    inch = Case('[[shop.sheet]]\nname = "ply"\ncount = 1\nwidth = "5 ft"\n', room=IN_INCHES).config
    assert [(sheet.length, sheet.width) for sheet in metric.shop.sheet] == [(2500.0, 1250.0)]
    assert [(sheet.length, sheet.width) for sheet in inch.shop.sheet] == [(8 * 304.8, 5 * 304.8)]
    assert "shop.sheet[1].length not given: 8 ft is taken" in inch.assumed
    assert not [told for told in inch.assumed if "shop.sheet[1].width" in told]


IN_INCHES = """
[room]
height = "8 ft"
[room.measured]
AB = "13 ft"
BC = "10 ft"
"""


@pytest.mark.parametrize(("rest", "is_layer"), [("count = 2", False), ('covers = "floor"', False)])
def test_only_a_layer_makes_the_ceiling_thicker(rest: str, is_layer: bool) -> None:
    assert any("old_ceiling" in note for note in sheets(rest).notes) == is_layer


@pytest.mark.parametrize("covers", ["coffers", "ceiling"])
def test_what_a_layer_asks_for_is_said(covers: str) -> None:
    (note,) = [note for note in sheets(f'covers = "{covers}"').notes if "old_ceiling" in note]
    assert note.startswith("ply: framing.old_ceiling.thickness includes this layer")
    hung = [note for note in sheets(f'covers = "{covers}"', TWO_COFFERS).notes if "as if no beams" in note]
    assert len(hung) == (covers == "ceiling")


# --- rectangles ---


def grid(piece: Sides, sheet: Sides) -> int:
    """Places that rows and columns reach, counted one by one, in both directions."""
    return max(
        sum(1 for i, j in product(range(1, 40), repeat=2) if i * a <= sheet[0] and j * b <= sheet[1])
        for a, b in (piece, piece[::-1])
    )


SIDES = st.tuples(st.integers(3, 40), st.integers(3, 40)).map(lambda sides: (float(sides[0]), float(sides[1])))


@given(piece=SIDES, sheet=SIDES)
def test_rows_and_columns(piece: Sides, sheet: Sides) -> None:
    assert per_sheet(piece, sheet) == grid(piece, sheet)


@pytest.mark.parametrize(
    ("piece", "count"),
    [((4.0, 4.0), 2), ((2.0, 4.0), 4), ((3.0, 2.5), 3), ((5.0, 3.0), 1), ((4.01, 4.0), 1), ((8.1, 1.0), 0)],
)
def test_pieces_of_a_sheet_of_8_by_4(piece: Sides, count: int) -> None:
    assert per_sheet(piece, (8.0, 4.0)) == per_sheet((piece[1], piece[0]), (8.0, 4.0)) == count


def partitions(pieces: Sequence[Sides]) -> Iterator[list[list[Sides]]]:
    """Every way to deal pieces to sheets."""
    if not pieces:
        yield []
        return
    first, *rest = pieces
    for dealt in partitions(rest):
        yield [[first], *dealt]
        for n, group in enumerate(dealt):
            yield [*dealt[:n], [first, *group], *dealt[n + 1 :]]


def fewest(pieces: Sequence[Sides], sheet: Sides) -> int:
    """Of all ways: each sheet's pieces in equal rows, as large as the largest of them."""
    return min(
        len(dealt)
        for dealt in partitions(pieces)
        if all(grid((max(p[0] for p in group), max(p[1] for p in group)), sheet) >= len(group) for group in dealt)
    )


SHEET_SIDES = (24.0, 12.0)
FITTING = st.tuples(st.integers(3, 12), st.integers(3, 24)).map(lambda s: (float(min(s)), float(max(s))))


@given(pieces=st.lists(FITTING, max_size=5))
def test_pieces_are_never_fewer_sheets_than_there_can_be(pieces: list[Sides]) -> None:
    best, found = fewest(pieces, SHEET_SIDES), cut_sheets(pieces, SHEET_SIDES)
    assert best <= found <= len(pieces)
    if len(set(pieces)) <= 1:
        assert found == best


@given(piece=FITTING, count=st.integers(0, 40))
def test_equal_pieces(piece: Sides, count: int) -> None:
    assert cut_sheets([piece] * count, SHEET_SIDES) == math.ceil(count / grid(piece, SHEET_SIDES))


@given(
    turn=st.floats(0.0, math.pi),
    corners=st.tuples(st.floats(900, 1100), st.floats(900, 1100), st.floats(500, 700), st.floats(500, 700)),
)
def test_the_rectangle_around_a_coffer(turn: float, corners: tuple[float, float, float, float]) -> None:
    """As another library finds it, whatever way the room lies."""
    near, far, left, right = corners
    ring = ((0.0, 0.0), (near, 0.0), (far, right), (0.0, left))
    turned = tuple((x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn)) for x, y in ring)
    short, long = around(turned, 1.0)
    assert short * long == pytest.approx(Polygon(ring).minimum_rotated_rectangle.area, rel=1e-9)
    assert short <= long
    assert around(turned, 1.25) == pytest.approx((1.25 * short, 1.25 * long))
