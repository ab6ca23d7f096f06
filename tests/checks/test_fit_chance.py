"""What is said of a ceiling that need not fit the first time."""

import re

import pytest

from checks.sample import SKEWED, SQUARE, ceiling, one, remedied
from lacunar.chance import percent
from lacunar.checks.fit_chance import ENOUGH

TIGHT = '[slats]\nend_gap = "1/8 in"\nleast_end_gap = "1/16 in"\n'


def test_a_generous_end_gap_passes() -> None:
    found = one("fit-chance", ceiling(SQUARE))
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
    ("text", "keys"),
    [
        (tightened(SQUARE), ["slats.end_gap"]),
        (tightened(SKEWED), ["trim.width", "slats.end_gap"]),
    ],
    ids=["square", "skewed"],
)
def test_a_tight_one_warns_names_the_risk_and_what_helps(text: str, keys: list[str]) -> None:
    found = one("fit-chance", ceiling(text))
    assert (found.level, found.trials) == ("warn", 2000)
    assert found.value is not None
    assert found.value < ENOUGH
    assert f"{percent(found.value, 2000)} of 2,000 trials" in found.message
    assert re.fullmatch(r"C\d+-S\d+[ab]?", found.where)
    assert found.where in found.message
    assert re.findall(r"([a-z_]+\.[a-z_]+) = ", found.fix) == keys
    assert "read those coffers twice" in found.fix
    after = one("fit-chance", remedied(text, found.fix))
    assert after.value is not None
    assert after.value >= ENOUGH
    assert f"makes it {percent(after.value, 2000)};" in found.fix


def test_what_helps_nothing_is_not_told() -> None:
    """Readings so coarse that no end gap and no trim of an inch makes up for them."""
    found = one("fit-chance", ceiling(SQUARE + "[survey]\nsd = 12\n"))
    assert found.level == "warn"
    assert " = " not in found.fix
