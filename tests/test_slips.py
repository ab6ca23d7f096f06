"""Every distance of every shipped room misread: a message that helps or findings, never another exception."""

import re
import time
from pathlib import Path

import pytest

from lacunar.errors import LacunarError
from lacunar.job import run_job
from slips import Slip, slips

CONFIGS = sorted((Path(__file__).resolve().parents[1] / "configs").glob("*.toml"))
SAMPLE = 151
"""One slip of so many is in the normal suite: a prime, so that every kind of slip has its turn."""
SECONDS = 20.0
NEGATIVE = re.compile(r"(^|[ (])-\d")

every = pytest.mark.parametrize("path", CONFIGS, ids=lambda path: path.stem)


def problem_texts(slip: Slip) -> list[str]:
    """What stops a misread room; nothing where it becomes a job, whose findings have no negative length."""
    try:
        findings = run_job(slip.config()).findings
    except LacunarError as error:
        return [f"{problem.what}{problem.fix}" for problem in error.problems]
    assert [f.message for f in findings if NEGATIVE.search(f.message)] == [], slip
    return []


def assert_told(slip: Slip) -> None:
    started = time.process_time()
    assert all(problem_texts(slip)), slip
    assert time.process_time() - started < SECONDS, slip


@every
def test_a_sample_of_slips_is_told(path: Path) -> None:
    for slip in list(slips(path))[::SAMPLE]:
        assert_told(slip)


@pytest.mark.long
@every
def test_every_slip_is_told(path: Path) -> None:
    for slip in slips(path):
        assert_told(slip)
