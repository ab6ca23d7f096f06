"""The question whether pictures can be made: it must never end this process, and be asked once."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from lacunar.pictures import probe
from lacunar.pictures.trial import ORANGE, drawn


@pytest.fixture(autouse=True)
def fresh() -> Iterator[None]:
    for question in (probe.can_render, probe.can_trace):
        question.cache_clear()
    yield
    for question in (probe.can_render, probe.can_trace):
        question.cache_clear()


def child(monkeypatch: pytest.MonkeyPatch, folder: Path, code: str, which: str = "TRIAL") -> None:
    """Let the child run other code."""
    script = folder / "trial.py"
    script.write_text(code, encoding="utf-8")
    monkeypatch.setattr(probe, which, script)


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


COMPILED_DIES = "import os, sys\nif sys.argv[1] == 'llvm_ad_rgb':\n    os.abort()"


@pytest.mark.parametrize(
    ("code", "variant", "advice"),
    [
        ("pass", "llvm_ad_rgb", ""),
        (COMPILED_DIES, "scalar_rgb", "apt-get install libllvm19"),
        ("import os; os.abort()", None, "apt-get install libatomic1"),
        ("raise NameError('no _ext')", None, "NameError: no _ext"),
        ("import nothing_of_that_name", None, "pip install 'lacunar[traced]'"),
    ],
)
def test_a_tracer_that_dies_is_an_answer(
    code: str, variant: str | None, advice: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    child(monkeypatch, tmp_path, code, "TRACE_TRIAL")
    tracing = probe.can_trace()
    assert tracing.variant == variant
    assert advice in tracing.advice
    assert bool(advice) == bool(tracing.advice)
    assert "\n" not in tracing.advice, "one line"
