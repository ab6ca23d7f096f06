"""`lacunar done`, and the list to tick off."""

from pathlib import Path

import pytest

from commands import Lacunar


@pytest.fixture
def room(tmp_path: Path, configs: Path) -> Path:
    copy = tmp_path / "room.toml"
    copy.write_bytes((configs / "2-one-coffer.toml").read_bytes())
    return copy


def test_what_is_said_is_written_told_and_taken_back(lacunar: Lacunar, room: Path) -> None:
    before = room.read_text(encoding="utf-8")
    done = lacunar("done", room, "--cut", "C1-S01-S03", "--up", "C1-S01")
    assert (done.status, done.err) == (0, "")
    assert f"wrote {room}" in done.out.replace("\n  ", " ")
    assert "cut: 3 of " in done.out
    assert "up: 1" in done.out
    assert "planned anew:" in done.out
    again = lacunar("done", room, "--cut", "C1-S02")
    assert "stays as it is: nothing of that is new to it" in again.out.replace("\n  ", " ")
    assert "cut already: C1-S02" in again.out
    lacunar("done", room, "--undo", "C1-S01")
    lacunar("done", room, "--undo", "C1")
    assert room.read_text(encoding="utf-8").rstrip("\n") == before.rstrip("\n")


def test_check_says_what_may_be_cut_and_no_more_of_what_is(lacunar: Lacunar, room: Path) -> None:
    lacunar("done", room, "--up", "all")
    told = lacunar("check", room)
    assert told.status == 0
    assert "cut now:" not in told.out
    assert "good for: cut" in told.out


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ((), "nothing is said to be done; give one or more of --cut"),
        (("--cut", "C1-S99"), '--cut: there is no part, coffer, row or kind "C1-S99"; did you mean "C1-S'),
        (("--boards", "B999"), '--boards: there is no board of the plan "B999"'),
        (("--undo", "C1"), '--undo: there is no record of "C1"'),
    ],
)
def test_a_slip_is_told_and_nothing_written(lacunar: Lacunar, room: Path, options: tuple[str, ...], said: str) -> None:
    before = room.read_bytes()
    done = lacunar("done", room, *options)
    assert (done.status, done.out) == (2, "")
    assert said in done.err
    assert room.read_bytes() == before


def test_a_list_to_tick_off_goes_back_by_apply(lacunar: Lacunar, room: Path, tmp_path: Path) -> None:
    assert lacunar("measure", room, "--stage", "done", "-o", tmp_path / "sheets").status == 0
    ticks = tmp_path / "sheets" / "done.csv"
    lines = ticks.read_text(encoding="utf-8").splitlines()
    wrong = [line.replace(" in,,,", " in,perhaps,,") if line.startswith("C1-S01,") else line for line in lines]
    ticks.write_text("\n".join(wrong), encoding="utf-8")
    done = lacunar("measure", room, "--apply", ticks)
    assert done.status == 2
    assert 'cut: got "perhaps", must be x, a number of times, or empty' in done.err
    ticks.write_text("\n".join(wrong).replace("perhaps", "x"), encoding="utf-8")
    done = lacunar("measure", room, "--apply", ticks)
    assert (done.status, done.err) == (0, "")
    assert "cut: 1 of " in done.out
    assert "stays as it is" in lacunar("measure", room, "--apply", ticks).out.replace("\n  ", " ")
