"""Findings as text."""

import re
from dataclasses import replace

import pytest

from lacunar.checks import Finding, Level
from lacunar.told import Told, amount, place
from lacunar.units import read_length
from lacunar_cli.sentences import names, sentence, sentences, todo
from lacunar_cli.show import show_findings, status_of

MESSAGE = "the gap at its end is 1 1/8 in, the trim hides 1/2 in"
FIX = "cut it 5/8 in longer, or use trim 5/8 in wider"


def told(text: str) -> Told:
    """With the amounts that stand between brackets, and the ids between pointed ones."""

    def marked(found: re.Match[str]) -> str:
        inside = found[0][1:-1]
        if found[0][0] == "<":
            return place(inside)
        unit = inside.rpartition(" ")[2]
        plain = inside.replace(",", "")
        return amount(inside, read_length(plain) if unit in ("in", "mm", "ft") else float(plain.split()[0]))

    return Told(re.sub(r"\[.*?\]|<.*?>", marked, text))


def finding(
    level: Level,
    where: str,
    message: str = MESSAGE,
    fix: str = FIX,
    *,
    check: str = "overlap-end",
    value: float = 1.0,
    assumed: tuple[str, ...] = (),
) -> Finding:
    return Finding(
        check=check,
        level=level,
        where=where,
        value=value,
        limit=0.0,
        unit="mm",
        message=told(message),
        fix=told("" if level == "pass" else fix),
        source="from memory",
        assumed=assumed,
    )


def only(findings: list[Finding], *, every: bool = False) -> str:
    (said,) = sentences(findings, every=every)
    return f"{said.text} {said.source}"


def test_a_finding_is_a_sentence_and_its_check_stands_at_the_end(capsys: pytest.CaptureFixture[str]) -> None:
    show_findings([finding("fail", "C5-S03")])
    assert capsys.readouterr().out == (
        "fail  C5-S03: the gap at its end is 1 1/8 in, the trim hides 1/2 in. Cut it 5/8\n"
        "      in longer, or use trim 5/8 in wider. (overlap-end)\n"
    )


def test_the_same_words_are_said_once() -> None:
    text = only([finding("fail", f"C1-S{n:02}") for n in range(1, 10)])
    assert text.count("trim hides") == 1
    assert text.startswith("C1-S01, C1-S02, C1-S03, C1-S04, C1-S05, C1-S06 and 3 more: the gap")
    assert "worst" not in text


def test_where_only_numbers_differ_the_range_is_said_and_the_worst_named() -> None:
    found = [
        finding("fail", f"C1-S0{n}", f"its gap is [{gap}], the trim hides [1/2 in]", f"cut it [{more}] longer", value=n)
        for n, gap, more in ((1, "5/8 in", "1/8 in"), (3, "1 ft 1 1/8 in", "1 ft 5/8 in"), (2, "11 in", "10 1/2 in"))
    ]
    text = only(found)
    assert text == (
        "C1-S01, C1-S03, C1-S02: its gap is 5/8 in to 1 ft 1 1/8 in, the trim hides 1/2 in. C1-S03 is the worst."
        " Cut it 1/8 in to 1 ft 5/8 in longer. (overlap-end)"
    )


@pytest.mark.parametrize(
    ("amounts", "expected"),
    [
        (("3/8 in", "1/4 in"), "1/4 to 3/8 in"),
        (("1 ft 0 in", "11 7/8 in"), "11 7/8 in to 1 ft 0 in"),
        (("1,050 mm", "995 mm"), "995 to 1,050 mm"),
        (("12", "7"), "7 to 12"),
        (("16 ft", "8 ft"), "8 to 16 ft"),
        (("2.5", "10"), "2.5 to 10"),
    ],
)
def test_ranges_go_from_the_least_to_the_greatest(amounts: tuple[str, str], expected: str) -> None:
    found = [finding("warn", f"C{n}", f"it is [{size}]") for n, size in enumerate(amounts)]
    assert f"it is {expected}" in only(found)


def test_ids_and_stocks_are_no_amounts() -> None:
    alike = [finding("warn", f"X1-{n}", f"<X1-{n}> is a 1x4 beside <E{n}>", fix="") for n in (1, 2)]
    text = only(alike)
    assert text == "X1-1, X1-2, for one X1-1: X1-1 is a 1x4 beside E1. (overlap-end)"


def test_where_ids_differ_the_worst_speaks_for_all() -> None:
    found = [finding("warn", f"C{n}", f"<C{n}-S01> stands [{n} in] off", value=n) for n in (1, 3, 2)]
    assert only(found).startswith("C1, C3, C2, the worst C3: C3-S01 stands 3 in off.")


def test_a_long_list_is_cut_and_says_so() -> None:
    words = "abcdefghijklmnopqrstuvwxyz"
    found = [finding("warn", "C1", f"it is {letter} wide", fix=letter) for letter in words]
    shown = sentences(found)
    assert len(shown) == 9
    assert shown[-1].text == "and 18 more like these: --all lists them."
    assert len(sentences(found, every=True)) == len(words)


def test_what_has_one_cure_is_said_together() -> None:
    found = [finding("ask", "C1", "it sags", "fur it"), finding("ask", "C1", "it is twisted", "fur it", check="twist")]
    assert only(found) == "C1: it sags. C1: it is twisted. Fur it. (overlap-end, twist)"


def test_what_is_assumed_is_said_once_for_all_checks_that_rest_on_it() -> None:
    found = [
        finding("ask", "C1", f"least gap [{n} in]", "measure it", check=check, assumed=("A is square", "E1 is flat"))
        for n, check in enumerate(("overlap-end", "clash"))
    ]
    assert only(found) == "Assumed: A is square and E1 is flat. Measure it. (overlap-end, clash)"
    whole = sentences(found, every=True)
    assert "least gap 1 in" in " ".join(said.text for said in whole)


def test_passes_are_names_and_whole_where_everything_is_wanted(capsys: pytest.CaptureFixture[str]) -> None:
    found = [finding("pass", "C1"), finding("pass", "C2", check="clash"), finding("ask", "C3")]
    show_findings(found)
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith("ask   C3: the gap")
    assert lines[-1] == "pass  overlap-end, clash."
    show_findings(found, every=True)
    assert "pass  C2: the gap" in capsys.readouterr().out


def test_cautions_stay_short(capsys: pytest.CaptureFixture[str]) -> None:
    caution = finding("ask", "house.built", "old paint may hold lead", "have it tested", check="caution-lead")
    show_findings([caution])
    head, line = capsys.readouterr().out.splitlines()
    assert "local code and licensed trades decide" in head
    assert line == "ask   Have it tested. (caution-lead)"
    show_findings([caution], every=True)
    assert "Old paint may hold lead. Have it tested." in capsys.readouterr().out


def test_the_check_is_dim_on_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm")
    tails: list[str] = []

    def heard(text: str = "", head: str = "", tail: str = "") -> None:
        tails.append(tail)

    monkeypatch.setattr("lacunar_cli.show.say", heard)
    show_findings([finding("fail", "C1", "it is short", "cut it longer")])
    assert tails[0].startswith("\x1b[2m(overlap-end)")


def test_what_to_do_names_places_and_check() -> None:
    found = [finding("fail", f"C1-S0{n}", fix=f"cut it [{n}/8 in] longer") for n in (1, 3)]
    assert list(todo(found)) == ["C1-S01, C1-S03: cut it 1/8 to 3/8 in longer (overlap-end)"]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("cut it", "Cut it."),
        ("trim.width = 1 in would do", "trim.width = 1 in would do."),
        ("C1-S01 is the worst", "C1-S01 is the worst."),
        ("two people, a prop", "Two people, a prop."),
    ],
)
def test_keys_keep_their_letters(text: str, expected: str) -> None:
    assert sentence(text) == expected


@pytest.mark.parametrize(("levels", "status"), [((), 0), (("pass", "ask", "warn"), 0), (("pass", "fail"), 1)])
def test_only_a_failure_is_one(levels: tuple[Level, ...], status: int) -> None:
    assert status_of([finding(level, "C1") for level in levels]) == status


def test_names() -> None:
    assert names(["a"]) == "a"
    assert names(list("abcdef")) == "a, b, c, d, e, f"
    assert names(list("abcdefg")) == "a, b, c, d, e, f and 1 more"


def test_what_tells_its_worst_is_not_told_before_it_again() -> None:
    found = finding("warn", "X1-2", "6 beams alike, the worst is X1-2: it is short", "")
    assert only([replace(found, alike=6, worst="X1-2")]).startswith("6 beams alike, the worst is X1-2: it is short.")
    other = replace(
        finding("warn", "C1", "6 parts alike, the worst is C1-S02: it is short", ""), alike=6, worst="C1-S02"
    )
    assert only([other]).startswith("C1: 6 parts alike, the worst is C1-S02")
