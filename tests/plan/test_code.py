"""The plan's code: the same for the same plan, another for whatever a sheet says differently."""

import re
from collections.abc import Callable, Sequence
from dataclasses import replace

import pytest

from lacunar.job import Job, code_of, run_job
from lacunar.parts import Part
from lacunar.plan import Plan, plan_code
from strategies import Wish, config_of, quad, text_of


@pytest.fixture(scope="module")
def job() -> Job:
    return run_job(config_of(text_of(quad(2800.0, 2500.0), Wish(beams=1, rows=1))), weighed=False)


def test_it_is_short_and_the_same_each_time(job: Job) -> None:
    code = code_of(job)
    assert re.fullmatch("[A-Z2-7]{6}", code)
    assert code == plan_code(job.parts, job.plan) == code_of(run_job(job.config, weighed=False))


def _first(parts: Sequence[Part], **other: float) -> tuple[Part, ...]:
    return (replace(parts[0], **other), *parts[1:])


Change = Callable[[Sequence[Part], Plan], tuple[Sequence[Part], Plan]]

CHANGES: tuple[Change, ...] = (
    lambda parts, plan: (_first(parts, width=parts[0].width + 0.02), plan),
    lambda parts, plan: (_first(parts, thickness=parts[0].thickness + 0.02), plan),
    lambda parts, plan: (parts, replace(plan, lengths={**plan.lengths, "C1-S02": plan.lengths["C1-S02"] + 0.8})),
    lambda parts, plan: (parts, replace(plan, boards=plan.boards[1:])),
    lambda parts, plan: (parts, replace(plan, boards=(plan.boards[1], plan.boards[0], *plan.boards[2:]))),
    lambda parts, plan: (parts, replace(plan, settings=(replace(plan.settings[0], stop=1.0), *plan.settings[1:]))),
    lambda parts, plan: (parts[1:], plan),
)


@pytest.mark.parametrize("change", CHANGES)
def test_another_plan_has_another(job: Job, change: Change) -> None:
    assert plan_code(*change(job.parts, job.plan)) != code_of(job)


def test_what_no_saw_can_do_makes_no_other(job: Job) -> None:
    lengths = {name: mm + 1e-9 for name, mm in job.plan.lengths.items()}
    assert plan_code(job.parts, replace(job.plan, lengths=lengths)) == code_of(job)
