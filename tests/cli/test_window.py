"""The window, on a screen that nobody looks at."""

import os
import re
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from PIL import Image, ImageGrab

from commands import Start, change
from lacunar.errors import ExportError
from lacunar.pictures import can_render

PATIENCE = 90.0
"""Seconds for the window to show something on a busy machine."""


@pytest.fixture
def screen() -> Iterator[str]:
    """DISPLAY of a screen of our own."""
    if shutil.which("Xvfb") is None:
        pytest.skip("there is no Xvfb here to open a window on")
    advice = can_render()
    if advice:
        pytest.skip(advice)
    read, write = os.pipe()
    # Without -noreset it starts anew whenever the last of its clients leaves, and forgets who is just coming.
    command = ["Xvfb", "-displayfd", str(write), "-screen", "0", "1300x820x24", "-noreset"]
    with subprocess.Popen(command, pass_fds=[write], stderr=subprocess.DEVNULL) as server:
        os.close(write)
        with os.fdopen(read) as told:
            number = told.readline().strip()
        yield f":{number}"
        server.terminate()


def shot(screen: str) -> np.ndarray:
    return np.asarray(ImageGrab.grab(xdisplay=screen).convert("RGB")).astype(int)


def wait_for(condition: Callable[[], bool], child: "subprocess.Popen[str]") -> None:
    end = time.monotonic() + PATIENCE
    while not condition():
        assert child.poll() is None, child.communicate()
        assert time.monotonic() < end, "nothing came"
        time.sleep(0.3)


def test_it_shows_the_ceiling_says_what_is_wrong_and_ends_when_told(
    screen: str, apart: Start, configs: Path, tmp_path: Path
) -> None:
    room = tmp_path / "room.toml"
    shutil.copy(configs / "2-one-coffer.toml", room)
    bare = shot(screen)
    child = apart("view", room, "--watch", env={"DISPLAY": screen})
    wait_for(lambda: (shot(screen) != bare).any(axis=2).mean() > 0.5, child)
    seen = shot(screen)
    Image.fromarray(seen.astype(np.uint8)).save(tmp_path / "window.png")
    tones = seen[:780, :1260].sum(axis=2) / 3
    assert 60 < tones.mean() < 215
    assert tones.std() > 15
    text = room.read_text(encoding="utf-8")
    change(room, "[slats]", "[slats]\nspeceis = 1")
    wait_for(lambda: bool((shot(screen) != seen).any()), child)
    told = (shot(screen) != seen).any(axis=2)
    assert told[:200].any()
    assert not told[300:].any(), "the last good ceiling is still there, seen from the same place"
    room.write_text(text, encoding="utf-8")
    wait_for(lambda: bool((shot(screen) == seen).all()), child)
    began = time.monotonic()
    child.send_signal(signal.SIGTERM)
    out, err = child.communicate(timeout=30)
    assert time.monotonic() - began < 2.0
    assert child.returncode == 143
    assert "built again" in out
    assert re.search(r"speceis.*species", err)
    assert "Traceback" not in err


def test_it_ends_while_it_is_still_being_made(screen: str, apart: Start, configs: Path) -> None:
    child = apart("view", configs / "2-one-coffer.toml", env={"DISPLAY": screen})
    assert child.stdout is not None
    assert "turn with the mouse" in child.stdout.readline()
    began = time.monotonic()
    child.send_signal(signal.SIGINT)
    _, err = child.communicate(timeout=30)
    assert time.monotonic() - began < 2.0
    assert (child.returncode, err.strip()) == (130, "stopped")


@pytest.mark.skipif(sys.platform != "linux", reason="the library draws without a screen on Linux alone")
def test_a_screen_that_is_not_there_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the library would draw without one, and wait for a mouse that nobody has."""
    monkeypatch.setenv("DISPLAY", ":12345")
    window: Any = SimpleNamespace(render_window=SimpleNamespace(IsA="vtkEGLRenderWindow".__eq__))
    from lacunar.pictures.window import check_screen

    with pytest.raises(ExportError, match="no screen answers at DISPLAY=:12345"):
        check_screen(window)
