"""`lacunar measure` as it is typed."""

from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from field.by_hand import copied, sheet
from lacunar.config import read_config
from lacunar_cli.app import app


@pytest.fixture
def room(configs: Path, tmp_path: Path) -> Path:
    return copied(configs / "2-one-coffer.toml", tmp_path)


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(app, ["measure", *(str(argument) for argument in arguments)])


def test_sheets_go_beside_the_config(room: Path) -> None:
    done = run(room)
    assert done.exit_code == 0, done.output
    folder = room.parent / "2-one-coffer-measure"
    assert {path.name for path in folder.iterdir()} == {
        f"{stage}.{kind}" for stage in ("room", "coffers", "trim") for kind in ("pdf", "csv")
    }
    assert done.stdout.startswith("wrote room.pdf, room.csv, coffers.pdf")


def test_one_stage_into_a_folder(room: Path) -> None:
    out = room.parent / "deep" / "er"
    assert run(room, "-o", out, "--stage", "trim").exit_code == 0
    assert sorted(path.name for path in out.iterdir()) == ["trim.csv", "trim.pdf"]


def test_a_stage_that_is_none(room: Path) -> None:
    done = run(room, "--stage", "roof")
    assert done.exit_code == 2
    assert "roof" in done.output


def test_a_filled_sheet_goes_back_once_and_then_is_no_news(room: Path) -> None:
    rows = {"C1-T1": "70 5/16 in", "C1-T2": ""}
    filled = sheet(room, "trim", rows)
    done = run(room, "--apply", filled)
    assert done.exit_code == 0, done.output
    assert done.stdout.splitlines()[0] == "measured: C1-T1"
    assert "rows of filled-trim.csv without a value yet: 1" in done.stdout
    assert list(read_config(room).field) == ["C1-T1"]
    again = run(room, "--apply", filled)
    assert "stays as it is" in again.stdout


def test_mistakes_are_told_on_stderr_with_status_2(room: Path) -> None:
    before = room.read_bytes()
    filled = sheet(room, "trim", {"C1-T1": "seventy", "C2-T1": "70"})
    done = run(room, "--apply", filled)
    assert done.exit_code == 2
    assert [line.partition(" ")[0] for line in done.stderr.splitlines()] == [
        "filled-trim.csv:2",
        "filled-trim.csv:3",
    ]
    assert room.read_bytes() == before


def test_a_limit_is_typed_as_a_length(room: Path) -> None:
    filled = sheet(room, "trim", {"C1-T1": "72"})
    assert run(room, "--apply", filled).exit_code == 2
    assert run(room, "--apply", filled, "--limit", "2 1/2 in").exit_code == 0
    assert run(room, "--apply", filled, "--limit", "far").exit_code == 2


def test_writing_and_reading_are_two_things(room: Path) -> None:
    done = run(room, "--apply", sheet(room, "trim", {}), "--stage", "trim")
    assert done.exit_code == 2
    assert "--apply: --stage is for writing sheets, --apply for reading one" in done.stderr


def test_a_reading_written_wrong_by_hand_is_refused(room: Path) -> None:
    text = room.read_text(encoding="utf-8") + '\n[field.readings]\n"C1-T1" = "40 3/16 on"\n'
    room.write_text(text, encoding="utf-8")
    done = run(room, "--apply", sheet(room, "trim", {"C1-T1": "40"}))
    assert done.exit_code == 2
    line = text.count("\n")
    assert f'2-one-coffer.toml:{line} field.readings.C1-T1: got "40 3/16 on", must be a length' in done.output
    assert room.read_text(encoding="utf-8") == text
