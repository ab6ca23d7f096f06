"""The run order: every stage once, each told, and all of it in the job."""

from dataclasses import replace
from pathlib import Path

import pytest

from checks.sample import SQUARE, edited
from lacunar.config import read_config, read_config_text
from lacunar.job import Job, as_designed, report_of, run_job, summarise, summary_lines, trust_of
from lacunar.layout import arrange_layout
from lacunar.parts import cut_to, make_parts
from lacunar.plan import make_plan
from lacunar.survey import solve_survey


@pytest.fixture(scope="module")
def job() -> Job:
    return run_job(read_config_text(SQUARE, "square.toml"))


def test_each_stage_stands_on_the_one_before(job: Job) -> None:
    config = job.config
    room = solve_survey(config)
    layout = arrange_layout(room, config)
    drawn = make_parts(layout)
    plan = make_plan(drawn, config)
    assert (job.room, job.layout, job.plan.lengths) == (room, layout, plan.lengths)
    assert job.parts == as_designed(job)[1] == cut_to(drawn, plan.lengths)


def test_a_job_for_a_picture_says_the_same_but_for_remedies(job: Job, configs: Path) -> None:
    """Pictures and tables tell levels and messages; trying the inch room's remedy is most of the work for them."""
    quick = run_job(read_config_text(SQUARE, "square.toml"), weighed=False, advised=False)
    assert [(f.check, f.level, f.message) for f in quick.findings] == [
        (f.check, f.level, f.message) for f in job.findings
    ]
    assert trust_of(quick) == trust_of(job)
    inch = run_job(read_config(configs / "4-inch.toml"), weighed=False, advised=False)
    chance = next(finding for finding in inch.findings if finding.check == "fit-chance")
    assert chance.level == "warn"
    assert "makes it" not in chance.fix, "no change was tried"


def test_steps_are_told_before_they_are_done() -> None:
    told: list[tuple[str, float]] = []
    run_job(read_config_text(SQUARE, "square.toml"), lambda text, share: told.append((text, share)))
    assert [text for text, _ in told] == ["survey", "layout", "parts", "plan", "checks"]
    shares = [share for _, share in told]
    assert shares == sorted(shares)
    assert shares[0] == 0.0
    assert shares[-1] < 1.0


def test_measures_of_the_field_change_parts_and_not_the_design(job: Job) -> None:
    strip = next(part for part in job.parts if part.kind == "trim")
    text = edited(SQUARE, ("[finish]", f"[field.{strip.id}]\nlength = {strip.length - 3.0!r}\n[finish]"))
    measured = run_job(read_config_text(text, "square.toml"))
    assert as_designed(measured)[1] == job.parts
    before = {part.id: part.length for part in job.parts}
    shorter = {part.id: part.length - before[part.id] for part in measured.parts if part.length != before[part.id]}
    assert shorter == {strip.id: pytest.approx(-3.0)}


def test_advice_is_all_that_goes_without_it() -> None:
    """Narrow trim: wider trim is tried, and helps."""
    text = edited(SQUARE, ("width = 20\nheight", "width = 14\nheight"))
    advised, plain = (run_job(read_config_text(text, "square.toml"), advised=advised) for advised in (True, False))
    tried = [one for one, other in zip(advised.findings, plain.findings, strict=True) if one != other]
    assert [one.check for one in tried if "trim.width = " in one.fix] == ["fit-chance"]
    assert [replace(one, fix="") for one in advised.findings] == [replace(one, fix="") for one in plain.findings]
    assert replace(advised, findings=()) == replace(plain, findings=())


def test_what_is_said_of_a_job_is_said_alike(job: Job, configs: Path) -> None:
    for one in (job, run_job(read_config(configs / "1-first-look.toml"))):
        report, summary = report_of(one), summarise(one)
        assert report.good_for == trust_of(one).good_for
        assert report.checks == one.findings
        assert sum(row.slats for row in report.coffers) == summary.full + summary.ripped
        assert f"full slats {summary.full}" in summary_lines(one)
