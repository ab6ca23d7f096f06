"""Fixtures against beams, trim, slats and their own canopy."""

from dataclasses import replace

import pytest

from checks.sample import SQUARE, analysed, ceiling, edited, found, levels, one, rebuilt, spoiled
from lacunar.analysis.fixtures import cover_overlap


def lamp(**changes: str) -> str:
    text = SQUARE
    keys = {"at": "at = { AB = 725, DA = 900 }", "size": "size = 100", "canopy": "canopy = 130"}
    for key, value in changes.items():
        text = edited(text, (keys[key], value))
    return text


def test_a_canopy_reaches_past_its_hole() -> None:
    finding = one("fixture-clear", ceiling())
    assert (finding.level, finding.where) == ("pass", "lamp")
    # A hole 1/16 in larger all round than 100 mm, under 130 mm.
    assert finding.value == pytest.approx(15.0 - 25.4 / 16.0, abs=0.05)


def test_a_lamp_under_a_beam() -> None:
    findings = found("fixture-clear", ceiling(lamp(at="at = { AB = 1450, DA = 900 }")))
    assert findings[0].level == "fail"
    assert "its hole runs" in findings[0].message
    assert "X1-1" in findings[0].message


@pytest.mark.parametrize(
    ("above", "what", "level"),
    [
        (51.0, "its hole runs 1 mm into cross beam", "fail"),
        (60.0, "its canopy runs 5 mm into cross beam", "fail"),
        (68.0, "its hole runs 4 mm into trim", "fail"),
        (80.0, "its canopy stands 5 mm on trim", "warn"),
    ],
)
def test_a_lamp_beside_a_beam(above: float, what: str, level: str) -> None:
    """X1-1's face lies 1450 mm from AB, its trim's 1430; hole and canopy reach 51.6 and 65 mm from the centre."""
    findings = found("fixture-clear", ceiling(lamp(at=f"at = {{ AB = {1450 - above}, DA = 900 }}")))
    told = [f for f in findings if what in f.message]
    assert [f.level for f in told] == [level], findings


def test_a_canopy_too_small_or_unknown() -> None:
    small = one("fixture-clear", ceiling(lamp(canopy="canopy = 102")))
    assert (small.level, small.value) == ("fail", pytest.approx(51.0 - 51.5875, abs=0.1))
    assert "too small" in small.message
    unknown = one("fixture-clear", ceiling(lamp(canopy="kind = 'ceiling box'")))
    assert (unknown.level, unknown.where) == ("ask", "lamp")


def test_a_hole_over_many_slats() -> None:
    subject = ceiling(lamp(size="size = 300", canopy="canopy = 400"))
    assert analysed(subject).fixtures[0].slats == 5
    finding = one("fixture-clear", subject)
    assert (finding.level, finding.value, finding.limit) == ("warn", 5.0, 3.0)


def test_slats_are_counted_once_though_severed() -> None:
    subject = ceiling()
    assert analysed(subject).fixtures[0].slats == 3


def test_a_slat_left_whole_stands_in_the_hole() -> None:
    whole = next(part for part in ceiling().parts if part.id == "C2-S07")
    subject = spoiled(ceiling(), "C1-S07", lambda part: replace(part, outline=_shifted(whole.outline), notches=()))
    finding = one("fixture-clear", subject)
    assert (finding.level, finding.where) == ("fail", "lamp")
    assert "C1-S07 stands" in finding.message
    # The hole reaches 51.6 mm up from 725: 673.4; the slat reaches down to 674.
    assert finding.value == pytest.approx(-(674.0 - (725.0 - 51.5875)), abs=0.1)


def _shifted(ring: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
    return tuple((x - 2050.0, y) for x, y in ring)


def test_no_slat_makes_room() -> None:
    subject = ceiling()
    parts = tuple(replace(p, notches=()) if p.coffer == "C1" else p for p in subject.parts)
    assert "no slat makes room" in one("fixture-clear", rebuilt(subject, parts=parts)).message


def test_no_fixture_is_a_question_until_somebody_says_there_is_none() -> None:
    text = SQUARE[: SQUARE.index("[[fixture]]")]
    assert levels("fixture-clear", ceiling(text)) == ["ask"]
    assert levels("fixture-clear", ceiling(edited(text, ("read_to = 1\n", "read_to = 1\nfixture = []\n")))) == ["pass"]


def test_cover_overlap_of_squares() -> None:
    square = ((0, 0), (100, 0), (100, 100), (0, 100))
    assert cover_overlap(square, ((-5, -7), (105, -7), (105, 111), (-5, 111))) == pytest.approx(5.0)
    assert cover_overlap(square, ((3, -7), (105, -7), (105, 111), (3, 111))) == pytest.approx(-3.0)
