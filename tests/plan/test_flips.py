"""What changes the boards to buy: by hand, and against plans made anew for every change."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lacunar.config import Config
from lacunar.parts import Part
from lacunar.plan import Flip, find_flips, make_plan
from plan.planning import INCH, board, config, mitred, parts

MARK = INCH / 16.0
NO_CULL = 'kerf = "1/8 in"\nend_waste = "1/4 in"\ncull = 0\n'


def flips(wanted: tuple[Part, ...], shop: Config) -> dict[tuple[str, bool], Flip]:
    """By what is changed and whether it is dearer."""
    found = find_flips(wanted, make_plan(wanted, shop), shop)
    by_kind = {(flip.what, flip.is_dearer): flip for flip in found}
    assert len(by_kind) == len(found)
    return by_kind


@pytest.mark.parametrize("cull", [0.0, 0.1])
def test_two_to_a_board_that_become_one(cull: float) -> None:
    # 2 x 47 5/8 + 1/8 + 2 x 1/4 = 95 7/8 in of 96: an eighth to spare
    shop = config(NO_CULL.replace("cull = 0", f"cull = {cull}") + board("1x4", "8 ft", 9.5))
    found = flips(parts([47.625 * INCH] * 10), shop)
    told = {kind: (round(flip.by / MARK), flip.boards, flip.money) for kind, flip in found.items()}
    # each pair takes 2/16 more per mark on slats and on end waste, 1/16 per mark on boards; 5 boards become 10
    assert told == {
        ("slats", True): (2, 5, pytest.approx(47.5)),
        ("end waste", True): (2, 5, pytest.approx(47.5)),
        ("boards", True): (-3, 5, pytest.approx(47.5)),
    }
    assert all(flip.length == pytest.approx(5 * 96.0 * INCH) for flip in found.values())


def test_one_to_a_board_that_become_two() -> None:
    # 2 x 47 7/8 + 1/8 + 2 x 1/4 = 96 3/8 in: three eighths too long for two
    found = flips(parts([47.875 * INCH] * 10), config(NO_CULL + board("1x4", "8 ft", 9.5)))
    told = {kind: (round(flip.by / MARK), flip.boards, flip.money) for kind, flip in found.items()}
    assert told == {
        ("slats", False): (-3, -5, pytest.approx(-47.5)),
        ("end waste", False): (-3, -5, pytest.approx(-47.5)),
        ("boards", False): (6, -5, pytest.approx(-47.5)),
    }


def test_no_less_than_nothing_is_lost_at_an_end() -> None:
    shop = config('kerf = "1/8 in"\nend_waste = "1/8 in"\ncull = 0\n' + board("1x4", "8 ft", 9.5))
    # 2 x 48 + 1/8 + 2 x 1/8 in: three eighths too long, of which the ends give a quarter at most
    assert ("end waste", False) not in flips(parts([48.0 * INCH] * 4), shop)
    assert ("boards", False) in flips(parts([48.0 * INCH] * 4), shop)


def test_shorter_slats_say_whether_they_fit() -> None:
    shop = config(NO_CULL + board("1x4", "8 ft", 9.5))
    interval = (47.75 * INCH, 48.5 * INCH)
    found = flips(parts([48.0 * INCH] * 4, interval=interval), shop)
    # no length that fits saves a board, so the plan keeps 48; 5/16 less and two fit: 2 x 47 11/16 + 5/8 = 96
    assert round(found["slats", False].by / MARK) == -5
    assert found["slats", False].unfit == ("C1-S001", "C1-S002", "C1-S003", "C1-S004")
    assert found["slats", False].boards == -2


def test_boards_that_were_measured_are_what_they_are() -> None:
    shop = config(NO_CULL + board("1x4", "8 ft", 9.5, actual="96 in"))
    assert {what for what, _ in flips(parts([47.625 * INCH] * 10), shop)} == {"slats", "end waste"}


def test_without_prices_board_length_counts() -> None:
    found = flips(parts([47.625 * INCH] * 10), config(NO_CULL + board("1x4", "8 ft")))
    assert found["boards", True].money is None
    assert (found["boards", True].boards, found["boards", True].length) == (5, pytest.approx(5 * 96.0 * INCH))
    assert not any(is_dearer is False for _, is_dearer in found), "longer boards are no dearer by being longer"


def test_pieces_that_no_board_gives_any_more() -> None:
    found = flips(parts([95.5 * INCH]), config(NO_CULL + board("1x4", "8 ft", 9.5)))
    assert {(flip.boards, round(abs(flip.by) / MARK)) for flip in found.values()} == {(None, 1)}


def test_trim_follows_the_boards_and_not_the_slats() -> None:
    # Two strips that share their mitres take their middle lengths, a kerf of 1/8 in times the root of 2 between them,
    # and half a mitre (3/8 in) and 1/4 in at both ends of the board: 0.07 in are left.
    length = 94.0 - 2.0 * 0.625 - 0.125 * 2.0**0.5 - 0.07
    strips = tuple(mitred(f"C1-T{i}", (length / 2.0 + 0.75) * INCH, (45.0, 45.0)) for i in range(1, 5))
    shop = config(NO_CULL + board("3/4x3/4", "94 in", 5.0))
    found = flips(tuple(replace(strip, stock="3/4x3/4") for strip in strips), shop)
    told = {kind: (round(flip.by / MARK), flip.boards, flip.money) for kind, flip in found.items()}
    assert told == {
        ("end waste", True): (1, 2, pytest.approx(10.0)),
        ("boards", True): (-2, 2, pytest.approx(10.0)),
    }


LENGTHS = st.lists(st.integers(20 * 16, 50 * 16), min_size=2, max_size=4, unique=True)
COUNTS = st.lists(st.integers(1, 5), min_size=4, max_size=4)


@settings(max_examples=15)
@given(LENGTHS, COUNTS)
def test_the_nearest_flip_is_the_first_plan_that_costs_more(lengths: list[int], counts: list[int]) -> None:
    """Plans made anew, mark by mark, for longer slats, more end waste and shorter boards."""
    marks = [n for n, count in zip(lengths, counts, strict=False) for _ in range(count)]
    plain = NO_CULL + board("1x4", "8 ft", 9.5)

    def cost(slats: int = 0, waste: int = 0, short: int = 0) -> float:
        end = f'end_waste = "{4 + waste}/16 in"'
        actual = f"{96 * 16 - short}/16 in"
        shop = config(NO_CULL.replace('end_waste = "1/4 in"', end) + board("1x4", "8 ft", 9.5, actual=actual))
        return make_plan(parts([(n + slats) * MARK for n in marks]), shop).cost or 0.0

    found = flips(parts([n * MARK for n in marks]), config(plain))
    base = cost()
    for what, key in (("slats", "slats"), ("end waste", "waste"), ("boards", "short")):
        costs: list[float] = []
        while len(costs) < 6 and (not costs or costs[-1] <= base + 1e-9):
            costs.append(cost(**{key: len(costs) + 1}))
            assert costs[-1] >= base - 1e-9
        first = len(costs) if costs[-1] > base + 1e-9 else None
        flip = found.get((what, True))
        assert (None if flip is None else round(abs(flip.by) / MARK)) == first
        if flip is not None and first is not None:
            assert flip.money == pytest.approx(costs[first - 1] - base)
