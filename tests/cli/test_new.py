"""A config to start from."""

import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from commands import Lacunar


@pytest.mark.parametrize("units", ["in", "mm"])
def test_what_it_writes_builds_as_it_stands(lacunar: Lacunar, tmp_path: Path, units: str) -> None:
    room = tmp_path / "room.toml"
    assert lacunar("new", room, "--units", units).status == 0
    assert tomllib.loads(room.read_text(encoding="utf-8"))["units"] == units
    assert lacunar("check", room).status == 0


def test_it_says_how_to_find_out(lacunar: Lacunar, tmp_path: Path) -> None:
    room = tmp_path / "room.toml"
    lacunar("new", room)
    text = room.read_text(encoding="utf-8").lower()
    for matter in ("joist", "magnet", "knock", "lamp", "diagonal", "asbestos", "electrician"):
        assert matter in text


def test_it_replaces_nothing(lacunar: Lacunar, tmp_path: Path) -> None:
    room = tmp_path / "room.toml"
    room.write_text("mine", encoding="utf-8")
    done = lacunar("new", room)
    assert done.status == 2
    assert "there already" in done.err
    assert room.read_text(encoding="utf-8") == "mine"


def test_unknown_units_write_nothing(lacunar: Lacunar, tmp_path: Path) -> None:
    assert lacunar("new", tmp_path / "room.toml", "--units", "cubits").status == 2
    assert not list(tmp_path.iterdir())


def on_a_terminal(room: Path, keys: str) -> tuple[int, str]:
    """Exit status and screen of `lacunar new`, with these keys typed in advance."""
    pty = pytest.importorskip("pty", reason="no pseudo terminals on this system")
    ours, theirs = pty.openpty()
    program = "from lacunar_cli.main import main; main()"
    command = [sys.executable, "-c", program, "new", str(room)]
    with subprocess.Popen(command, stdin=theirs, stdout=theirs, stderr=theirs) as process:
        os.close(theirs)
        os.write(ours, (keys + "\x04").encode())  # end of file: it never waits for more
        screen = b""
        while True:
            try:
                read = os.read(ours, 65536)
            except OSError:  # the terminal is gone with the process
                break
            if not read:
                break
            screen += read
    os.close(ours)
    return process.returncode, screen.decode()


def test_on_a_terminal_it_asks(tmp_path: Path) -> None:
    room = tmp_path / "room.toml"
    answers = ["in", "Attic", "8 ft", "13 ft 2 in", "nonsense", "11' 4-1/2\"", "13 ft", "11 ft 4 in"]
    status, screen = on_a_terminal(room, "\n".join([*answers, "0", "", "", ""]) + "\n")
    assert status == 0, screen
    config = tomllib.loads(room.read_text(encoding="utf-8"))
    assert config["title"] == "Attic"
    assert config["room"]["height"] == "8 ft"
    assert config["room"]["measured"]["BC"] == "11' 4-1/2\""
    assert "beams" not in config
    assert "nonsense" in screen


def test_enter_takes_what_is_offered(tmp_path: Path) -> None:
    room = tmp_path / "room.toml"
    status, screen = on_a_terminal(room, "mm\n" + "\n" * 12)
    assert status == 0, screen
    config = tomllib.loads(room.read_text(encoding="utf-8"))
    assert (config["units"], config["beams"]["count"]) == ("mm", 2)


def test_stopping_at_a_question_writes_nothing(tmp_path: Path) -> None:
    status, screen = on_a_terminal(tmp_path / "room.toml", "in\nAttic\n\x03")
    assert status == 130, screen
    assert not list(tmp_path.iterdir())


def test_it_asks_back_whether_an_unusual_height_is_meant(tmp_path: Path) -> None:
    room = tmp_path / "room.toml"
    status, screen = on_a_terminal(room, "in\nHall\n14'7\"\nn\n8 ft 7 in\n" + "\n" * 12)
    assert status == 0, screen
    assert tomllib.loads(room.read_text(encoding="utf-8"))["room"]["height"] == "8 ft 7 in"
    assert "few ceilings are lower than 6 ft or higher than 14 ft" in " ".join(screen.split())


def test_an_unusual_height_that_is_meant_stays(tmp_path: Path) -> None:
    room = tmp_path / "room.toml"
    status, screen = on_a_terminal(room, "in\nHall\n14'7\"\ny\n" + "\n" * 12)
    assert status == 0, screen
    assert tomllib.loads(room.read_text(encoding="utf-8"))["room"]["height"] == "14'7\""
