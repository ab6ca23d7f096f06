"""The window, on a screen that nobody looks at."""

import os
import re
import shutil
import signal
import subprocess
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageGrab

from commands import Start, change
from lacunar.pictures import can_render
from lacunar.pictures.signals import remembered

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


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_a_signal_waits_until_the_library_s_code_is_left(number: signal.Signals) -> None:
    heard: list[int] = []
    before = signal.signal(number, lambda n, _frame: heard.append(n))
    try:
        with remembered() as signals:
            signal.raise_signal(number)
            assert (heard, signals.come) == ([], [number])
            with signals.heeded():
                signal.raise_signal(number)
            assert heard == [number], "what is asked for news may be stopped at once"
        assert heard == [number, number]
        signal.raise_signal(number)
        assert len(heard) == 3
    finally:
        signal.signal(number, before)
