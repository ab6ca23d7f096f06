"""Beams and walls that bow, and what it does to the pieces beside them."""

import pytest

from checks.sample import SQUARE, ceiling, edited, found, one

WIDTH = """
"mab-C" = 3605.55
"mab-D" = 3605.55
"mcd-A" = 3605.55
"mcd-B" = 3605.55
"mab-mcd" = 3012
[room.marks]
mab = { wall = "AB", from = "A", at = 2000 }
mcd = { wall = "CD", from = "C", at = 2000 }
"""


def _square(middle: str) -> str:
    return edited(SQUARE, ("middle = 100\n", middle))


def test_a_straight_beam_passes() -> None:
    finding = one("bow", ceiling())
    assert (finding.level, finding.where, finding.value) == ("pass", "E1", 0.0)
    assert "100 mm, straight" in finding.message


def test_a_beam_nobody_measured_half_way_is_a_question() -> None:
    finding = one("bow", ceiling(_square("")))
    assert (finding.level, finding.where) == ("ask", "E1")
    assert "middle" in finding.fix


@pytest.mark.parametrize(("middle", "word"), [(116, "shorter"), (84, "longer")])
def test_a_bowed_beam_shortens_the_pieces_half_way_along_by_half_of_it(middle: int, word: str) -> None:
    # One row in the middle of the beam: the parabola's crest; each of its two pieces meets one of the beam's faces.
    finding = one("bow", ceiling(_square(f"middle = {middle}\n")))
    assert (finding.level, finding.where) == ("warn", "E1")
    assert finding.value == pytest.approx(8.0, abs=0.05)
    assert finding.limit == pytest.approx(1.0)
    assert f"16 mm {'more' if middle > 100 else 'less'} than straight" in finding.message
    assert f"X1-1 8 mm {word}, X1-2 8 mm {word}" in finding.message


def test_a_quarter_along_it_is_three_quarters_of_that() -> None:
    at = edited(_square("middle = 116\n"), ("rows = 1", "at = [750]"))
    (finding,) = found("bow", ceiling(at))
    # 4 t (1 - t) at t = 1/4.
    assert finding.value == pytest.approx(6.0, abs=0.05)


def test_reading_error_is_no_bow() -> None:
    finding = one("bow", ceiling(_square("middle = 105\n")))
    assert finding.level == "pass"
    assert "within reading error" in finding.message


def test_walls_that_no_piece_meets_only_show() -> None:
    text = edited(SQUARE, ("BD = 5000\n", f"BD = 5000\n{WIDTH}"))
    finding = one("bow", ceiling(text))
    assert (finding.level, finding.where) == ("pass", "mab-mcd")
    assert "the width between AB and CD half way is 3012 mm, 12 mm more than straight" in finding.message
