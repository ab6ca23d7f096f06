"""Alternatives in a table."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from commands import Lacunar
from lacunar.checks import Finding
from lacunar.config import read_config
from lacunar.job import against, choice_facts, run_job, summarise, summary_lines


@pytest.fixture
def without_pictures(children: Callable[[str], None]) -> None:
    """As on a machine without OpenGL: the table alone."""
    children("import os\nos.abort()")


@pytest.mark.usefixtures("without_pictures")
def test_one_row_for_each_combination(lacunar: Lacunar, configs: Path) -> None:
    done = lacunar("compare", configs / "3-square.toml", "--run", "with,across", "--set", "slats.gap=1/4 in,3/8 in")
    assert done.status == 0
    lines = done.out.splitlines()
    assert [line.split()[0] for line in lines[:4]] == list("abcd")
    assert lines[0] == "a   with, gap 1/4 in"
    head = next(i for i, line in enumerate(lines) if line.split()[:2] == ["full", "ripped"])
    rows = [line.split() for line in lines[head + 1 : head + 5]]
    assert [row[0] for row in rows] == list("abcd")
    assert rows[0][1:3] == ["90", "9"]  # ten full ones and a rip in each of nine equal coffers
    assert max(len(line) for line in lines) <= 80


def test_json_is_the_report_alone(lacunar: Lacunar, configs: Path, tmp_path: Path) -> None:
    config = tmp_path / "square.toml"
    config.write_text((configs / "3-square.toml").read_text(encoding="utf-8"), encoding="utf-8")
    done = lacunar("compare", config, "--json", "--run", "with,across,alternate")
    report = json.loads(done.out)
    assert done.err == ""
    assert [one["set"] for one in report["variants"]] == [{"slats.run": run} for run in ("with", "across", "alternate")]
    for one in report["variants"]:
        assert (one["full"], one["ripped"]) == (90, 9)
        assert one["board_length"] > 0.0
        assert 0.0 <= one["waste"] < 1.0
        assert (one["cost"], one["cost_complete"], one["cost_range"]) == (None, False, None)  # it gives no prices
        assert sum(one["findings"].values()) == len(one["checks"])
    assert list(tmp_path.iterdir()) == [config]


@pytest.mark.usefixtures("without_pictures")
def test_one_that_cannot_be_laid_out_is_named_beside_the_others(lacunar: Lacunar, configs: Path) -> None:
    """With one row aligned to the lamp, that row would stand in a wall; with none or two there is a ceiling."""
    rows = ("--set", "cross_beams.rows=0,1,2")
    done = lacunar("compare", configs / "6-sagging.toml", *rows)
    assert done.status == 1
    assert [line.split()[:3] for line in done.out.splitlines()[:2]] == [["a", "rows", "0"], ["b", "rows", "2"]]
    assert "not compared: rows 1: cross_beams.align: moving the rows" in done.out
    variants = json.loads(lacunar("compare", configs / "6-sagging.toml", "--json", *rows).out)["variants"]
    assert [one["set"]["cross_beams.rows"] for one in variants] == ["0", "2", "1"]
    assert "pushes one of them into a wall" in variants[2]["refused"][0]


def test_where_none_can_be_laid_out_there_is_nothing_to_compare(lacunar: Lacunar, configs: Path) -> None:
    done = lacunar("compare", configs / "6-sagging.toml", "--json", "--set", "cross_beams.rows=1")
    assert (done.status, done.out) == (2, "")
    assert done.err.count("pushes one of them into a wall") == 1


def test_a_failing_alternative_is_one(lacunar: Lacunar, configs: Path) -> None:
    """Slats along measured joists catch none of them without furring."""
    furring = ("--set", "furring.use=auto,false")
    done = lacunar("compare", configs / "4-inch.toml", "--json", "--run", "with", *furring)
    furred, bare = json.loads(done.out)["variants"]
    assert done.status == 1
    assert furred["findings"]["fail"] == 0
    assert bare["findings"]["fail"] > 0
    assert furred["joists"] >= 2 > bare["joists"]


@pytest.mark.usefixtures("without_pictures")
def test_what_each_alternative_costs(lacunar: Lacunar, configs: Path) -> None:
    done = lacunar("compare", configs / "4-inch.toml", "--run", "across,alternate")
    assert "an estimate, ask for quotes" in " ".join(done.out.split())
    lines = done.out.splitlines()
    head = next(i for i, line in enumerate(lines) if line.split()[:2] == ["full", "ripped"])
    column = len(lines[head][: lines[head].index("cost") + 4])
    for line, run in zip(lines[head + 1 : head + 3], ("across", "alternate"), strict=True):
        cost = run_job(read_config(configs / "4-inch.toml", [("slats.run", run)])).cost
        assert line[:column].split()[-1] == f"{cost.total:,.0f}"


SECOND_THOUGHTS = (
    "trim.width=1 in",
    "trim.stock=1x2",
    "slats.width=5 1/2 in",
    "slats.stock=1x6",
    "cross_beams.rows=0,2,3",
    "furring.use=true,false",
)


@pytest.mark.parametrize("change", SECOND_THOUGHTS)
@pytest.mark.parametrize("name", ["4-inch.toml", "5-metric.toml"])
def test_a_price_list_need_not_fit_the_alternative(lacunar: Lacunar, configs: Path, name: str, change: str) -> None:
    """What is listed and not used is left out; what is used and not listed is named, and the total says it lacks it."""
    done = lacunar("compare", configs / name, "--set", change, "--json")
    assert done.status in (0, 1), done.err
    for one in json.loads(done.out)["variants"]:
        unlisted = any("is not in the shop table" in finding["message"] for finding in one["checks"])
        assert unlisted == change.startswith(("trim.", "slats."))
        assert not (unlisted and one["cost_complete"])
        assert one["cost"] > 0.0


def test_what_fit_chance_advises_can_be_compared(lacunar: Lacunar, configs: Path) -> None:
    job = run_job(read_config(configs / "4-inch.toml"))
    (risk,) = (finding for finding in job.findings if finding.check == "fit-chance")
    changes = [change.split(" = ") for change in risk.fix.split(" makes it ")[0].split(" and ")]
    sets = [word for key, value in changes for word in ("--set", f"{key}={value}")]
    done = lacunar("compare", configs / "4-inch.toml", *sets, "--json")
    assert done.status in (0, 1), done.err
    (variant,) = json.loads(done.out)["variants"]
    assert [check["level"] for check in variant["checks"] if check["check"] == "fit-chance"] == ["pass"]


@pytest.mark.usefixtures("without_pictures")
def test_what_has_no_price_is_said(lacunar: Lacunar, configs: Path) -> None:
    done = lacunar("compare", configs / "4-inch.toml", "--set", "trim.width=1 in")
    assert "+ lacks wood for 60 parts that no board gives" in " ".join(done.out.split())


@pytest.mark.parametrize(
    "arguments",
    [
        ("--run", "sideways"),
        ("--run", "with,"),
        ("--set", "slats.gap"),
        ("--set", "slats.nonsense=1,2"),
        ("--set", "slats.gap=-1,1/4 in"),
        ("--view", "cellar"),
    ],
    ids=" ".join,
)
def test_bad_alternatives_are_two_and_write_nothing(lacunar: Lacunar, room: Path, arguments: tuple[str, ...]) -> None:
    done = lacunar("compare", room, *arguments)
    assert done.status == 2
    assert done.err
    assert list(room.parent.iterdir()) == [room]


def overlaps(findings: tuple[Finding, ...]) -> list[float]:
    """What the two overlap checks found, as they say it."""
    return [f.value for f in findings if f.check in ("overlap-end", "overlap-edge") and f.value is not None]


@pytest.mark.parametrize("name", ["2-one-coffer.toml", "3-square.toml", "4-inch.toml"])
def test_a_summary_says_what_the_parts_say(configs: Path, name: str) -> None:
    job = run_job(read_config(configs / name))
    one = summarise(job)
    slats = [part for part in job.parts if part.kind == "slat"]
    assert one.full + one.ripped == len(slats) == len(job.layout.slats)
    assert one.ripped == sum(part.width < job.layout.slat.width - 1e-6 for part in slats)
    assert one.board_length == pytest.approx(sum(board.length for board in job.plan.boards))
    used = sum(part.length for part in job.parts if part.bought)
    assert one.waste == pytest.approx(1.0 - job.plan.used_length / one.board_length)
    assert used >= job.plan.used_length * (1.0 - 1e-9)  # two rips may share a length of board
    assert one.overlap == min(overlaps(job.findings))
    assert f"distinct lengths {one.lengths}" in summary_lines(job)
    assert sum(one.findings.values()) == len(job.findings)


def test_the_sheet_tells_the_numbers_of_the_table_and_what_stands_against_it(configs: Path) -> None:
    """With nails that miss every joist, and with warnings alone."""
    bare = [("slats.run", "with"), ("furring.use", "false")]
    for overrides in (bare, [("slats.run", "across")]):
        job = run_job(read_config(configs / "4-inch.toml", overrides), weighed=False)
        one, facts, words = summarise(job), dict(choice_facts(job)), against(job)
        assert facts["cost, USD, estimated"] == f"{job.cost.total:,.0f}"
        assert facts["slats to rip"] == f"{one.ripped} of {one.full + one.ripped}"
        assert facts["stops of the saw"] == str(job.plan.distinct_lengths)
        assert facts["joists caught"] == (f"{one.joists} or more a slat" if one.joists else "none by some slats")
        assert words[0] == ("nothing fails" if overrides is not bare else f"not buildable yet: {MISSES}")
        assert words[1].startswith("to know: ")


MISSES = "nails or screws without enough wood: 180, first at C1-S01"


def test_another_wood_at_the_price_of_the_first_is_said(lacunar: Lacunar, configs: Path, tmp_path: Path) -> None:
    """A price list names sections alone, so oak would look as cheap as pine."""
    room = tmp_path / "room.toml"
    oak = '[[alternative]]\nname = "oak"\nset = { "slats.species" = "white oak" }\n'
    room.write_text((configs / "4-inch.toml").read_text(encoding="utf-8") + oak, encoding="utf-8")
    done = lacunar("build", room, "-o", tmp_path / "out", "--only", "report")
    told = json.loads((tmp_path / "out" / "report.json").read_text(encoding="utf-8"))["alternatives"]
    assert done.status == 0
    assert [any(line.endswith("ask what white oak costs") for line in row["choice"]["against"]) for row in told] == [
        False,
        True,
    ]
