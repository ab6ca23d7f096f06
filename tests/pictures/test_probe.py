"""The question whether pictures can be made: it must never end this process, and be asked once."""

import pytest

from lacunar.pictures import probe


@pytest.fixture(autouse=True)
def fresh() -> None:
    probe.can_render.cache_clear()


@pytest.mark.parametrize("end", ["import os; os.abort()", "raise SystemExit(3)", "import os; os.kill(os.getpid(), 11)"])
def test_a_child_that_dies_is_an_answer(end: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(probe, "_TRY", end)
    advice = probe.can_render()
    assert advice is not None
    assert "libgl1" in advice
    assert "libegl1" in advice
    probe.can_render.cache_clear()


def test_a_child_that_never_ends_is_an_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(probe, "_TRY", "import time; time.sleep(60)")
    monkeypatch.setattr(probe, "PATIENCE", 0.5)
    assert probe.can_render() is not None
    probe.can_render.cache_clear()


def test_it_is_asked_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(probe, "_TRY", "pass")
    assert probe.can_render() is None
    monkeypatch.setattr(probe, "_TRY", "import os; os.abort()")
    assert probe.can_render() is None
    probe.can_render.cache_clear()
