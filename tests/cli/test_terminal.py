"""What reaches a terminal."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from commands import Lacunar, Start
from lacunar_cli.terminal import clean, styled

ESCAPE = "\x1b]0;owned\x07\x9b31m‮mirror⁦"


def test_what_steers_is_written_out() -> None:
    assert clean("a\x1b[2Jb") == r"a\u001b[2Jb"
    assert clean(ESCAPE).isascii()
    assert clean("Küche, 3⅜\nnext") == "Küche, 3⅜\nnext"


def test_json_stays_the_same_json() -> None:
    value = {"title": ESCAPE}
    assert json.loads(clean(json.dumps(value, ensure_ascii=False))) == value


@pytest.mark.parametrize(("name", "value"), [("NO_COLOR", "1"), ("TERM", "dumb")])
def test_no_colour_where_it_is_not_wanted(monkeypatch: pytest.MonkeyPatch, name: str, value: str) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm")
    assert "\x1b" in styled("fail", colour="red")
    monkeypatch.setenv(name, value)
    assert styled("fail", colour="red") == "fail"


@pytest.mark.parametrize("place", ["title = {}", "[slats]\nrun = {}", "[[beam]]\nname = {}", "[room.marks]\n{} = 1"])
def test_a_config_steers_nothing(lacunar: Lacunar, tmp_path: Path, place: str) -> None:
    path = tmp_path / "room.toml"
    path.write_text(place.format(json.dumps(ESCAPE)) + "\n", encoding="utf-8")
    done = lacunar("check", path)
    assert done.status == 2
    assert not set(ESCAPE) & set("\x1b\x07\x9b‮⁦") & set(done.out + done.err)


def test_nor_does_the_name_of_a_file(lacunar: Lacunar, tmp_path: Path) -> None:
    done = lacunar("check", tmp_path / "\x1b[31mroom.toml")
    assert done.status == 2
    assert "\x1b" not in done.err
    assert r"\u001b" in done.err


def test_what_the_terminal_cannot_print_is_replaced(apart: Start, room: Path) -> None:
    text = room.read_text(encoding="utf-8").replace('title = "', 'title = "厨 ', 1)
    room.write_text(text, encoding="utf-8")
    process = apart("check", room, env={"PYTHONIOENCODING": "latin-1", "PYTHONUTF8": "0"})
    out, err = process.communicate(timeout=60)
    assert process.returncode == 0, err
    assert out.startswith("? ")


@pytest.mark.skipif(sys.platform == "win32", reason="closed by a shell's own words")
def test_a_closed_stderr_keeps_the_status(tmp_path: Path) -> None:
    code = "from lacunar_cli.main import main; main()"
    for closing in ("2>&-", "2>/dev/full"):
        shell = f'"{sys.executable}" -c "{code}" check "{tmp_path}/absent.toml" {closing}'
        done = subprocess.run(shell, shell=True, capture_output=True, timeout=60, check=False, env=os.environ)
        assert done.returncode == 2, closing


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
def test_a_report_that_cannot_be_printed_is_two(room: Path) -> None:
    code = "from lacunar_cli.main import main; main()"
    shell = f'"{sys.executable}" -c "{code}" check --json "{room}" >/dev/full'
    done = subprocess.run(shell, shell=True, capture_output=True, timeout=60, check=False, env=os.environ)
    assert done.returncode == 2
    assert b"Traceback" not in done.stderr
