"""Cautions ask, and only where they concern the house."""

import pytest

from checks.sample import SQUARE, ceiling, edited, found


@pytest.mark.parametrize(
    ("built", "lead", "asbestos"),
    [
        ("built = 1924", 1, 1),
        ("built = 1977", 1, 1),
        ("built = 1978", 0, 1),
        ("built = 1980", 0, 1),
        ("built = 1981", 0, 0),
        ("", 1, 1),
    ],
)
def test_age_of_the_house(built: str, lead: int, asbestos: int) -> None:
    subject = ceiling(edited(SQUARE, ("house = { built = 2001 }", f"house = {{ {built} }}")))
    assert len(found("caution-lead", subject)) == lead
    assert len(found("caution-asbestos", subject)) == asbestos


@pytest.mark.parametrize(
    ("tested", "lead", "asbestos"),
    [
        ('lead = "none"', "", "the house was built in 1924: a textured"),
        ('asbestos = "none"', "the house was built in 1924, before 1978: the old", ""),
        (
            'lead = "found", asbestos = "found"',
            "a test found lead in the old paint",
            "a test found asbestos in the old",
        ),
    ],
)
def test_a_test_is_believed_before_the_year(tested: str, lead: str, asbestos: str) -> None:
    house = f"house = {{ built = 1924, tested = {{ {tested} }} }}"
    subject = ceiling(edited(SQUARE, ("house = { built = 2001 }", house)))
    for check, words in (("caution-lead", lead), ("caution-asbestos", asbestos)):
        said = [finding.message for finding in found(check, subject)]
        assert len(said) == bool(words)
        assert not said or said[0].startswith(words)
        assert not any("tested" in finding.fix for finding in found(check, subject) if words.startswith("a test"))


@pytest.mark.parametrize("check", ["caution-electrical", "caution-fire", "caution-overhead"])
def test_always_a_question_for_licensed_trades(check: str) -> None:
    (finding,) = found(check, ceiling())
    assert finding.level == "ask"
    assert "local code and licensed trades decide" in finding.message
    assert finding.source


def test_no_fixture_no_electrician() -> None:
    text = SQUARE[: SQUARE.index("[[fixture]]")]
    assert len(found("caution-electrical", ceiling(text))) == 1
    assert found("caution-electrical", ceiling(edited(text, ("read_to = 1\n", "read_to = 1\nfixture = []\n")))) == ()
