"""The question whether pictures can be made: it must never end this process, and be asked once."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from lacunar.pictures import probe
from lacunar.pictures.trial import ORANGE, drawn


@pytest.fixture(autouse=True)
def fresh() -> Iterator[None]:
    probe.can_render.cache_clear()
    yield
    probe.can_render.cache_clear()


def child(monkeypatch: pytest.MonkeyPatch, folder: Path, code: str) -> None:
    """Let the child run other code."""
    script = folder / "trial.py"
    script.write_text(code, encoding="utf-8")
    monkeypatch.setattr(probe, "TRIAL", script)


@pytest.mark.parametrize("end", ["import os; os.abort()", "raise SystemExit(3)", "import os; os.kill(os.getpid(), 11)"])
def test_a_child_that_dies_is_an_answer(end: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    child(monkeypatch, tmp_path, end)
    advice = probe.can_render()
    assert advice is not None
    assert "libgl1" in advice
    assert "libegl1" in advice


def test_a_child_that_never_ends_is_an_answer(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    child(monkeypatch, tmp_path, "import time; time.sleep(60)")
    monkeypatch.setattr(probe, "PATIENCE", 0.5)
    assert probe.can_render() is not None


def test_it_is_asked_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    child(monkeypatch, tmp_path, "pass")
    assert probe.can_render() is None
    child(monkeypatch, tmp_path, "import os; os.abort()")
    assert probe.can_render() is None


def test_the_trial_draws_what_it_says() -> None:
    advice = probe.can_render()
    if advice:
        pytest.skip(advice)
    assert drawn() == pytest.approx(ORANGE, abs=3)
