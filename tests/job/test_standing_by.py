"""Processes that are started before there is anything for them to do."""

import os
import sys

import pytest

from job.errands import patience, who
from lacunar.job import apart
from lacunar.job.apart import run_apart, standing_by
from lacunar.job.run import silent


def started() -> list[int]:
    return [process.pid for _, process in apart._standing_by]  # pyright: ignore[reportPrivateUsage]


def test_the_one_that_stands_by_does_it_and_ends() -> None:
    told: list[str] = []
    with standing_by("scene"):
        (pid,) = started()
        said = run_apart({"a": ("scene", who), "b": ("scene", who)}, lambda text, _: told.append(text))
        assert started() == []
        assert said["a"] == (str(pid),)
        assert said["b"] is not None
        assert said["b"] != said["a"]
        assert told == ["here", "here"]
    with pytest.raises(ProcessLookupError):
        os.kill(pid, 0)


def test_one_for_another_need_is_left_alone_and_ends_with_the_block() -> None:
    with standing_by("solids"):
        (pid,) = started()
        assert run_apart({"a": ("scene", who)}, silent)["a"] != (str(pid),)
        assert started() == [pid]
    assert started() == []
    with pytest.raises(ProcessLookupError):
        os.kill(pid, 0)


@pytest.mark.skipif(sys.platform == "win32", reason="there is no niceness there")
def test_sheets_let_pictures_go_first() -> None:
    said = run_apart({"sheets": ("sheets", patience), "pictures": ("scene", patience)}, silent)
    (sheets,), (pictures,) = said["sheets"] or ("",), said["pictures"] or ("",)
    assert int(sheets) == min(int(pictures) + apart.LATER, 19)
