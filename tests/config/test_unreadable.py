"""Files that hold no config at all."""

from pathlib import Path

import pytest

from lacunar.config import read_config, read_config_text
from lacunar.errors import ConfigError


def message(path: Path) -> str:
    with pytest.raises(ConfigError) as error:
        read_config(path)
    assert len(error.value.problems) == 1
    return str(error.value)


def test_no_such_file(tmp_path: Path) -> None:
    path = tmp_path / "attic.toml"
    assert message(path) == f"attic.toml: there is no such file at {path}; lacunar new writes one to start from"


def test_a_folder(tmp_path: Path) -> None:
    assert message(tmp_path).startswith(f"{tmp_path.name}: is a folder, must be a config file")


@pytest.mark.parametrize("text", ["", "\n\n", "\ufeff"])
def test_an_empty_file(tmp_path: Path, text: str) -> None:
    path = tmp_path / "room.toml"
    path.write_text(text, encoding="utf-8")
    assert message(path).startswith("room.toml: is empty, must give at least room.height and two walls")


def test_a_picture(tmp_path: Path) -> None:
    path = tmp_path / "room.toml"
    path.write_bytes(b"\x89PNG\r\n\x1a\n\x00\x00")
    assert message(path) == "room.toml:1: byte 0x89 is not UTF-8; save the file as UTF-8 text"


def test_far_too_large(tmp_path: Path) -> None:
    path = tmp_path / "room.toml"
    path.write_bytes(b"#" * 1_000_001)
    assert message(path).startswith("room.toml: cannot be read: it has 1,000,001 bytes, must have 1,000,000 or less")


@pytest.mark.parametrize(
    "text",
    [
        "a = " + "[" * 2000 + "]" * 2000,
        "a = 1" + "0" * 5000,
        'a = 2024-13-01\n[room]\nheight = "9 ft"',
        "\x00",
        "[room",
        "room]",
        "= 3",
        '"""',
        "a = '''",
    ],
    ids=["deep", "digits", "month 13", "nul", "open header", "no header", "no key", "open text", "open literal"],
)
def test_nothing_but_a_config_error_comes_out(text: str) -> None:
    with pytest.raises(ConfigError) as error:
        read_config_text(text, "room.toml")
    assert all(str(problem).startswith("room.toml") for problem in error.value.problems)


def test_windows_files_are_read(tmp_path: Path) -> None:
    """A byte order mark and carriage returns, as editors there leave them; lines are still counted right."""
    path = tmp_path / "room.toml"
    text = '\ufeff[room]\r\nheight = "9 ft"\r\n[room.measured]\r\nAB = "12 ft"\r\nBC = "11 ft"\r\n'
    path.write_bytes(text.encode())
    assert read_config(path).room.height == 2743.2
    path.write_bytes((text + '[slats]\r\ngap = "wide"\r\n').encode())
    assert message(path).startswith('room.toml:7 slats.gap: got "wide"')
