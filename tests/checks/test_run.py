"""All checks together: what each says at least, in which order, and what its name explains."""

import re
from pathlib import Path

import pytest

from checks.sample import SKEWED, SQUARE, analysed, ceiling, edited
from lacunar.analysis import Subject
from lacunar.checks import CHECKS, Finding, explain, run_checks
from lacunar.config import read_config
from lacunar.job import run_job
from lacunar.plan import forget

FIRST_LOOK = """
[room]
height = "8 ft 7 in"
[room.measured]
AB = "12 ft 2 in"
BC = "11 ft 5 in"
CD = "12 ft 1 1/2 in"
DA = "11 ft 4 in"
[beams]
count = 2
between = ["AB", "CD"]
width = "3 1/2 in"
depth = "5 1/2 in"
[cross_beams]
rows = 2
"""


def run(subject: Subject) -> tuple[Finding, ...]:
    return run_checks(subject, analysed(subject))


@pytest.mark.parametrize("text", [SQUARE, SKEWED, FIRST_LOOK], ids=["square", "skewed", "first look"])
def test_each_check_speaks_and_passes_alone(text: str) -> None:
    findings = run(ceiling(text))
    assert list(dict.fromkeys(f.check for f in findings)) == [c for c in CHECKS if any(f.check == c for f in findings)]
    for check in CHECKS:
        mine = [f for f in findings if f.check == check]
        assert mine or check.startswith("caution-")
        assert len(mine) == 1 or all(f.level != "pass" for f in mine), mine


@pytest.mark.parametrize("text", [SQUARE, SKEWED, FIRST_LOOK], ids=["square", "skewed", "first look"])
def test_findings_are_whole_sentences_of_the_trade(text: str) -> None:
    for finding in run(ceiling(text)):
        assert finding.where, finding
        assert finding.source, finding
        assert finding.unit in ("mm", "deg", "count", "share", ""), finding
        assert bool(finding.fix) == (finding.level != "pass"), finding
        assert "nan" not in finding.message
        assert "inf " not in finding.message
        assert not re.search(r"\d\.\d{4}", finding.message), finding.message


def test_the_same_twice() -> None:
    subject = ceiling(SKEWED)
    before = run(subject)
    forget()
    assert run(subject) == before


def test_a_good_ceiling_only_passes_but_for_cautions() -> None:
    heights = "heights = { A = 2500, B = 2500, C = 2500, D = 2500, centre = 2500 }"
    # ten boards of 90 mm and ten spacers of 6 mm
    ten = ("edge_gap = 6", "edge_gap = 6\nten = 960")
    saw = ("[finish]", "[shop]\nkerf = 3\nend_waste = 6\n[finish]")
    findings = run(ceiling(edited(SQUARE, ("height = 2500", heights), ten, saw)))
    assert {f.level for f in findings if not f.check.startswith("caution-")} == {"pass"}


def test_a_first_look_fails_nowhere_and_passes_nothing_that_was_assumed() -> None:
    findings = run(ceiling(FIRST_LOOK))
    assert "fail" not in {f.level for f in findings}
    passes = {f.check for f in findings if f.level == "pass"}
    rests = {"nail-reach", "beam-fits", "beam-ends", "overlap-end", "overlap-edge", "what-shows", "clash", "survey-fit"}
    assert passes & rests == set()


def test_inches_are_printed_as_the_tape_shows_them() -> None:
    text = "\n".join(f.message + f.fix for f in run(ceiling(SKEWED)))
    assert " mm" not in text
    assert "3/4 in" in text
    metric = "\n".join(f.message + f.fix for f in run(ceiling()) if not f.check.startswith("caution-"))
    assert not re.search(r"\d in\b", metric)


@pytest.mark.parametrize("check", CHECKS)
def test_explanations_have_four_parts(check: str) -> None:
    text = explain(check)
    for part in ("\nWhat: ", "\nWhy: ", "\nFix: ", "\nSource: "):
        assert text.count(part) == 1, (check, part)


def test_an_unknown_check_is_not_explained() -> None:
    with pytest.raises(KeyError):
        explain("no-such-check")


def test_each_check_has_a_name_and_an_explanation_of_its_own() -> None:
    assert [check.name for check in CHECKS.values()] == list(CHECKS)
    assert len({explain(check) for check in CHECKS}) == len(CHECKS)


@pytest.mark.parametrize("number", range(1, 8))
def test_shipped_configs_fail_nowhere(configs: Path, number: int) -> None:
    (path,) = configs.glob(f"{number}-*.toml")
    findings = run_job(read_config(path)).findings
    assert [f for f in findings if f.level == "fail"] == []


def test_a_ceiling_without_beams_or_fixtures() -> None:
    text = SQUARE[: SQUARE.index("[[beam]]")] + SQUARE[SQUARE.index("[slats]") : SQUARE.index("[[fixture]]")]
    findings = run(ceiling(text))
    assert "fail" not in {f.level for f in findings}
    assert {f.check for f in findings if not f.check.startswith("caution-")} == {
        check for check in CHECKS if not check.startswith("caution-")
    }


def test_metric_configs_speak_metric() -> None:
    spoken = run(ceiling(edited(SQUARE, ("length = 64", "length = 45"))))
    message = next(f for f in spoken if f.check == "nail-reach").message
    assert "45 mm" in message
