"""Boards that run under or over: ten of them on the bench, in closed form."""

import pytest

from checks.sample import SKEWED, SQUARE, ceiling, edited, one
from lacunar.checks import Finding


def found(text: str) -> Finding:
    return one("bundle", ceiling(text))


def with_ten(ten: float, *changes: tuple[str, str]) -> str:
    return edited(SQUARE, ("gap = 6\nend_gap", f"gap = 6\nten = {ten}\nend_gap"), *changes)


def test_boards_as_wide_as_sold_pass() -> None:
    """10 (90 + 6) = 960."""
    finding = found(with_ten(960))
    assert (finding.level, finding.where, finding.value) == ("pass", "slats.ten", 0.0)
    assert finding.message == (
        "ten boards and ten spacers are 960 mm, so slats are laid out 96.00 mm apart, with gaps as the spacer, 6 mm: "
        "the boards are as wide as they are sold, 90 mm"
    )


@pytest.mark.parametrize(
    ("ten", "off", "way", "full"),
    [
        (955, -0.5, "under", 14),  # 15 times 95.5 in 1438 and 5.5 left: 14 full ones between two rips
        (965, 0.5, "over", 15),  # 14 times 96.5 and 87 left, 3.5 short of a board: no rip for that
        (950, -1.0, "under", 14),  # 15 and 13 left: two rips again
    ],
)
def test_what_one_board_is_off_adds_up_over_the_full_slats(ten: float, off: float, way: str, full: int) -> None:
    finding = found(with_ten(ten))
    assert finding.level == "warn"
    assert finding.value == pytest.approx(full * abs(off))
    assert finding.limit == pytest.approx(full / 10.0)  # read_to is 1 mm
    assert f"boards run {abs(off):.2f} mm {way} 90 mm: " in finding.message
    assert f"over the {full} full slats of C1;" in finding.message
    assert f"slats are laid out {ten / 10.0:.2f} mm apart, with gaps as the spacer, 6 mm" in finding.message


def test_less_than_ten_read_to_a_mark_can_tell_passes() -> None:
    """15 full slats: the limit is 1.5 mm; 0.09 mm a board come to 1.35 mm, 0.11 mm to 1.65 mm."""
    inside, outside = found(with_ten(959.1)), found(with_ten(958.9))
    assert (inside.level, outside.level) == ("pass", "warn")
    assert inside.value == pytest.approx(15 * 0.09)
    assert outside.value == pytest.approx(15 * 0.11)
    assert inside.limit == outside.limit == pytest.approx(1.5)


def test_ten_without_the_spacer_leaves_the_gap_to_the_nominal_board() -> None:
    finding = found(edited(SQUARE, ("\ngap = 6\n", "\nten = 958\n")))
    assert finding.level == "ask"
    assert "958 mm, so slats are laid out 95.80 mm apart" in finding.message
    assert "boards of 90 mm, as they are sold, would leave gaps of 5.80 mm" in finding.message


def test_boards_that_nobody_measured_are_a_question() -> None:
    finding = found(SQUARE)
    assert finding.level == "ask"
    assert finding.value == pytest.approx(15 * 0.5)
    assert "boards are taken as 90 mm wide with gaps of 6 mm" in finding.message
    assert "slats.ten" in finding.fix


def test_inches() -> None:
    """37 3/16 in less ten spacers of 1/4 in: ten boards of 3.469 in, 1/32 in under."""
    text = edited(SKEWED, ('run = "alternate"', 'run = "alternate"\ngap = "1/4 in"\nten = "37 3/16 in"'))
    finding = found(text)
    assert finding.level == "warn"
    assert "boards run 0.031 in under 3 1/2 in: " in finding.message
    assert (
        "are 3 ft 1 3/16 in, so slats are laid out 3.719 in apart, with gaps as the spacer, 1/4 in" in finding.message
    )
