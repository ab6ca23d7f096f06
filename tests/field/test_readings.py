"""What was read in the field stays as it was typed; what follows from it stands beside."""

import re
import tomllib
from collections.abc import Mapping
from pathlib import Path

import pytest

from field.by_hand import copied, rows_of, sheet
from lacunar.config import read_config
from lacunar.errors import ConfigError
from lacunar.field import STAGES, Stage, apply_measures
from lacunar.units import INCH, format_length

TYPED = {
    "C1-T1": "40 3/16",
    "C1-T2": "40.5",
    "C1-T3": "3' 4 7/16\"",
    "C1-T4": "1027 mm",
    "C2-T1": " 40½  in ",
}
KEPT = {**TYPED, "C2-T1": "40½ in"}


@pytest.fixture
def square(configs: Path, tmp_path: Path) -> Path:
    return copied(configs / "3-square.toml", tmp_path)


def applied(path: Path, stage: Stage, values: Mapping[str, str]) -> tuple[str, ...]:
    return apply_measures(path, sheet(path, stage, values)).notes


def a_little_off(path: Path, stage: Stage) -> dict[str, str]:
    """Every row of a stage as a tape reads it, some marks off the design."""
    config = read_config(path)
    off = (0.4, -1.3, 2.2, -0.7, 1.1)
    return {
        name: format_length(row.design + off[i % 5], config.units, config.read_to, "words")
        for i, (name, row) in enumerate(rows_of(path, stage).items())
    }


def test_they_stay_as_they_were_typed(square: Path) -> None:
    before = square.read_text(encoding="utf-8")
    applied(square, "trim", TYPED)
    after = square.read_text(encoding="utf-8")
    assert after.startswith(before)
    field = tomllib.loads(after)["field"]
    assert field["readings"] == KEPT == read_config(square).readings
    assert set(field) == {"readings", *TYPED}
    assert field["C1-T2"] == {"length": "3 ft 4 1/2 in"}
    assert field["C1-T4"] == {"length": "40.433 in"}  # 40.43307, no longer than that


def test_a_bare_number_of_a_metric_file_is_millimetres(configs: Path, tmp_path: Path) -> None:
    path = copied(configs / "5-metric.toml", tmp_path)
    design = rows_of(path, "trim")["C1-T1"].design
    typed = f"{design + 1.0:.0f}"
    applied(path, "trim", {"C1-T1": typed})
    config = read_config(path)
    assert config.readings == {"C1-T1": typed}
    applied(path, "trim", {"C1-T1": f"{float(typed) / INCH!r} in"})
    assert read_config(path).field == config.field


def test_line_ends_byte_order_mark_and_comments_stay(square: Path) -> None:
    before = b"\xef\xbb\xbf" + square.read_bytes().replace(b"\n", b"\r\n")
    square.write_bytes(before)
    applied(square, "trim", TYPED)
    after = square.read_bytes()
    assert after.startswith(before)
    assert not re.search(rb"(?<!\r)\n", after)
    assert read_config(square).readings == KEPT


def test_a_reading_typed_anew_replaces_the_old_one_and_a_blank_leaves_it(square: Path) -> None:
    applied(square, "trim", {"C1-T1": "40 3/16", "C1-T2": "40 1/2"})
    applied(square, "trim", {"C1-T1": "40 1/4", "C1-T2": ""})
    config = read_config(square)
    assert config.readings == {"C1-T1": "40 1/4", "C1-T2": "40 1/2"}
    assert config.field["C1-T1"].length == pytest.approx(40.25 * INCH)


def test_a_coffer_is_measured_in_two_days(square: Path) -> None:
    """Each half waits alone; both together are what one sheet would have given."""
    (square.parent / "other").mkdir()
    other = copied(square, square.parent / "other")
    first, last = "C5 length at S01", "C5 length at S11"
    notes = applied(square, "coffers", {first: "40 1/2", last: ""})
    assert notes == (f"C5 waits for: {last}",)
    assert not read_config(square).field
    assert applied(square, "coffers", {last: "40 3/4"}) == ()
    applied(other, "coffers", {first: "40 1/2", last: "40 3/4"})
    assert read_config(square).field == read_config(other).field != {}
    # Measured again at one end: the other one's reading still holds.
    applied(square, "coffers", {first: "40 5/8"})
    applied(other, "coffers", {first: "40 5/8", last: "40 3/4"})
    assert read_config(square).field == read_config(other).field


def test_a_piece_is_measured_on_one_face_after_the_other(square: Path) -> None:
    for face in ("AB face", "X2-1 face"):
        notes = applied(square, "openings", {f"X1-1 {face} {level}": "40 9/16" for level in ("top", "bottom")})
        assert bool(notes) is (face == "AB face")
    (row,) = read_config(square).field.values()
    assert row.length == pytest.approx((40 + 9 / 16 - 1 / 32) * INCH)


def test_what_a_sheet_does_not_name_stays_as_it_is(square: Path) -> None:
    """A length that somebody wrote over by hand is not reckoned anew with another coffer's."""
    names = {f"{coffer} {end}": "40 5/8" for coffer in ("C1", "C2") for end in ("length at S01", "length at S11")}
    applied(square, "coffers", names)
    text = square.read_text(encoding="utf-8")
    own = re.sub(r"C1-S03 = \{.*\}", 'C1-S03 = {length = "40 in"}', text)
    assert own != text
    square.write_text(own, encoding="utf-8")
    applied(square, "coffers", {"C2 length at S01": "40 9/16"})
    row = read_config(square).field["C1-S03"]
    assert (row.length, row.shortest) == (pytest.approx(40.0 * INCH), None)


@pytest.mark.parametrize("name", ["4-inch", "5-metric"])
def test_the_second_time_changes_no_byte_and_nothing_is_written_finer_than_a_person_would(
    name: str, configs: Path, tmp_path: Path
) -> None:
    path = copied(configs / f"{name}.toml", tmp_path)
    for stage in STAGES[1:]:
        filled = sheet(path, stage, a_little_off(path, stage))
        assert apply_measures(path, filled).changed
        once = path.read_bytes()
        assert not apply_measures(path, filled).changed
        assert path.read_bytes() == once
    field = tomllib.loads(path.read_text(encoding="utf-8"))["field"]
    assert len(field.pop("readings")) == sum(len(rows_of(path, stage)) for stage in STAGES[1:])
    written = [text for row in field.values() for item in row.values() for text in _texts(item)]
    assert len(written) > 400
    fine = r"\d+\.\d{3} in|(\d+ ft ?)?(\d+ ?)?(\d+/\d+)?( in)?" if name == "4-inch" else r"\d+(\.\d{1,2})? mm"
    assert [text for text in written if not re.fullmatch(fine, text)] == []


def _texts(item: str | dict[str, str]) -> list[str]:
    return list(item.values()) if isinstance(item, dict) else [item]


@pytest.mark.parametrize(
    ("name", "fix"), [("C5 lenght at S01", "did you mean C5 length at S01?"), ("the light", "take it out")]
)
def test_a_reading_of_nothing_in_the_file_is_told(square: Path, name: str, fix: str) -> None:
    before = square.read_text(encoding="utf-8") + f'\n[field.readings]\n"{name}" = "40 1/2"\n'
    square.write_text(before, encoding="utf-8")
    with pytest.raises(ConfigError) as error:
        applied(square, "trim", {"C1-T1": "40 1/2"})
    what = "no row of the measuring sheets has that name"
    assert [str(one) for one in error.value.problems] == [f'{square.name} field.readings."{name}": {what}; {fix}']
    assert square.read_text(encoding="utf-8") == before


def test_names_of_older_sheets_are_still_read_in_the_file(square: Path) -> None:
    text = square.read_text(encoding="utf-8")
    square.write_text(text + '\n[field.readings]\n"C5 length at start" = "40 1/2"\n', encoding="utf-8")
    assert applied(square, "coffers", {"C5 length at S11": "40 1/2"}) == ()
    assert len(read_config(square).field) > 9
