"""What fails makes a result good for less."""

import inspect
import re
import sys
from dataclasses import replace

import pytest

from checks.sample import SQUARE, edited
from lacunar.checks import CHECKS, Finding, doubts
from lacunar.checks.doubts import HARMLESS, TOUCHES
from lacunar.config import Doubt
from lacunar.job import run_job, trust_of
from lacunar.told import Told
from strategies import config_of

FAIL = Finding(
    check="nail-reach",
    level="fail",
    where="C5-S03",
    value=0.0,
    limit=2.0,
    unit="count",
    message=Told("it catches none"),
    fix=Told("furring"),
    source="",
)


def words(*found: Finding) -> list[str]:
    return [doubt.words for doubt in doubts(found)]


def test_every_check_is_decided_once() -> None:
    assert set(TOUCHES) | HARMLESS == set(CHECKS)
    assert not set(TOUCHES) & HARMLESS


@pytest.mark.parametrize("check", sorted(HARMLESS))
def test_what_makes_nothing_doubtful_never_fails(check: str) -> None:
    source = inspect.getsource(sys.modules[CHECKS[check].run.__module__])
    assert not re.search(r'(say\(\s*|level=)"fail"', source)


def test_one_is_named_and_many_are_counted() -> None:
    assert words(FAIL) == ["nails or screws without enough wood: C5-S03"]
    more = replace(FAIL, where="C6", alike=36)
    assert words(FAIL, more) == ["nails or screws without enough wood: 37, first at C5-S03"]
    misread = replace(FAIL, check="survey-misread", where="AB")
    assert words(misread, FAIL) == ["AB is misread", "nails or screws without enough wood: C5-S03"]
    assert words(replace(misread, where="room.measured")) == ["a distance is misread"]


def test_only_what_fails_counts() -> None:
    assert doubts([replace(FAIL, level=level) for level in ("pass", "warn", "ask")]) == ()
    assert doubts([replace(FAIL, check="budget")]) == ()


def test_what_one_sheet_is_cut_by_and_what_is_bought() -> None:
    drill = Doubt(words="pockets that no drill reaches: X1-1", buying=False, sheets=("beam pieces",))
    assert doubts([replace(FAIL, check="driver-room", where="X1-1")]) == (drill,)
    (misread,) = doubts([replace(FAIL, check="survey-misread", where="AB")])
    assert (misread.buying, misread.sheets) == (True, ())


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (("CD = 4000", "CD = 4060"), "misread"),
        (("edge_gap = 6", "edge_gap = 19"), "slat edges that show or jam: "),
        (("depth = 140\nrows", "depth = 30\nrows"), "pockets that break out: "),
    ],
)
def test_a_ceiling_that_fails_is_good_for_a_look(change: tuple[str, str], said: str) -> None:
    trusted = trust_of(run_job(config_of(edited(SQUARE, change))))
    assert trusted.good_for == "look"
    assert any(said in one for one in trusted.wrong), trusted
    assert trusted.missing[: len(trusted.wrong)] == trusted.wrong
    assert trust_of(run_job(config_of(SQUARE))).wrong == ()
