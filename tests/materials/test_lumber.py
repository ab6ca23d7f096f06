"""Dressed sizes against the American Softwood Lumber Standard PS 20, Table 3 (read in a published page)."""

from fractions import Fraction

import pytest

from lacunar.materials import (
    LUMBER,
    find_lumber,
    lumber_of_section,
    nearest_stock,
    plain_stock,
    sides_of,
)

DRESSED_WIDTH = {2: "3/2", 3: "5/2", 4: "7/2", 6: "11/2", 8: "29/4", 10: "37/4", 12: "45/4"}
"""Face widths in inches, dry. Source: PS 20, Table 3: 1.5, 2.5, 3.5, 5.5, 7.25, 9.25, 11.25."""

WANTED = [
    *[(f"1x{wide}", "3/4", DRESSED_WIDTH[wide]) for wide in (2, 3, 4, 6, 8, 10, 12)],
    *[(f"2x{wide}", "3/2", DRESSED_WIDTH[wide]) for wide in (2, 3, 4, 6, 8, 10, 12)],
    ("3x6", "5/2", "11/2"),
    *[(f"4x{wide}", "7/2", DRESSED_WIDTH[wide]) for wide in (4, 6, 8, 10, 12)],
    # timbers, green: 1/2 in off nominal (dry ones of 7 in and more would be 3/4 in off)
    ("6x6", "11/2", "11/2"),
    ("6x8", "11/2", "15/2"),
    ("6x10", "11/2", "19/2"),
    ("6x12", "11/2", "23/2"),
    # boards of 1 1/4 in nominal are dressed to 1 in
    ("5/4x4", "1", "7/2"),
    ("5/4x6", "1", "11/2"),
]


@pytest.mark.parametrize(("nominal", "thickness", "width"), WANTED)
def test_dressed_size(nominal: str, thickness: str, width: str) -> None:
    size = LUMBER[nominal]
    assert (size.thickness_in, size.width_in) == (Fraction(thickness), Fraction(width))
    assert size.thickness == float(Fraction(thickness) * Fraction(127, 5))
    assert size.width == float(Fraction(width) * Fraction(127, 5))
    assert "PS 20" in size.source


def test_millimetres_of_the_usual_board() -> None:
    board = LUMBER["1x4"]
    assert (board.thickness, board.width) == (19.05, 88.9)


@pytest.mark.parametrize("written", ["1x4", "1X4", " 1 x 4 ", "1 × 4", '1"x4"', "1 in x 4 in"])
def test_ways_to_write_a_size(written: str) -> None:
    assert plain_stock(written) == "1x4"
    assert find_lumber(written) is LUMBER["1x4"]


def test_an_unknown_size_and_its_nearest() -> None:
    assert find_lumber("1x44") is None
    assert nearest_stock("1x44") == "1x4"
    assert nearest_stock("pine4") in LUMBER


@pytest.mark.parametrize(
    ("name", "known", "nearest"),
    [
        ("4x9", (), "4x10"),  # 10/9 is less than 9/8
        ("2x7", (), "2x8"),
        ("8x4", (), "4x8"),
        ("1x5.5", (), "1x6"),
        ("96x19", (), "1x4"),  # 19 by 89 mm
        ("96x19", ("19x96", "20x20"), "19x96"),
        ("96 x 20 mm", ("19x96", "20x20"), "19x96"),
        ("1x3/4", ("3/4x1", "3/4x3/4"), "3/4x1"),
    ],
)
def test_sections_are_compared_by_numbers_whichever_comes_first(
    name: str, known: tuple[str, ...], nearest: str
) -> None:
    assert nearest_stock(name, known) == nearest


@pytest.mark.parametrize(
    ("name", "sides"),
    [
        ("1x4", (1, 4)),
        ("5/4 x 6", (Fraction(5, 4), 6)),
        ("95x18", (18, 95)),
        ("1-1/2x3", (Fraction(3, 2), 3)),
        ("18.5x95", (Fraction(37, 2), 95)),
        *((name, None) for name in ("plywood", "1x", "x4", "1x4x8", "0x4", "1/0x4", "-1x4", "")),
    ],
)
def test_the_sides_of_a_section(name: str, sides: tuple[float, float] | None) -> None:
    assert sides_of(name) == sides


def test_a_section_is_known_either_way_up_and_within_a_tapes_mark() -> None:
    four_by_six = LUMBER["4x6"]
    assert lumber_of_section(88.9, 139.7) is four_by_six
    assert lumber_of_section(139.7, 88.9) is four_by_six
    assert lumber_of_section(88.9 + 0.39, 139.7) is four_by_six  # 1/64 in is 0.397 mm
    assert lumber_of_section(88.9 + 0.41, 139.7) is None
