"""Thousands of bad inputs, and a hundred bad moments: status 0, 1 or 2, in bounds of time and memory, nothing lost."""

import csv
import hashlib
import io
import json
import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from commands import Start, tree
from lacunar.config import Config, read_config
from lacunar.errors import LacunarError
from lacunar.field import apply_measures
from lacunar.job import run_job
from lacunar.plan import read_pile
from lacunar_cli.terminal import clean
from mutated import CONFIG, TABLE, WORDS, mutated

ROOMS = sorted((Path(__file__).resolve().parents[2] / "configs").glob("*.toml"))
KEYS = (
    *("slats.run", "slats.gap", "slats.stock", "slats.width", "trim.width", "trim.least_overlap", "cross_beams.rows"),
    *("cross_beams.at", "cross_beams.stock", "room.height", "room.measured.AB", "room.measured.AC", "furring.use"),
    *(
        "shop.cull",
        "shop.kerf",
        "read_to",
        "units",
        "slats.from",
        "slats.coffer.C1",
        'room.measured."E1.AB-C"',
        "a..b",
        "",
    ),
)
PRICES = """stock,length,price,on_hand,supply,actual
1x4,8 ft,9.40,3,40,8 ft 1/2 in
1x4,12 ft,$14.10,,,
1x2,8 ft,4.20,,,
"""
PILE = "stock,length,width,count\n1x4,39 1/2 in,,12\n1x4,38 3/4 in,2 1/4 in,1\n"

SLOWEST = 20.0
"""Seconds for any input, on a machine that does something else as well."""

LARGEST_MB = 500
LONGEST = 2_000
"""Characters of one line that a person is given to read."""

pytestmark = [
    pytest.mark.long,
    pytest.mark.skipif(sys.platform == "win32", reason="no alarms and no signals of this kind there"),
]


class TooSlowError(BaseException):
    """Not to be caught by anybody on the way."""


def _alarm(_number: int, _frame: object) -> None:
    raise TooSlowError


@pytest.fixture
def limited() -> Iterator[Callable[[Callable[[], object]], str]]:
    """Run something; what was wrong with how it ended, or nothing."""
    before = signal.signal(signal.SIGALRM, _alarm)

    def run(work: Callable[[], object]) -> str:
        signal.setitimer(signal.ITIMER_REAL, SLOWEST)
        try:
            work()
        except LacunarError as error:
            lines = [str(problem) for problem in error.problems]
            if not lines or any(len(line) > LONGEST for line in lines):
                return f"no message, or one of {max(map(len, lines), default=0)} characters"
        except TooSlowError:
            return f"more than {SLOWEST} s"
        except Exception as error:
            return f"{type(error).__name__}: {error}"
        finally:
            signal.setitimer(signal.ITIMER_REAL, 0.0)
        return ""

    yield run
    signal.signal(signal.SIGALRM, before)


def _room(number: int) -> str:
    text = ROOMS[number % len(ROOMS)].read_text(encoding="utf-8")
    return mutated(text, number, CONFIG)


def _written(folder: Path, text: str) -> Path:
    path = folder / "room.toml"
    path.write_bytes(text.encode("utf-8", errors="surrogatepass"))
    return path


def _told(wrong: dict[int, str]) -> str:
    return "\n".join(f"{number}: {what}" for number, what in sorted(wrong.items())[:20])


def test_configs(tmp_path: Path, limited: Callable[[Callable[[], object]], str]) -> None:
    wrong: dict[int, str] = {}
    for number in range(12_000):
        path = _written(tmp_path, _room(number))
        if what := limited(lambda path=path: read_config(path)):
            wrong[number] = what
    assert not wrong, _told(wrong)


def test_overrides(limited: Callable[[Callable[[], object]], str]) -> None:
    wrong: dict[int, str] = {}
    for number in range(3_000):
        chance = random.Random(number)
        room = chance.choice(ROOMS)
        overrides = [(chance.choice(KEYS), chance.choice(WORDS)) for _ in range(chance.choice((1, 1, 2)))]
        if what := limited(lambda room=room, overrides=overrides: read_config(room, overrides)):
            wrong[number] = f"{room.name} {overrides}: {what}"
    assert not wrong, _told(wrong)


def test_prices(tmp_path: Path, limited: Callable[[Callable[[], object]], str]) -> None:
    wrong: dict[int, str] = {}
    path = _written(tmp_path, ROOMS[1].read_text(encoding="utf-8") + '\n[shop]\nboards = "prices.csv"\n')
    for number in range(2_000):
        (tmp_path / "prices.csv").write_bytes(mutated(PRICES, number, TABLE).encode("utf-8"))
        if what := limited(lambda: read_config(path)):
            wrong[number] = what
    assert not wrong, _told(wrong)


def test_piles(tmp_path: Path, limited: Callable[[Callable[[], object]], str]) -> None:
    wrong: dict[int, str] = {}
    config = read_config(ROOMS[1])
    pile = tmp_path / "pile.csv"
    for number in range(2_000):
        pile.write_bytes(mutated(PILE, number, TABLE).encode("utf-8"))
        if what := limited(lambda: read_pile(pile, config)):
            wrong[number] = what
    assert not wrong, _told(wrong)


def test_filled_sheets(tmp_path: Path, limited: Callable[[Callable[[], object]], str]) -> None:
    """Written into a copy of the room, which is whole afterwards whatever comes."""
    from lacunar.field import write_sheets

    wrong: dict[int, str] = {}
    room = ROOMS[1].read_bytes()
    path = tmp_path / "room.toml"
    path.write_bytes(room)
    write_sheets(read_config(path), tmp_path / "sheets")
    sheets = [_filled(one) for one in sorted((tmp_path / "sheets").glob("*.csv"))]
    for number in range(1_000):
        path.write_bytes(room)
        sheet = tmp_path / "filled.csv"
        sheet.write_bytes(mutated(sheets[number % len(sheets)], number, TABLE).encode("utf-8"))
        what = limited(lambda sheet=sheet: apply_measures(path, sheet)) or limited(lambda: read_config(path))
        if what:
            wrong[number] = what
    assert not wrong, _told(wrong)


def _filled(sheet: Path) -> str:
    rows = list(csv.reader(io.StringIO(sheet.read_text(encoding="utf-8"))))
    for cells in rows[1:]:
        cells[4] = cells[3]
    out = io.StringIO()
    csv.writer(out).writerows(rows)
    return out.getvalue()


def test_what_is_accepted_is_checked(tmp_path: Path, limited: Callable[[Callable[[], object]], str]) -> None:
    wrong: dict[int, str] = {}
    accepted, number = 0, 0
    while accepted < 1_000:
        number += 1
        config = _accepted(_written(tmp_path, _room(number)))
        if config is not None:
            accepted += 1
            if what := limited(lambda config=config: run_job(config)):
                wrong[number] = what
    assert not wrong, f"{len(wrong)} of {accepted}:\n{_told(wrong)}"


def _accepted(path: Path) -> Config | None:
    try:
        return read_config(path)
    except LacunarError:
        return None


def test_as_processes(tmp_path: Path) -> None:
    wrong: dict[int, str] = {}
    code = "from lacunar_cli.main import main; main()"
    for number in range(200):
        path = _written(tmp_path, _room(100_000 + number))
        began = time.monotonic()
        with (tmp_path / "said").open("wb") as said:
            process = subprocess.Popen([sys.executable, "-c", code, "check", str(path)], stdout=said, stderr=said)
            _, status, used = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        text = (tmp_path / "said").read_text(encoding="utf-8")
        if process.returncode not in (0, 1, 2) or "Traceback" in text or clean(text) != text:
            wrong[number] = f"status {process.returncode}: {text[-300:]}"
        elif time.monotonic() - began > SLOWEST or used.ru_maxrss > LARGEST_MB * 1024:
            wrong[number] = f"{time.monotonic() - began:.1f} s, {used.ru_maxrss / 1024:.0f} MB"
    assert not wrong, _told(wrong)


@pytest.mark.parametrize("number", [signal.SIGKILL, signal.SIGINT])
def test_a_hundred_bad_moments(apart: Start, room: Path, tmp_path: Path, number: signal.Signals) -> None:
    """Whenever a build is stopped, its folder is the old one or the new one, and whole."""
    out = tmp_path / "out"
    began = time.monotonic()
    assert _ended(apart("build", room, "-o", out, "--only", "plan,model")) == 0
    takes = time.monotonic() - began
    chance = random.Random(int(number))
    statuses: list[int] = []
    for _ in range(100):
        before = tree(out)
        process = apart("build", room, "-o", out, "--only", "plan,model")
        time.sleep(chance.uniform(0.05, 1.1) * takes)
        sent = time.monotonic()
        process.send_signal(number)
        _, err = process.communicate(timeout=30)
        assert time.monotonic() - sent < 2.0 or number == signal.SIGKILL
        statuses.append(process.returncode)
        assert "Traceback" not in err
        after = tree(out)
        if after != before:
            _is_whole(after)
            assert process.returncode == 0 or number == signal.SIGKILL or "in place and whole" in err, err
    expected = {0, -signal.SIGKILL} if number == signal.SIGKILL else {0, 130}
    assert set(statuses) <= expected
    assert _ended(apart("build", room, "-o", out, "--only", "plan,model")) == 0
    assert sorted(path.name for path in tmp_path.iterdir()) == ["out", "room.toml"]


def _ended(process: "subprocess.Popen[str]") -> int:
    process.communicate(timeout=60)
    return process.returncode


def _is_whole(files: dict[str, bytes]) -> None:
    listed = {row["path"]: row for row in json.loads(files["report.json"])["files"]}
    assert set(listed) == set(files) - {"report.json"}
    for path, row in listed.items():
        assert row["bytes"] == len(files[path])
        assert "sha256" not in row or row["sha256"] == hashlib.sha256(files[path]).hexdigest()
