"""What a build writes, what it keeps, and what it leaves alone."""

import csv
import hashlib
import json
from pathlib import Path
from shutil import copytree

import pytest

from commands import Lacunar, change, tree

NUMBERS = "report,plan"


_WHOLE: list[Path] = []


@pytest.fixture
def whole(lacunar: Lacunar, room: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A build of the room as it is, made once for all tests: it is copied where anything is to change."""
    if not _WHOLE:
        out = tmp_path_factory.mktemp("whole") / "out"
        assert lacunar("build", room, "-o", out, "--only", "report,plan,model").status == 0
        _WHOLE.append(out)
    return _WHOLE[0]


def leftovers(folder: Path) -> list[Path]:
    """Temporary folders and files that nobody cleared away."""
    return [path for path in folder.iterdir() if path.name.startswith(".")]


def test_the_default_folder_is_named_after_the_config(lacunar: Lacunar, room: Path) -> None:
    assert lacunar("build", room, "--only", NUMBERS).status == 0
    written = ["buy-list.csv", "cut-list.csv", "report.json", "settings.csv"]
    assert sorted(path.name for path in (room.parent / "room").iterdir()) == written
    assert not leftovers(room.parent)


def test_the_report_lists_every_other_file(whole: Path) -> None:
    out = whole
    listed = {row["path"]: row for row in json.loads((out / "report.json").read_text(encoding="utf-8"))["files"]}
    assert set(listed) == set(tree(out)) - {"report.json"}
    assert {"ceiling.step", "ceiling.glb", "cut-list.csv", "stl/ceiling.stl", "stl/C1-S01.stl"} <= set(listed)
    for path, data in tree(out).items():
        if path != "report.json":
            assert listed[path]["bytes"] == len(data)
            assert listed[path].get("sha256", hashlib.sha256(data).hexdigest()) == hashlib.sha256(data).hexdigest()


def test_folders_on_the_way_are_made(lacunar: Lacunar, room: Path, tmp_path: Path) -> None:
    assert lacunar("build", room, "-o", tmp_path / "a" / "b" / "out", "--only", "report").status == 0
    assert (tmp_path / "a" / "b" / "out" / "report.json").exists()


def test_an_empty_folder_will_do(lacunar: Lacunar, room: Path, tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    assert lacunar("build", room, "-o", tmp_path / "out", "--only", "report").status == 0


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("letter.txt", "dear"),
        ("report.json", "{}"),
        ("report.json", "[1]"),
        ("report.json", "no json"),
        (".hidden", ""),
    ],
)
def test_a_folder_of_somebody_else_is_refused(
    lacunar: Lacunar, room: Path, tmp_path: Path, name: str, text: str
) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / name).write_text(text, encoding="utf-8")
    done = lacunar("build", room, "-o", out)
    assert done.status == 2
    assert str(out) in done.err
    assert tree(out) == {name: text.encode()}
    assert not leftovers(tmp_path)


def test_a_file_in_its_place_is_refused(lacunar: Lacunar, room: Path, tmp_path: Path) -> None:
    (tmp_path / "out").write_text("mine", encoding="utf-8")
    assert lacunar("build", room, "-o", tmp_path / "out").status == 2
    assert (tmp_path / "out").read_text(encoding="utf-8") == "mine"


def test_the_folder_one_is_in_is_refused(
    lacunar: Lacunar, room: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "out").mkdir()
    monkeypatch.chdir(tmp_path / "out")
    done = lacunar("build", room, "-o", ".")
    assert done.status == 2
    assert "you are in" in done.err


def test_what_only_does_not_write_is_kept(lacunar: Lacunar, whole: Path, room: Path, tmp_path: Path) -> None:
    out = copytree(whole, tmp_path / "out")
    before = tree(out)
    done = lacunar("build", room, "-o", out, "--only", "plan")
    assert done.status == 0
    after = tree(out)
    assert set(after) == set(before)
    assert {path: data for path, data in after.items() if path.startswith(("stl/", "ceiling."))} == {
        path: data for path, data in before.items() if path.startswith(("stl/", "ceiling."))
    }
    assert "kept what was there" in done.out
    listed = {row["path"] for row in json.loads(after["report.json"])["files"]}
    assert listed == set(after) - {"report.json"}


def test_what_a_build_writes_replaces_all_of_its_kind(
    lacunar: Lacunar, whole: Path, room: Path, tmp_path: Path
) -> None:
    out = copytree(whole, tmp_path / "out")
    last = max(path for path in tree(out) if path.startswith("stl/C1-S"))
    change(room, 'stock   = "1x4"', 'stock   = "1x8"')
    lacunar("build", room, "-o", out, "--only", "model")
    assert last not in tree(out)


def test_files_that_no_build_wrote_are_kept_and_not_called_ours(lacunar: Lacunar, room: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    lacunar("build", room, "-o", out, "--only", "plan")
    (out / "stl").mkdir()
    (out / "notes.txt").write_text("call the plumber", encoding="utf-8")
    (out / "stl" / "mine.stl").write_text("solid", encoding="utf-8")
    for _ in range(2):
        assert lacunar("build", room, "-o", out, "--only", "plan,model").status == 0
    assert (out / "notes.txt").read_text(encoding="utf-8") == "call the plumber"
    assert (out / "stl" / "mine.stl").read_text(encoding="utf-8") == "solid"
    listed = {row["path"] for row in json.loads((out / "report.json").read_text(encoding="utf-8"))["files"]}
    assert not listed & {"notes.txt", "stl/mine.stl"}


def test_groups_to_come_are_accepted_and_said(lacunar: Lacunar, room: Path, tmp_path: Path) -> None:
    done = lacunar("build", room, "-o", tmp_path / "out", "--only", "share")
    assert done.status == 0
    assert "share: this version does not write them" in " ".join(done.out.split())
    assert set(tree(tmp_path / "out")) == {"report.json"}


def test_every_drawing_is_there_for_paper_and_for_cad(lacunar: Lacunar, room: Path, tmp_path: Path) -> None:
    done = lacunar("build", room, "-o", tmp_path / "out", "--only", "drawings")
    assert done.status == 0
    names = ["reflected-plan", "framing", "coffer-C1", "section", "section-edge", "section-end", "boards-1"]
    assert set(tree(tmp_path / "out")) == {
        "report.json",
        *(f"drawings/{name}.{ending}" for name in names for ending in ("svg", "dxf")),
    }


def test_what_to_buy_is_told(lacunar: Lacunar, room: Path, tmp_path: Path) -> None:
    done = lacunar("build", room, "-o", tmp_path / "out", "--only", "plan", "--all")
    with (tmp_path / "out" / "buy-list.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert rows
    told = done.out.partition("to buy and to cut:")[2]
    for row in rows:
        line = next(line for line in told.splitlines() if row["stock"] in line and f"{row['to_buy']} (" in line)
        assert f"({row['spare']} spare)" in line
    assert "1 stop (no plan needs fewer)" in " ".join(told.split())


def test_an_unknown_group_is_two_before_any_work(lacunar: Lacunar, room: Path, tmp_path: Path) -> None:
    done = lacunar("build", room, "-o", tmp_path / "out", "--only", "model,songs")
    assert done.status == 2
    assert '"songs"' in done.err
    assert not (tmp_path / "out").exists()


def test_a_build_with_a_failure_is_written_and_is_one(lacunar: Lacunar, room: Path, tmp_path: Path) -> None:
    text = room.read_text(encoding="utf-8")
    more = '\n[framing]\njoists = { along = "DA", first = "8 in", spacing = "16 in" }\n'
    more += 'old_ceiling = { kind = "plasterboard", thickness = "1/2 in" }\n[fasteners]\nslat = { length = "1 in" }\n'
    room.write_text(text + more, encoding="utf-8")
    assert lacunar("build", room, "-o", tmp_path / "out", "--only", NUMBERS).status == 1
    assert "fail" in (tmp_path / "out" / "report.json").read_text(encoding="utf-8")


def test_a_bad_config_leaves_an_older_build_alone(lacunar: Lacunar, room: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    lacunar("build", room, "-o", out, "--only", NUMBERS)
    before = tree(out)
    change(room, "[slats]", "[slats]\nnonsense = 1")
    assert lacunar("build", room, "-o", out).status == 2
    assert tree(out) == before


def test_the_same_config_gives_the_same_bytes(lacunar: Lacunar, whole: Path, room: Path, tmp_path: Path) -> None:
    assert lacunar("build", room, "-o", tmp_path / "two", "--only", "report,plan,model").status == 0
    one, two = tree(whole), tree(tmp_path / "two")
    for dated in ("ceiling.step", "report.json"):  # a STEP file carries its time, the report that file's size
        one.pop(dated)
        two.pop(dated)
    assert one == two


def test_a_config_inside_its_own_folder_survives(lacunar: Lacunar, room: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    lacunar("build", room, "-o", out, "--only", NUMBERS)
    inside = out / "room.toml"
    room.rename(inside)
    assert lacunar("build", inside, "-o", out, "--only", NUMBERS).status == 0
    assert inside.exists()
