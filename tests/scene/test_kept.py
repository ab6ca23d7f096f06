"""What is kept between runs is the same as what is made, or is made."""

import os
from pathlib import Path

import numpy as np
import pytest

from lacunar.scene import kept as module
from lacunar.scene.kept import cache_folder, kept

SHAPE = (3, 4)


class Maker:
    """Counts how often it is asked."""

    def __init__(self) -> None:
        self.asked = 0

    def __call__(self) -> np.ndarray:
        self.asked += 1
        return np.arange(12, dtype=np.uint8).reshape(SHAPE)


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    return tmp_path / "lacunar"


def only_file(home: Path) -> Path:
    (file,) = home.iterdir()
    return file


def test_it_is_made_once_and_read_after(home: Path) -> None:
    make = Maker()
    first, second = kept("pine", SHAPE, make), kept("pine", SHAPE, make)
    assert make.asked == 1
    assert np.array_equal(first, second)
    assert second.dtype == np.uint8
    assert cache_folder() == home


def test_what_is_made_of_something_else_is_another(home: Path) -> None:
    make = Maker()
    kept("pine", SHAPE, make)
    kept("oak", SHAPE, make)
    assert make.asked == 2
    assert len(list(home.iterdir())) == 2


@pytest.mark.parametrize("harm", [b"", b"short", None])
def test_a_file_that_is_not_whole_is_made_anew(home: Path, harm: bytes | None) -> None:
    make = Maker()
    kept("pine", SHAPE, make)
    file = only_file(home)
    data = file.read_bytes()
    file.write_bytes(bytes([data[0] ^ 1]) + data[1:] if harm is None else harm)
    assert np.array_equal(kept("pine", SHAPE, make), Maker()())
    assert make.asked == 2
    assert file.read_bytes() == data


def test_where_no_folder_can_be_it_is_made_each_time(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The place of the folder is taken by a file: that holds for the superuser too, whom no permission stops."""
    (tmp_path / "file").write_bytes(b"")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "file"))
    make = Maker()
    for _ in range(2):
        assert np.array_equal(kept("pine", SHAPE, make), Maker()())
    assert make.asked == 2


def test_what_was_not_used_for_longest_goes_first(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "LARGEST", 40)  # two files of 16 bytes
    make = Maker()
    for number, wood in enumerate(("pine", "oak")):
        kept(wood, SHAPE, make)
        os.utime(max(home.iterdir(), key=lambda f: f.stat().st_mtime), (number, number))
    kept("pine", SHAPE, make)  # used again: now
    kept("ash", SHAPE, make)
    assert len(list(home.iterdir())) == 2
    kept("pine", SHAPE, make)
    assert make.asked == 3
    kept("oak", SHAPE, make)
    assert make.asked == 4


def test_a_relative_place_is_none(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", "here")
    assert cache_folder().is_absolute()
