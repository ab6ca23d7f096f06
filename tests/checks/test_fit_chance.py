"""What is said of a ceiling that need not fit the first time."""

import re

import pytest

from checks.sample import SKEWED, SQUARE, ceiling
from lacunar.checks.fit_chance import ENOUGH, check_fit_chance

TIGHT = '[slats]\nend_gap = "1/8 in"\nleast_end_gap = "1/16 in"\n'


def test_a_generous_end_gap_passes() -> None:
    (found,) = check_fit_chance(ceiling(SQUARE))
    assert found.level == "pass"
    assert found.value is not None
    assert found.value >= ENOUGH
    assert "strips of trim" in found.message


def tightened(text: str) -> str:
    """An end gap of 1/16 in more than the least: within one reading's error."""
    without = re.sub(r"(?m)^(end_gap|least_end_gap)\s*=.*\n", "", text)
    assert "[slats]" in without
    return without.replace("[slats]\n", TIGHT)


@pytest.mark.parametrize(
    # In the skewed room one mark serves several coffers, so slats are short in some: there only wider trim helps.
    ("text", "helps"),
    [(SQUARE, "slats.end_gap = "), (SKEWED, "trim.width = ")],
    ids=["square", "skewed"],
)
def test_a_tight_one_warns_names_the_risk_and_what_helps(text: str, helps: str) -> None:
    (found,) = check_fit_chance(ceiling(tightened(text)))
    assert found.level == "warn"
    assert found.value is not None
    assert found.value < ENOUGH
    assert re.fullmatch(r"C\d+-S\d+[ab]?", found.where)
    assert found.where in found.message
    assert found.fix.startswith(helps)
    assert "read those coffers twice" in found.fix
