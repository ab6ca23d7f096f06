"""A room whose distances name beam ends goes through its sheet like any other."""

import re
from pathlib import Path

import pytest

from field.by_hand import copied, rows_of, sheet
from lacunar.config import read_config
from lacunar.field import apply_measures
from lacunar.survey import solve_survey

TO_BEAMS = '"E1.AB-C" = "6315 mm"\n"D-E1.BA" = "4192 mm"\n"E1.AB-E1.CD" = "4059 mm"\n'


@pytest.fixture
def room(configs: Path, tmp_path: Path) -> Path:
    path = copied(configs / "4-inch.toml", tmp_path)
    text = path.read_text(encoding="utf-8")
    path.write_text(re.sub(r"(?m)^(\[room\.measured\].*)$", rf"\1\n{TO_BEAMS}", text), encoding="utf-8")
    return path


def test_the_sheet_asks_for_a_beams_own_readings_as_before(room: Path, configs: Path) -> None:
    plain = {name: row.design for name, row in rows_of(configs / "4-inch.toml", "room").items()}
    rows = {name: row.design for name, row in rows_of(room, "room").items()}
    assert rows.keys() == plain.keys()
    assert rows["E1 at AB from A"] == plain["E1 at AB from A"] == read_config(room).beam[0].ends[0].at


def test_a_filled_sheet_keeps_the_distances_to_beams(room: Path) -> None:
    values = {name: f"{row.design:.1f} mm" for name, row in rows_of(room, "room").items()}
    apply_measures(room, sheet(room, "room", {**values, "E1 at AB from A": "1110 mm"}))
    after = read_config(room)
    assert after.beam[0].ends[0].at == 1110.0
    assert {"E1.AB-C", "D-E1.BA", "E1.AB-E1.CD"} <= after.room.measured.keys()
    assert solve_survey(after).marks.keys() >= {"E1.AB", "E1.CD"}
