"""A build that cannot be finished: stopped, ended, out of disk. What was there stays, nothing else does."""

import json
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from commands import NO_BYTECODE, Lacunar, Start, tree

HOLD = """
import pathlib, sys, time
import lacunar.reports
def hold(*arguments, **named):
    pathlib.Path({flag!r}).touch()
    time.sleep(60)
lacunar.reports.write_report = hold
"""
"""Stops at the last step, when every other file has been written into the temporary folder."""


@pytest.fixture
def built(lacunar: Lacunar, room: Path, tmp_path: Path) -> Path:
    """A folder of an earlier build."""
    out = tmp_path / "out"
    assert lacunar("build", room, "-o", out, "--only", "report,plan").status == 0
    return out


def wait_for(flag: Path, process: "subprocess.Popen[str]") -> None:
    """Until the build has come to its last step."""
    for _ in range(600):
        if flag.exists():
            return
        assert process.poll() is None, process.communicate()
        time.sleep(0.1)
    raise AssertionError("the build never came to its last step")


LOADS = """
import pathlib, time
pathlib.Path({flag!r}).touch()
try:
    time.sleep(1.0)
except KeyboardInterrupt:
    raise ImportError("stopped half way, and told as a fault")
"""
"""A library that takes an interrupt for a fault of its own, as those in C do."""

LOADED = """
import sys
import lacunar.config
sys.path.insert(0, {folder!r})
read = lacunar.config.read_config
def slowly(*arguments, **named):
    import slow_to_load
    return read(*arguments, **named)
lacunar.config.read_config = slowly
"""


@pytest.mark.skipif(sys.platform == "win32", reason="signals of this kind are not sent there")
@pytest.mark.parametrize(("number", "status"), [(signal.SIGINT, 130), (signal.SIGTERM, 143)])
def test_a_signal_while_a_library_loads_is_no_fault(
    apart: Start, room: Path, tmp_path: Path, number: signal.Signals, status: int
) -> None:
    flag = tmp_path / "flag"
    (tmp_path / "slow_to_load.py").write_text(LOADS.format(flag=str(flag)), encoding="utf-8")
    process = apart("check", room, code=LOADED.format(folder=str(tmp_path)))
    wait_for(flag, process)
    process.send_signal(number)
    _, err = process.communicate(timeout=30)
    assert (process.returncode, err.strip()) == (status, "stopped; nothing was written")


@pytest.mark.skipif(sys.platform == "win32", reason="signals of this kind are not sent there")
@pytest.mark.parametrize(("number", "status"), [(signal.SIGINT, 130), (signal.SIGTERM, 143)])
@pytest.mark.parametrize(
    ("exists", "groups"), [(True, "plan,model"), (False, "plan")], ids=["over an older build", "into a new folder"]
)
def test_a_stopped_build_changes_nothing(
    apart: Start,
    built: Path,
    room: Path,
    tmp_path: Path,
    number: signal.Signals,
    status: int,
    exists: bool,
    groups: str,
) -> None:
    out = built if exists else tmp_path / "new" / "out"
    before, around = tree(built), sorted(path.name for path in tmp_path.iterdir())
    flag = tmp_path.parent / f"{tmp_path.name}-flag"
    flag.unlink(missing_ok=True)
    process = apart("build", room, "-o", out, "--only", groups, code=HOLD.format(flag=str(flag)))
    wait_for(flag, process)
    process.send_signal(number)
    _, err = process.communicate(timeout=30)
    assert process.returncode == status
    assert "Traceback" not in err
    assert tree(built) == before
    assert sorted(path.name for path in tmp_path.iterdir()) == around


SMALL_DISK = """
import resource
resource.setrlimit(resource.RLIMIT_FSIZE, ({size}, {size}))
"""


@pytest.mark.skipif(sys.platform == "win32", reason="no limit of file sizes there")
@pytest.mark.parametrize("size", [0, 1_000, 20_000])
def test_a_full_disk_changes_nothing(apart: Start, built: Path, room: Path, tmp_path: Path, size: int) -> None:
    """Whatever file is the first that does not fit: 0 the cut list, 1 kB an STL, 20 kB the STEP file."""
    before, around = tree(built), sorted(path.name for path in tmp_path.iterdir())
    process = apart(
        "build", room, "-o", built, "--only", "plan,model", code=SMALL_DISK.format(size=size), env=NO_BYTECODE
    )
    _, err = process.communicate(timeout=60)
    assert process.returncode == 2, err
    assert "Traceback" not in err
    assert tree(built) == before
    assert sorted(path.name for path in tmp_path.iterdir()) == around


@pytest.mark.skipif(sys.platform == "win32", reason="no such permissions there")
def test_a_place_that_cannot_be_written_is_two(lacunar: Lacunar, room: Path) -> None:
    done = lacunar("build", room, "-o", "/proc/lacunar/out", "--only", "report")
    assert done.status == 2
    assert "cannot be written" in done.err


def test_a_fault_on_the_way_changes_nothing(
    lacunar: Lacunar, built: Path, room: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before, around = tree(built), sorted(path.name for path in tmp_path.iterdir())

    def broken(*_: object) -> None:
        raise RuntimeError("planted")

    monkeypatch.setattr("lacunar.exports.write_stl_whole", broken)
    assert lacunar("build", room, "-o", built, "--only", "model").status == 3
    assert tree(built) == before
    assert sorted(path.name for path in tmp_path.iterdir()) == around


def test_two_builds_at_once_leave_one_whole_folder(apart: Start, room: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    both = [apart("build", room, "-o", out, "--only", "report,plan") for _ in range(2)]
    for process in both:
        process.communicate(timeout=60)
    assert 0 in {process.returncode for process in both}
    assert set(tree(out)) == {"report.json", "cut-list.csv", "settings.csv", "buy-list.csv"}
    assert json.loads((out / "report.json").read_text(encoding="utf-8"))["title"] == "Pantry"
