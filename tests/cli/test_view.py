"""The window's other side: no screen, and a file that changes."""

import os
from pathlib import Path

import pytest

from commands import Lacunar, change
from lacunar.job import Job
from lacunar_cli.view import Watched


@pytest.mark.skipif(os.name == "nt", reason="there is always a screen there")
def test_without_a_screen_it_is_two(lacunar: Lacunar, room: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.platform", "linux")
    monkeypatch.delenv("DISPLAY", raising=False)
    done = lacunar("view", room)
    assert done.status == 2
    assert "no screen" in done.err


def save(room: Path, old: str, new: str) -> None:
    """Change a file, certainly at another time than before."""
    change(room, old, new)
    later = room.stat().st_mtime + 10.0
    os.utime(room, (later, later))


def test_a_saved_file_is_built_once(room: Path, capsys: pytest.CaptureFixture[str]) -> None:
    watched = Watched(room)
    assert watched.rebuilt() is None
    save(room, 'title = "Pantry"', 'title = "Larder"')
    job = watched.rebuilt()
    assert isinstance(job, Job)
    assert job.config.title == "Larder"
    assert watched.rebuilt() is None
    assert "built again" in capsys.readouterr().out


def test_a_mistake_is_told_and_mended_later(room: Path, capsys: pytest.CaptureFixture[str]) -> None:
    watched = Watched(room)
    save(room, "[slats]", "[slats]\nnonsense = 1")
    words = watched.rebuilt()
    assert isinstance(words, str), "which the window shows over the last good ceiling"
    assert "slats.nonsense" in words
    assert "slats.nonsense" in capsys.readouterr().err
    assert watched.rebuilt() is None
    assert capsys.readouterr().err == ""
    save(room, "nonsense = 1", "")
    assert isinstance(watched.rebuilt(), Job)


def test_a_file_that_is_away_for_a_moment_is_waited_for(room: Path) -> None:
    watched = Watched(room)
    text = room.read_text(encoding="utf-8")
    room.unlink()
    assert watched.rebuilt() is None
    room.write_text(text, encoding="utf-8")
    os.utime(room, (1.0, 1.0))
    assert watched.rebuilt() is not None
