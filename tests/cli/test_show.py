"""Findings as text."""

import pytest

from lacunar.checks import Finding, Level
from lacunar_cli.show import names, show_findings, status_of


def finding(level: Level, where: str, message: str = "end gap 1 in, trim hides 1/2 in", fix: str = "cut it") -> Finding:
    return Finding(
        check="overlap-end",
        level=level,
        where=where,
        value=1.0,
        limit=2.0,
        unit="mm",
        message=message,
        fix="" if level == "pass" else fix,
        source="from memory",
    )


def test_a_finding_is_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    show_findings([finding("fail", "C5-S03")])
    assert capsys.readouterr().out == "fail overlap-end C5-S03: end gap 1 in, trim hides 1/2 in; fix: cut it\n"


def test_the_same_words_are_said_once(capsys: pytest.CaptureFixture[str]) -> None:
    show_findings([finding("fail", f"C1-S{n:02}") for n in range(1, 10)])
    out = " ".join(capsys.readouterr().out.split())
    assert out.count("trim hides") == 1
    assert "C1-S06 and 3 more:" in out


def test_a_long_list_is_cut_and_says_so(capsys: pytest.CaptureFixture[str]) -> None:
    show_findings([finding("warn", f"C1-S{n}", message=f"gap {n} in") for n in range(30)])
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) == 9
    assert "22 more" in lines[-1]


def test_passes_are_summed_up(capsys: pytest.CaptureFixture[str]) -> None:
    show_findings([finding("pass", "C1"), finding("pass", "C2"), finding("ask", "C3")])
    first, last = capsys.readouterr().out.splitlines()
    assert first.startswith("ask overlap-end C3")
    assert last == "pass overlap-end: 2 are good"


@pytest.mark.parametrize(("levels", "status"), [((), 0), (("pass", "ask", "warn"), 0), (("pass", "fail"), 1)])
def test_only_a_failure_is_one(levels: tuple[Level, ...], status: int) -> None:
    assert status_of([finding(level, "C1") for level in levels]) == status


def test_names() -> None:
    assert names(["a"]) == "a"
    assert names(list("abcdef")) == "a, b, c, d, e, f"
    assert names(list("abcdefg")) == "a, b, c, d, e, f and 1 more"
