"""What is not ours stays, whatever it is called; what was left by the killed goes."""

import os
import signal
import sys
import time
from pathlib import Path

import pytest

from commands import NO_BYTECODE, Lacunar, Start, tree


@pytest.fixture
def out(lacunar: Lacunar, room: Path, tmp_path: Path) -> Path:
    """A folder of an earlier build."""
    assert lacunar("build", room, "-o", tmp_path / "out", "--only", "report").status == 0
    return tmp_path / "out"


@pytest.mark.parametrize(("name", "group"), [("cut-list.csv", "plan"), ("stl", "model"), ("ceiling.step", "model")])
def test_a_file_of_a_person_s_own_is_refused_by_name(
    lacunar: Lacunar, room: Path, out: Path, name: str, group: str
) -> None:
    (out / name).write_text("mine", encoding="utf-8")
    before = tree(out)
    done = lacunar("build", room, "-o", out, "--only", group)
    assert done.status == 2
    assert f"{out / name}: bears a name that this build needs" in done.err
    assert tree(out) == before


def test_a_product_that_was_edited_is_replaced_and_said(lacunar: Lacunar, room: Path, out: Path) -> None:
    lacunar("build", room, "-o", out, "--only", "plan")
    new = tree(out)["cut-list.csv"]
    (out / "cut-list.csv").write_bytes(new.replace(b"slat", b"SLAT"))
    done = lacunar("build", room, "-o", out, "--only", "plan")
    assert done.status == 0
    assert "cut-list.csv: changed by somebody since it was built" in " ".join(done.out.split())
    assert tree(out)["cut-list.csv"] == new
    assert "changed by somebody" not in lacunar("build", room, "-o", out, "--only", "plan").out


def test_an_empty_folder_stays(lacunar: Lacunar, room: Path, out: Path) -> None:
    (out / "photos" / "before").mkdir(parents=True)
    assert lacunar("build", room, "-o", out, "--only", "plan").status == 0
    assert (out / "photos" / "before").is_dir()


def test_a_link_to_a_folder_stays_a_link(lacunar: Lacunar, room: Path, out: Path, tmp_path: Path) -> None:
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "a.jpg").write_bytes(b"a")
    (out / "photos").symlink_to(tmp_path / "photos")
    assert lacunar("build", room, "-o", out, "--only", "plan").status == 0
    assert (out / "photos").is_symlink()
    assert (tmp_path / "photos" / "a.jpg").read_bytes() == b"a"


def test_what_a_killed_build_left_goes_with_the_next(lacunar: Lacunar, room: Path, out: Path) -> None:
    left = out.with_name(".out.0123abcd.part")
    left.mkdir()
    (left / "cut-list.csv").write_text("half", encoding="utf-8")
    other = out.with_name(".out.of.mine.part")
    other.mkdir()
    assert lacunar("build", room, "-o", out, "--only", "plan").status == 0
    assert not left.exists()
    assert other.exists()


def test_what_a_killed_build_had_moved_aside_comes_back(lacunar: Lacunar, room: Path, out: Path) -> None:
    (out / "notes.txt").write_text("call the plumber", encoding="utf-8")
    out.rename(out.with_name(".out.0123abcd.old"))
    assert lacunar("build", room, "-o", out, "--only", "plan").status == 0
    assert (out / "notes.txt").read_text(encoding="utf-8") == "call the plumber"
    assert not [path for path in out.parent.iterdir() if path.name.startswith(".")]


@pytest.mark.skipif(sys.platform == "win32", reason="no such locks there")
def test_what_another_build_is_writing_stays(lacunar: Lacunar, room: Path, out: Path) -> None:
    import fcntl

    busy = out.with_name(".out.0123abcd.part")
    busy.mkdir()
    handle = os.open(busy, os.O_RDONLY)
    fcntl.flock(handle, fcntl.LOCK_EX)
    try:
        assert lacunar("build", room, "-o", out, "--only", "plan").status == 0
        assert busy.exists()
    finally:
        os.close(handle)


def test_without_one_step_two_will_do(lacunar: Lacunar, room: Path, out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As on systems that cannot swap two names."""

    def cannot(_one: Path, _other: Path) -> bool:
        return False

    monkeypatch.setattr("lacunar.folder.swap._exchanged", cannot)
    assert lacunar("build", room, "-o", out, "--only", "plan").status == 0
    assert "cut-list.csv" in tree(out)
    assert not [path for path in out.parent.iterdir() if path.name.startswith(".")]


SLOW = """
import time
{when}
while True:
    try:
        time.sleep(60)
    except KeyboardInterrupt:
        pass
"""


@pytest.mark.skipif(sys.platform == "win32", reason="signals of this kind are not sent there")
@pytest.mark.parametrize(("number", "status"), [(signal.SIGINT, 130), (signal.SIGTERM, 143)])
def test_a_kernel_that_heeds_no_interrupt_is_stopped_all_the_same(
    apart: Start, room: Path, out: Path, tmp_path: Path, number: signal.Signals, status: int
) -> None:
    flag = tmp_path / "flag"
    when = f"import pathlib; pathlib.Path({str(flag)!r}).touch()"
    code = (
        "from lacunar.job import apart as one\nimport sys\n"
        f"one.command = lambda: [sys.executable, '-c', {SLOW.format(when=when)!r}]\n"
    )
    before = tree(out)
    process = apart("build", room, "-o", out, "--only", "model", code=code)
    for _ in range(600):
        if flag.exists():
            break
        time.sleep(0.1)
    began = time.monotonic()
    process.send_signal(number)
    _, err = process.communicate(timeout=30)
    assert time.monotonic() - began < 2.0
    assert process.returncode == status
    assert err.strip() == "stopped; nothing was written"
    assert tree(out) == before
    assert sorted(path.name for path in tmp_path.iterdir()) == ["flag", "out", "room.toml"]


@pytest.mark.skipif(sys.platform == "win32", reason="signals of this kind are not sent there")
def test_stopped_too_late_says_that_the_new_build_is_there(apart: Start, room: Path, out: Path) -> None:
    code = (
        "import os, signal, shutil\nfrom lacunar.folder import swap as r\nput = r._put_in_place\n"
        "def late(*a):\n    put(*a)\n    os.kill(os.getpid(), signal.SIGINT)\n"
        "r._put_in_place = late\n"
    )
    process = apart("build", room, "-o", out, "--only", "plan", code=code)
    _, err = process.communicate(timeout=60)
    assert process.returncode == 130
    assert err.strip() == "stopped; the new build is in place and whole"
    assert "cut-list.csv" in tree(out)
    assert not [path for path in out.parent.iterdir() if path.name.startswith(".")]


@pytest.mark.parametrize(
    ("command", "arguments"),
    [
        ("compare", ("-o", "x.jpg")),
        ("compare", ("-o", "absent/x.png")),
        ("render", ("-o", "x.jpg")),
        ("build", ("-o", "room.toml")),
    ],
)
def test_an_output_that_cannot_be_is_refused_before_any_work(
    lacunar: Lacunar, room: Path, monkeypatch: pytest.MonkeyPatch, command: str, arguments: tuple[str, ...]
) -> None:
    def worked(*_: object, **__: object) -> None:
        raise AssertionError("it has begun to work")

    monkeypatch.chdir(room.parent)
    monkeypatch.setattr("lacunar.job.run_job", worked)
    assert lacunar(command, room, *arguments).status == 2


@pytest.mark.skipif(sys.platform == "win32", reason="no such files there")
@pytest.mark.parametrize("where", ["config", "prices", "sheet", "pile"])
@pytest.mark.parametrize("what", ["device", "pipe", "large"])
def test_what_never_ends_is_never_read(lacunar: Lacunar, room: Path, tmp_path: Path, where: str, what: str) -> None:
    endless = tmp_path / "endless.csv"
    if what == "device":
        endless.symlink_to("/dev/zero")
    elif what == "pipe":
        os.mkfifo(endless)
    else:
        with endless.open("wb") as file:
            file.truncate(500_000_000)
    if where == "prices":
        room.write_text(room.read_text(encoding="utf-8") + '\n[shop]\nboards = "endless.csv"\n', encoding="utf-8")
    arguments: dict[str, tuple[str | Path, ...]] = {
        "config": ("check", endless),
        "prices": ("check", room),
        "sheet": ("measure", room, "--apply", endless),
        "pile": ("compare", room, "--field", "--pile", endless),
    }
    done = lacunar(*arguments[where])
    assert done.status == 2
    assert "cannot be read" in done.err
    assert ("500,000,000 bytes" if what == "large" else "a device or a pipe") in done.err


def test_a_price_of_thousands_of_digits_is_refused(lacunar: Lacunar, room: Path, tmp_path: Path) -> None:
    (tmp_path / "prices.csv").write_text(f"stock,length,price\n1x4,8 ft,{'9' * 4400}\n", encoding="utf-8")
    room.write_text(room.read_text(encoding="utf-8") + '\n[shop]\nboards = "prices.csv"\n', encoding="utf-8")
    done = lacunar("check", room)
    assert done.status == 2
    assert "prices.csv:2 price" in done.err
    assert len(done.err) < 500


@pytest.mark.skipif(sys.platform == "win32", reason="no limit of file sizes there")
@pytest.mark.parametrize("command", ["new", "measure", "apply"])
def test_a_full_disk_leaves_no_half_file(
    apart: Start, lacunar: Lacunar, room: Path, tmp_path: Path, command: str
) -> None:
    lacunar("measure", room, "--stage", "room", "-o", tmp_path / "sheets")
    sheet = tmp_path / "sheets" / "room.csv"
    sheet.write_text(_filled(sheet.read_text(encoding="utf-8")), encoding="utf-8")
    before = tree(tmp_path)
    arguments: dict[str, tuple[str | Path, ...]] = {
        "new": ("new", tmp_path / "other.toml"),
        "measure": ("measure", room, "-o", tmp_path / "more"),
        "apply": ("measure", room, "--apply", sheet),
    }
    code = "import resource\nresource.setrlimit(resource.RLIMIT_FSIZE, (300, 300))\n"
    process = apart(*arguments[command], code=code, env=NO_BYTECODE)
    _, err = process.communicate(timeout=60)
    assert process.returncode == 2, err
    assert tree(tmp_path) == before
    assert not (tmp_path / "more").exists()


def _filled(text: str) -> str:
    """A sheet with what the design says in every row."""
    rows = [row.split(",") for row in text.splitlines()]
    for cells in rows[1:]:
        cells[4] = cells[3]
    return "\n".join(",".join(cells) for cells in rows) + "\n"


@pytest.mark.parametrize("stage", ["room", "coffers"])
def test_measures_go_through_a_link_into_the_file(lacunar: Lacunar, room: Path, tmp_path: Path, stage: str) -> None:
    real = tmp_path / "kept" / "room.toml"
    real.parent.mkdir()
    room.rename(real)
    room.symlink_to(real)
    lacunar("measure", room, "--stage", stage, "-o", tmp_path / "sheets")
    sheet = tmp_path / "sheets" / f"{stage}.csv"
    sheet.write_text(_filled(sheet.read_text(encoding="utf-8")), encoding="utf-8")
    before = real.read_bytes()
    done = lacunar("measure", room, "--apply", sheet)
    assert done.status == 0, done.err
    assert room.is_symlink()
    assert real.read_bytes() != before


def test_lines_keep_their_ends(lacunar: Lacunar, room: Path, tmp_path: Path) -> None:
    room.write_bytes(room.read_bytes().replace(b"\r\n", b"\n").replace(b"\n", b"\r\n"))
    for stage in ("room", "coffers"):
        lacunar("measure", room, "--stage", stage, "-o", tmp_path / "sheets")
        sheet = tmp_path / "sheets" / f"{stage}.csv"
        sheet.write_text(_filled(sheet.read_text(encoding="utf-8")), encoding="utf-8")
        before = room.read_bytes()
        assert lacunar("measure", room, "--apply", sheet).status == 0
        after = room.read_bytes()
        assert after != before
        assert after.count(b"\n") == after.count(b"\r\n")
