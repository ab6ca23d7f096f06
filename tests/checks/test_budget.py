"""The cost against the budget: over, within, not known."""

import pytest

from checks.sample import SQUARE, ceiling, edited, one, rebuilt
from lacunar.analysis import Subject
from lacunar.checks import Finding

BOARDS = "".join(
    f'[[shop.board]]\nstock = "{stock}"\nlength = 4200\nprice = 1\n' for stock in ("20x90", "20x20", "100x140")
)


def priced(budget: str = "budget = 1000", packs: str = "") -> Subject:
    shop = f"[shop]\ncull = 0.1\n{budget}\n{BOARDS}{packs}"
    return ceiling(edited(SQUARE, ('[finish]\nbehind = "flat black"\n', shop)))


def packs(holds: bool = True) -> str:
    """Every pack that this ceiling takes, at a price of 2."""
    lines = {"slat nail": "1000", "pocket screw": "100", "trim nail": "1000", "adhesive": '"9 m"', "putty": "600"}
    return "".join(
        f'[[shop.pack]]\nname = "{name}"\nprice = 2\n' + (f"holds = {size}\n" if holds else "")
        for name, size in lines.items()
    )


def said(subject: Subject) -> Finding:
    return one("budget", subject)


def test_within_the_budget() -> None:
    subject = priced(packs=packs())
    finding = said(subject)
    assert subject.cost.is_complete
    assert (finding.level, finding.where, finding.unit) == ("pass", "shop.budget", "USD")
    assert (finding.value, finding.limit) == (subject.cost.total, 1000.0)
    assert "an estimate, ask for quotes" in finding.message


def test_over_the_budget() -> None:
    subject = priced("budget = 10", packs=packs())
    finding = said(subject)
    assert finding.level == "warn"
    assert "over" in finding.message
    assert finding.fix.startswith("save USD ")


def test_over_the_budget_with_prices_missing_is_over_all_the_same() -> None:
    assert said(priced("budget = 10")).level == "warn"


def test_a_missing_price_is_a_question() -> None:
    finding = said(priced())
    assert finding.level == "ask"
    assert "slat nail, pocket screw, trim nail, adhesive and 1 more cost nothing" in " ".join(finding.assumed)
    assert "[[shop.pack]]" in finding.fix


def test_a_pack_of_unknown_content_is_a_question() -> None:
    finding = said(priced(packs=packs(holds=False)))
    assert finding.level == "ask"
    assert "slat nail" in " ".join(finding.assumed)
    assert "past the budget" not in " ".join(finding.assumed)


def test_the_dear_end_past_the_budget_is_said() -> None:
    subject = priced(packs=packs(holds=False))
    assert subject.cost.total < subject.cost.high
    middle = (subject.cost.total + subject.cost.high) / 2.0
    shop = subject.config.shop.model_copy(update={"budget": middle})
    finding = said(rebuilt(subject, config=subject.config.model_copy(update={"shop": shop})))
    assert finding.level == "ask"
    assert "past the budget" in " ".join(finding.assumed)


@pytest.mark.parametrize("packs_too", [True, False])
def test_no_budget_is_no_question(packs_too: bool) -> None:
    finding = said(priced("", packs=packs() if packs_too else ""))
    assert (finding.level, finding.value, finding.limit, finding.unit) == ("pass", None, None, "")
