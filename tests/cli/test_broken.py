"""Every bad config: status 2, the expected problems on stderr, no traceback, nothing written."""

from pathlib import Path

import pytest

from commands import Lacunar

BROKEN = sorted((Path(__file__).resolve().parents[1] / "broken").glob("*.toml"))


def test_there_are_many() -> None:
    assert len(BROKEN) >= 40


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
@pytest.mark.parametrize("command", ["check", "build"])
def test_a_bad_config_is_two_and_writes_nothing(lacunar: Lacunar, tmp_path: Path, command: str, path: Path) -> None:
    out = ("-o", tmp_path / "out") if command == "build" else ()
    done = lacunar(command, path, *out)
    marked = (line.removeprefix("# ") for line in path.read_text(encoding="utf-8", errors="replace").splitlines())
    expected = [line.removeprefix("expect: ") for line in marked if line.startswith("expect: ")]
    assert (done.status, done.out) == (2, "")
    assert expected
    assert done.err.splitlines() == expected
    assert not list(tmp_path.iterdir())
