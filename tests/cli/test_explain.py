"""What checks mean, from the command line."""

import pytest

from commands import Lacunar
from lacunar.checks import CHECKS


@pytest.mark.parametrize("check", CHECKS)
def test_every_check_is_explained(lacunar: Lacunar, check: str) -> None:
    done = lacunar("explain", check)
    assert (done.status, done.err) == (0, "")
    lines = done.out.splitlines()
    assert " ".join(lines).startswith(f"{check}: ")
    assert [line.split(":")[0] for line in lines if line[0] != " "][1:] == ["What", "Why", "Fix", "Source"]
    assert max(len(line) for line in lines[1:]) <= 80


def test_an_unknown_name_gives_the_nearest(lacunar: Lacunar) -> None:
    done = lacunar("explain", "overlpa-ends")
    assert (done.status, done.out) == (2, "")
    assert "overlap-end" in done.err
    assert len(done.err.splitlines()) == 1


def test_without_a_name_all_are_listed_with_a_line_each(lacunar: Lacunar) -> None:
    done = lacunar("explain")
    assert done.status == 0
    assert [line.split()[0] for line in done.out.splitlines()] == list(CHECKS)
    assert all(line.endswith("?") for line in done.out.splitlines())
