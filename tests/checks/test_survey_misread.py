"""A misread measurement in a carpenter's words: named, one of several, or how small a one would have been seen."""

import pytest

from checks.sample import SKEWED, SQUARE, ceiling, edited, one

TWO_MARKS = """
"mab-C" = 3605.55
"mab-D" = 3605.55
"mcd-A" = 3605.55
"mcd-B" = 3605.55
[room.marks]
mab = { wall = "AB", from = "A", at = 2000 }
mcd = { wall = "CD", from = "C", at = 2000 }
"""
"""4 m by 3 m: from the middle of a long wall to a far corner sqrt(2000^2 + 3000^2)."""


def _with_marks(*changes: tuple[str, str]) -> str:
    return edited(SQUARE, ("BD = 5000\n", f"BD = 5000\n{TWO_MARKS}"), *changes)


def test_good_measurements_say_how_small_a_misreading_would_have_been_seen() -> None:
    finding = one("survey-misread", ceiling())
    assert finding.level == "pass"
    # All |w| are one: sd 2.1, 2.3, 2.5 for 3, 4, 5 m. Slopes of the closing condition by law of cosines: 0.6, 0.8, 1
    # of a diagonal's. s2 = 2 (0.36 2.1^2 + 0.64 2.3^2 + 2.5^2) = 22.45; 5.345 s / 0.6 = 42.2 mm in a wall of 3 m.
    assert "42 mm off or more" in finding.message
    assert finding.message.endswith("though not which one it is")


def test_with_wall_middles_it_would_be_named() -> None:
    finding = one("survey-misread", ceiling(_with_marks()))
    assert finding.level == "pass"
    assert "by name from" in finding.message


def test_a_misread_diagonal_is_named_with_what_it_should_be() -> None:
    finding = one("survey-misread", ceiling(_with_marks(("BD = 5000", "BD = 5025"))))
    assert (finding.level, finding.where) == ("fail", "BD")
    assert finding.message == "BD is about 25 mm too long: read as 5025 mm, the others make it 5000 mm"
    assert finding.fix == "measure BD again"
    assert finding.value is not None
    assert finding.value > 3.29


def test_inches_speak_inches() -> None:
    text = edited(SKEWED, ('AC = "16 ft 10 7/8 in"', 'AC = "16 ft 10 7/8 in"\nBD = "16 ft 8 in"'))
    finding = one("survey-misread", ceiling(text))
    assert finding.level == "fail"
    assert " mm" not in finding.message + finding.fix
    assert "which one cannot be told" in finding.message


def test_with_one_to_spare_nobody_is_blamed_and_the_fix_says_what_would_tell() -> None:
    finding = one("survey-misread", ceiling(edited(SQUARE, ("BD = 5000", "BD = 5020"))))
    assert (finding.level, finding.where) == ("fail", "room.measured")
    # A wall of 3 m must be off by 20 / 0.6, a diagonal by 20.
    assert "is off by 20 mm to 33 mm; which one cannot be told" in finding.message
    for name in ("AB", "BC", "CD", "DA", "AC", "BD"):
        assert name in finding.message
    assert finding.fix.startswith("mark mAB on wall AB ")
    assert "measure mAB-C" in finding.fix
    assert finding.fix.endswith(": that tells")


@pytest.mark.parametrize("gone", ["AC = 5000\n", "BD = 5000\n"])
def test_nothing_to_spare_is_a_question(gone: str) -> None:
    finding = one("survey-misread", ceiling(edited(SQUARE, (gone, ""))))
    assert finding.level == "ask"
    assert "any distance" in finding.message
    assert "lacunar measure" in finding.fix
