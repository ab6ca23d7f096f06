"""Designs to choose from: those of the file, those that are typed, and one that cannot be laid out."""

import json
from pathlib import Path

import pytest

from lacunar.config import read_config
from lacunar.job import Job, report_of, run_job, with_alternatives
from lacunar.reports import alternative_lines, choice_words, read_report, write_report

MORE = """
[[alternative]]
name = "with the beams"
set = { "slats.run" = "with", "slats.gap" = "3/16 in" }
[[alternative]]
name = "forty rows"
set = { "cross_beams.rows" = 40 }
"""


@pytest.fixture(scope="module")
def room(tmp_path_factory: pytest.TempPathFactory, configs: Path) -> Path:
    path = tmp_path_factory.mktemp("room") / "room.toml"
    path.write_text((configs / "2-one-coffer.toml").read_text(encoding="utf-8") + MORE, encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def job(room: Path) -> Job:
    own = run_job(read_config(room), weighed=False, advised=False)
    typed = [(name, (("slats.run", name),)) for name in ("across", own.config.slats.run, "across")]
    return with_alternatives(own, [*typed, ("long wall", (("room.measured.AB", "30 ft"),))])


def test_the_own_one_first_and_what_is_planned_already_is_left_out(job: Job) -> None:
    names = [one.row.name for one in job.alternatives]
    assert names == ["as planned", "with the beams", "forty rows", "across", "long wall"]
    assert [dict(one.row.set) for one in job.alternatives[:2]] == [
        {},
        {"slats.run": "with", "slats.gap": "3/16 in"},
    ]


def test_each_is_told_as_a_config_of_its_own_would_be(job: Job, room: Path) -> None:
    row = job.alternatives[1].row
    alone = run_job(read_config(room, (("slats.run", "with"), ("slats.gap", "3/16 in"))), weighed=False, advised=False)
    report = report_of(alone)
    assert row.choice is not None
    assert (row.choice.code, row.choice.run, row.choice.gap) == (report.plan.code, "with", pytest.approx(25.4 * 3 / 16))
    assert row.choice.days == report.plan.calendar.days
    assert row.choice.stops == report.plan.distinct_lengths
    assert row.choice.boards == sum(line.count + line.spare for line in report.plan.buy)
    assert row.choice.slats == sum(part.kind == "slat" for part in report.parts)


def test_one_that_cannot_be_laid_out_spoils_nothing(job: Job) -> None:
    other = job.alternatives[2]
    assert other.job is None
    assert other.row.choice is None
    assert "take fewer" in other.row.refused[0]
    lines = alternative_lines([other.row], "USD")
    assert len(lines) == 1
    assert lines[0].startswith("forty rows: cannot be laid out: cross_beams.rows: 40 of them")


def test_a_room_that_is_none_is_refused_like_a_layout(job: Job) -> None:
    assert job.alternatives[-1].job is None
    assert "AB" in job.alternatives[-1].row.refused[0]


def test_the_report_holds_them_and_reads_them_back(job: Job, tmp_path: Path) -> None:
    report, path = report_of(job), tmp_path / "report.json"
    write_report(report, path)
    assert read_report(path).alternatives == report.alternatives == tuple(one.row for one in job.alternatives)
    (first, *_) = json.loads(path.read_text(encoding="utf-8"))["alternatives"]
    assert (first["name"], first["choice"]["code"]) == ("as planned", report.plan.code)


def test_without_any_there_is_nothing_to_choose(job: Job) -> None:
    alone = job.alternatives[0].job
    assert alone is not None
    assert report_of(alone).alternatives == ()


def test_words_of_a_choice_are_its_numbers(job: Job) -> None:
    choice = job.alternatives[0].row.choice
    assert choice is not None
    words = dict(choice_words(choice, "USD"))
    assert words["slats to rip"] == f"{choice.rips} of {choice.slats}"
    assert words["days"].startswith(f"{choice.days[0]} to {choice.days[1]} days; the room cannot be used for ")
