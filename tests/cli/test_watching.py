"""The figure in a browser where there is no screen: served to this machine alone, and nothing is taken."""

import html
import http.client
import os
import re
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from commands import Start, change

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="there is always a screen elsewhere")

PATIENCE = 90.0


@pytest.fixture
def room(configs: Path, tmp_path: Path) -> Path:
    path = tmp_path / "room.toml"
    shutil.copy(configs / "2-one-coffer.toml", path)
    return path


@pytest.fixture
def served(room: Path, apart: Start) -> Iterator[tuple[str, "subprocess.Popen[str]"]]:
    """Host and port, and the process."""
    child = apart("view", room, "--watch", env={"DISPLAY": ""})
    assert child.stdout is not None
    told = re.search(r"http://(127\.0\.0\.1:\d+)/", child.stdout.readline())
    assert told is not None
    yield told[1], child
    if child.poll() is None:
        child.kill()
        child.communicate()


def ask(host: str, path: str, method: str = "GET", name: str | None = None) -> tuple[int, str]:
    """Status and body."""
    asked = http.client.HTTPConnection(host, timeout=30.0)
    asked.request(method, path, headers={"Host": name or host})
    answer = asked.getresponse()
    return answer.status, answer.read().decode()


def page_after(host: str, number: str) -> str:
    end = time.monotonic() + PATIENCE
    while ask(host, "/number")[1] != number:
        assert time.monotonic() < end, "nothing came"
        time.sleep(0.2)
    return ask(host, "/")[1]


def test_it_follows_the_file_and_takes_nothing(room: Path, served: tuple[str, "subprocess.Popen[str]"]) -> None:
    host, child = served
    status, page = ask(host, "/")
    assert status == 200
    assert 'id="figure-data"' in page
    assert "connect-src 'self'" in html.unescape(page)
    before = sorted(room.parent.iterdir())
    for path in ("/../room.toml", "/room.toml", "/number/", "/?", room.as_uri()):
        assert ask(host, path)[0] == 404
    for method in ("POST", "PUT", "DELETE", "HEAD", "OPTIONS"):
        assert ask(host, "/", method)[0] == 501
    assert ask(host, "/", name="another.invalid")[0] == 404
    assert sorted(room.parent.iterdir()) == before
    text = room.read_text(encoding="utf-8")
    change(room, "[slats]", "[slats]\nspeceis = '<b>'")
    page = page_after(host, "1")
    assert "speceis" in page
    assert 'id="figure-data"' in page, "the last good ceiling is still there"
    room.write_text(re.sub(r'title *= *".*"', 'title = "Larder & <i>"', text), encoding="utf-8")
    os.utime(room, (1.0, 1.0))
    page = page_after(host, "2")
    assert "Larder &amp; &lt;i&gt;" in page
    assert "speceis" not in page
    child.send_signal(signal.SIGINT)
    _, err = child.communicate(timeout=30)
    assert child.returncode == 130
    assert "Traceback" not in err
