"""Every file in tests/broken: the whole list of problems, word for word, as its own first lines expect it.

Line 1 says what is wrong with the file; the lines `# expect: ...` after it are the problems in order.
"""

import re
from pathlib import Path

import pytest

from lacunar.config import read_config
from lacunar.errors import ConfigError

BROKEN = sorted((Path(__file__).resolve().parents[1] / "broken").glob("*.toml"))


def expected(path: Path) -> list[str]:
    lines = path.read_bytes().decode("utf-8", errors="replace").splitlines()
    return [line.removeprefix("# expect: ") for line in lines if line.startswith("# expect: ")]


def problems(path: Path) -> list[str]:
    with pytest.raises(ConfigError) as error:
        read_config(path)
    return [str(problem) for problem in error.value.problems]


def test_there_are_enough() -> None:
    assert len(BROKEN) >= 40
    assert sum(len(expected(path)) > 1 for path in BROKEN) >= 2


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
def test_message(path: Path) -> None:
    assert problems(path) == expected(path)


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
def test_the_line_holds_the_key_or_the_table_that_lacks_it(path: Path) -> None:
    """Checked on the text alone, not with the scan that found the line."""
    lines = path.read_bytes().decode("utf-8", errors="replace").splitlines()
    for message in expected(path):
        match = re.match(r"[\w-]+\.toml(?::(\d+))?(?: (\S+))?:", message)
        assert match is not None, message
        number, key = match.groups()
        if number is None:
            assert not any(line.strip().startswith("[") for line in lines), "only a file without tables has no line"
            continue
        line = lines[int(number) - 1]
        assert line
        assert not line.startswith("#")
        if key is not None:
            words = [word for word in re.split(r"[.\[\]\"]", key) if word and not word.isdigit()]
            lacking = "missing" in message or "gives no" in message
            assert any(word in line for word in words[:-1] if lacking) or words[-1] in line or _is_list_item(key, line)


def _is_list_item(key: str, line: str) -> bool:
    """A value of a list over several lines: nothing of its key stands on its own line."""
    return key.endswith("]") and line.startswith("  ")


def test_one_fault_one_problem() -> None:
    several = {path.stem for path in BROKEN if len(expected(path)) > 1}
    assert several == {
        "room-nothing",
        "several-bare-beam",
        "several-done",
        "several-everywhere",
        "several-follow-on",
        "several-readings",
    }
