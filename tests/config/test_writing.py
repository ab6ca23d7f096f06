"""A config written and read again, and field measures written into a file."""

import re
import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lacunar.config import config_text, measure_text, read_config, read_config_text, safe_length, write_field
from lacunar.errors import ConfigError
from lacunar.units import Units, finest_mark, read_length

HERE = Path(__file__).resolve().parent
EVERYTHING = (HERE / "everything.toml").read_text(encoding="utf-8")

# every override keeps the config valid, so all of them may come together
OVERRIDES = {
    "units": ['"in"', '"mm"'],
    "read_to": ['"1/32 in"', '"1 mm"'],
    "slats.run": ["with", "BC", "30 deg", "0.3 rad", "joists"],
    "slats.from": ["centre", '["DA"]', '["CD", "BC"]'],
    "slats.stock": ["2x4", "5/4x4"],
    "slats.ten": ["38 in"],
    "slats.coffer.C2": ["{ run = '12 deg', from = 'centre' }"],
    "slats.wedge": ["fan", "taper"],
    "cross_beams.bottom": ["up 1/3 in", "flush"],
    "cross_beams.rows": ["0", "3"],
    "cross_beams.joint.angle": ["12.5 deg"],
    "beam.1.made": ["hollow 0.7 in", "unknown"],
    "fixture.1.shape": ["square"],
    "fixture.1.size": ['"4 3/8 in"'],
    "trim.corners": ["butt"],
    "trim.width": ["1 in"],
    "furring.use": ["true", "false", "auto"],
    "house.indoor.temperature": ["21 C", "70 F"],
    "colour.slats": ["lab(60, -3, 12.5)"],
    "field.readings": ["{ 'C1 length at S01' = '40 3/16 in', C1-T1 = 40.5 }"],
    "field.X1-1": ["{ faces = { AB = '40 in', CD = '39 15/16 in' } }"],
    "field.C1-S01": ["{ length = '3 ft 1/16 in', width = '2 in' }"],
    "shop.heaviest": ["550 lb", "200.1 kg"],
    "shop.pack": [
        "[{ name = 'putty', holds = 500, price = 7.5 }, { name = 'adhesive', holds = '9 m', on_hand = 2 }]",
        "[{ name = 'wall paint', holds = '1 gal', coverage = '400 sq ft/gal' }, { name = 'masking tape' }]",
    ],
    "shop.sheet": [
        "[{ name = 'a', covers = 'floor', spare = 0.15, price = 11.4, mass = '19 lb' }, { name = 'b', count = 3 }]",
        "[{ name = 'plywood', covers = 'coffers', length = '5 ft', width = '61 cm', on_hand = 2 }]",
    ],
    "finish.coats": ["[{ kind = 'clear', holds = '12 fl oz', coverage = '11.3 m2 per litre', price = 3 }]"],
    "fasteners.trim": ["{ spacing = '11 in', adhesive = false }"],
    "framing.joists": ["{ along = 'AB', first = '9 in', spacing = '16 in' }"],
}


@settings(deadline=None, max_examples=60)
@given(st.fixed_dictionaries({}, optional={key: st.sampled_from(values) for key, values in OVERRIDES.items()}))
def test_read_of_write_is_the_same(overrides: dict[str, str]) -> None:
    config = read_config_text(EVERYTHING, "room.toml", list(overrides.items()))
    again = read_config_text(config_text(config), "room.toml")
    assert again.model_dump() == config.model_dump()
    assert again.slats == config.slats  # what stands in no file too: the spacer, a run's angle


def test_read_of_write_of_the_first_look() -> None:
    config = read_config(HERE / "first_look.toml")
    again = read_config_text(config_text(config), config.path)
    assert again.model_dump() == config.model_dump()
    assert again.is_given("slats.gap")  # what was assumed is given now


# --- field measures ------------------------------------------------------------------------------------------------

PLAIN = '[room]\nheight = "9 ft"   # up to the plaster\n[room.measured]\nAB = "12 ft"\nBC = "11 ft"\n'
LAST = PLAIN + "\n[field]   # by part\nC1-S01 = { length = 30, width = 3 }\n"
MIDDLE = "[field]\nC1-S01 = { length = 30 }\n\n# the room\n" + PLAIN


def without_field(text: str) -> list[str]:
    """Lines outside [field], blank ones aside."""
    kept: list[str] = []
    inside = False
    for line in text.splitlines():
        inside = line.startswith("[field]") if line.startswith("[") else inside
        if not inside and line.strip():
            kept.append(line)
    return kept


@pytest.mark.parametrize("before", [PLAIN, LAST, EVERYTHING, PLAIN.rstrip("\n")])
def test_rows_are_added_and_the_rest_stays(tmp_path: Path, before: str) -> None:
    path = tmp_path / "room.toml"
    path.write_text(before, encoding="utf-8")
    write_field(path, {"C5-S03": {"length": 1000.1, "width": 88.9}, "X2-1": {"length": 1473.2}})
    after = path.read_text(encoding="utf-8")
    assert after.startswith(before)
    field = read_config(path).field
    assert (field["C5-S03"].length, field["C5-S03"].width, field["X2-1"].length) == (1000.1, 88.9, 1473.2)
    assert [entry.name for entry in tmp_path.iterdir()] == ["room.toml"]


def test_rows_that_are_there_are_replaced_key_by_key(tmp_path: Path) -> None:
    path = tmp_path / "room.toml"
    path.write_text(LAST, encoding="utf-8")
    write_field(path, {"C1-S01": {"length": 914.4}})
    assert path.read_text(encoding="utf-8") == LAST.replace("length = 30", 'length = "3 ft"')


def test_a_field_in_the_middle(tmp_path: Path) -> None:
    path = tmp_path / "room.toml"
    path.write_text(MIDDLE, encoding="utf-8")
    write_field(path, {"C1-S02": {"shortest": 25.4, "longest": 50.8}})
    after = path.read_text(encoding="utf-8")
    assert without_field(after) == without_field(MIDDLE)
    assert tomllib.loads(after)["field"] == {
        "C1-S01": {"length": 30},
        "C1-S02": {"shortest": "1 in", "longest": "2 in"},
    }


def test_line_ends_and_byte_order_mark_stay(tmp_path: Path) -> None:
    path = tmp_path / "room.toml"
    before = ("\ufeff" + PLAIN.replace("\n", "\r\n")).encode()
    path.write_bytes(before)
    write_field(path, {"C1-S02": {"length": 25.4}})
    assert path.read_bytes().startswith(before)
    assert read_config(path).field["C1-S02"].length == 25.4


def test_a_metric_room_gets_millimetres(tmp_path: Path) -> None:
    path = tmp_path / "room.toml"
    path.write_text('units = "mm"\n[room]\nheight = 2700\n[room.measured]\nAB = 4000\nBC = 3000\n', encoding="utf-8")
    write_field(path, {"C1-S02": {"length": 812.5, "width": 94.123}})
    assert tomllib.loads(path.read_text(encoding="utf-8"))["field"]["C1-S02"] == {
        "length": "812.5 mm",
        "width": "94.123 mm",
    }


def test_a_file_that_is_no_toml_stays_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "room.toml"
    path.write_text("[room", encoding="utf-8")
    with pytest.raises(ConfigError, match=r"room\.toml:1: not valid TOML"):
        write_field(path, {"C1-S02": {"length": 25.4}})
    assert path.read_text(encoding="utf-8") == "[room"
    assert [entry.name for entry in tmp_path.iterdir()] == ["room.toml"]


# --- what is written to the finest mark ----------------------------------------------------------------------------


@given(st.floats(0.1, 10_000.0), st.sampled_from(["in", "mm"]), st.booleans())
def test_a_safe_length_is_written_short_and_on_the_safe_side(mm: float, units: Units, up: bool) -> None:
    safe = safe_length(mm, units, up=up)
    off = safe - mm if up else mm - safe
    assert -2e-6 <= off <= finest_mark(units)
    text = measure_text(safe, units)
    assert re.fullmatch(r"[0-9]+(\.[0-9]{1,2})? mm" if units == "mm" else r"[0-9 /ft]+ in|[0-9]+ ft|[0-9.]+ in", text)
    assert read_length(text) == safe == safe_length(safe, units, up=up)


def test_readings_and_faces_go_where_the_file_has_them(tmp_path: Path) -> None:
    path = tmp_path / "room.toml"
    path.write_text(LAST + "\n[field.readings]\nC1-T1 = 40  # twice\n\n# the end\n", encoding="utf-8")
    write_field(path, {"X1-1": {"faces": {"AB": 1000.1, "the wall": 25.4}}}, {"C1-T1": "40 1/2", "C1 depth": "7 in"})
    assert path.read_text(encoding="utf-8").endswith(
        "C1-S01 = { length = 30, width = 3 }\n"
        'X1-1 = {faces = {AB = "1000.1 mm", "the wall" = "1 in"}}\n'
        '\n[field.readings]\nC1-T1 = "40 1/2"  # twice\n"C1 depth" = "7 in"\n\n# the end\n'
    )
    write_field(path, {"X1-1": {"faces": None, "length": 25.4}})
    assert tomllib.loads(path.read_text(encoding="utf-8"))["field"]["X1-1"] == {"length": "1 in"}
    config = read_config(path)
    assert config.readings == {"C1-T1": "40 1/2", "C1 depth": "7 in"}
    assert read_config_text(config_text(config), path).model_dump() == config.model_dump()
