"""The room's own measures in the TOML: comments, order and odd formatting stay byte for byte."""

import difflib
from collections.abc import Mapping
from pathlib import Path

import pytest

from field.by_hand import copied, rows_of, sheet
from lacunar.config import read_config
from lacunar.errors import LacunarError
from lacunar.field import apply_measures
from lacunar.units import read_length


def difference(before: str, after: str) -> list[str]:
    """Lines that went and came."""
    lines = difflib.ndiff(before.splitlines(), after.splitlines())
    return [line for line in lines if line[0] in "+-"]


def changed(path: Path, values: Mapping[str, str]) -> list[str]:
    """What applying these measures changes; once more must change nothing."""
    before = path.read_bytes()
    filled = sheet(path, "room", values)
    apply_measures(path, filled)
    after = path.read_bytes()
    assert not apply_measures(path, filled).changed
    assert path.read_bytes() == after
    return difference(before.decode(), after.decode())


@pytest.fixture
def inch(configs: Path, tmp_path: Path) -> Path:
    return copied(configs / "4-inch.toml", tmp_path)


@pytest.fixture
def den(configs: Path, tmp_path: Path) -> Path:
    """Walls and one height only, beams evenly spread."""
    return copied(configs / "1-first-look.toml", tmp_path)


def test_a_wall_keeps_its_comment(inch: Path) -> None:
    assert changed(inch, {"AB": "19' 3 7/16\"", "BC": "13 ft 5 1/4 in"}) == [
        '- AB = "19 ft 3 1/2 in"      # the wall opposite the door to the hall; facing it, A is the left corner',
        '+ AB = "19 ft 3 7/16 in"      # the wall opposite the door to the hall; facing it, A is the left corner',
    ]


def test_a_beam_and_the_light_change_inside_their_lines(inch: Path) -> None:
    told = changed(inch, {"E2 at CD from D": "7 ft 7 1/16", "light from AB": "6 ft 7 in"})
    beam, light = (line for line in told if line.startswith("+"))
    assert beam.startswith('+ ends  = [ { wall = "AB", from = "A", at = "7 ft 6 3/8 in" }, { wall = "CD", from = "D"')
    assert beam.endswith(', at = "7 ft 7 1/16 in" } ]')
    assert light == '+ at     = { AB = "6 ft 7 in", DA = "9 ft 7 1/4 in" }    # its centre, from two walls'
    assert len(told) == 4


def test_a_mark_and_what_is_measured_from_it(inch: Path) -> None:
    rows = rows_of(inch, "room")
    tape = next(name for name in rows if name.startswith("mAB-") and "A" not in name[4:] and "B" not in name[4:])
    values = {name: f"{round(rows[name].design)} mm" for name in ("A-mAB", tape)}
    told = changed(inch, values)
    came = {line.removeprefix("+ ").partition(" ")[0] for line in told if line.strip("+- ")}
    assert came == {"[room.marks]", "mAB", tape}
    config = read_config(inch)
    assert config.room.marks["mAB"].at == round(rows["A-mAB"].design)
    assert config.room.measured[tape] == round(rows[tape].design)


def test_a_tape_waits_for_its_mark(inch: Path) -> None:
    name = next(name for name in rows_of(inch, "room") if name.startswith("mAB-"))
    done = apply_measures(inch, sheet(inch, "room", {name: f"{rows_of(inch, 'room')[name].design} mm"}))
    assert not done.changed
    assert done.notes == (f"{name} waits for: A-mAB",)


def test_every_row_of_the_sheet_filled_in_makes_the_same_room(inch: Path) -> None:
    """All that is recommended, read without error to 0.1 mm, then once more."""
    config = read_config(inch)
    rows = rows_of(inch, "room")
    values = {name: f"{row.design:.1f} mm" for name, row in rows.items()}
    told = changed(inch, values)
    after = read_config(inch)
    assert len(after.room.measured) > len(config.room.measured)
    for line in inch.read_text(encoding="utf-8").splitlines():
        assert line.count('"') % 2 == 0
    kept = [line for line in told if line.startswith("-") and "#" in line]
    came = "\n".join(line for line in told if line.startswith("+"))
    assert all(line[line.index("#") :] in came for line in kept)


def test_one_height_becomes_five_where_all_corners_are_measured(inch: Path) -> None:
    heights = {"height A": "9 ft 2", "height B": "9 ft 1 7/8", "height C": "9 ft 2 1/4", "height D": "9 ft 2"}
    told = changed(inch, {**heights, "height centre": "9 ft 1 1/2 in"})
    line = 'A = "9 ft 2 in", B = "9 ft 1 7/8 in", C = "9 ft 2 1/4 in", D = "9 ft 2 in", centre = "9 ft 1 1/2 in"'
    assert told == ['- height = "9 ft 2 in"', f"+ heights = {{ {line} }}"]


def test_heights_wait_for_the_last_corner(inch: Path) -> None:
    done = apply_measures(inch, sheet(inch, "room", {"height A": "9 ft 2 1/8", "height B": "9 ft 2"}))
    assert not done.changed
    assert done.notes == ("heights waits for: height C, height D",)


def test_equal_heights_stay_one(inch: Path) -> None:
    assert changed(inch, {f"height {place}": "9 ft 2 in" for place in ("A", "B", "C", "D", "centre")}) == []


def test_evenly_spread_beams_become_measured_ones(den: Path) -> None:
    rows = rows_of(den, "room")
    names = [name for name in rows if name[:2] in ("E1", "E2") and " from " in name]
    assert len(names) == 4
    before = read_config(den).beams
    assert before is not None
    told = changed(den, dict(zip(names, ("4 ft 2 1/16", "4 ft 1 3/4", "8 ft 7 1/2", "8 ft 7"), strict=True)))
    config = read_config(den)
    assert config.beams is None
    assert [beam.name for beam in config.beam] == ["E1", "E2"]
    assert [end.at for beam in config.beam for end in beam.ends] == [
        read_length(text) for text in ("4 ft 2 1/16 in", "4 ft 1 3/4 in", "8 ft 7 1/2 in", "8 ft 7 in")
    ]
    assert {(beam.width, beam.depth) for beam in config.beam} == {(before.width, before.depth)}
    assert "+ [[beam]]                    # evenly spread: equal clear widths between walls and beams" in told


def test_evenly_spread_beams_wait_for_their_last_end(den: Path) -> None:
    done = apply_measures(den, sheet(den, "room", {"E1 at AB from A": "4 ft 2"}))
    assert not done.changed
    assert done.notes == ("beams waits for: E1 at CD from D, E2 at AB from A, E2 at CD from D",)


def test_a_light_that_was_not_given_is_added(den: Path) -> None:
    rows = rows_of(den, "room")
    values = {name: f"{rows[name].design:.0f} mm" for name in ("light from AB", "light from DA")}
    changed(den, values)
    (light,) = read_config(den).fixture
    assert (light.name, light.at) == ("light", {name[-2:]: float(text[:-3]) for name, text in values.items()})


ABOVE = {
    "light from AB": "5 ft 6 in",
    "light from DA": "6 ft 6 in",
    "light size": "5 in",
    "old ceiling thickness": "5/8 in",
    "first joist from DA": "3 1/2 in",
    "joist spacing": "24 in",
}


def test_what_is_above_the_slats_is_added(den: Path) -> None:
    changed(den, ABOVE)
    config = read_config(den)
    joists, old, (light,) = config.framing.joists, config.framing.old_ceiling, config.fixture
    assert joists is not None
    assert joists.along == "DA"
    assert (joists.first, joists.spacing) == pytest.approx((3.5 * 25.4, 24 * 25.4))
    assert old is not None
    assert old.thickness == pytest.approx(0.625 * 25.4)
    assert light.size == pytest.approx((5 * 25.4, 5 * 25.4))


def test_what_is_above_changes_inside_its_lines(configs: Path, tmp_path: Path) -> None:
    metric = copied(configs / "5-metric.toml", tmp_path)
    (config,) = (read_config(metric),)
    name = config.fixture[0].name
    values = {"first joist from AB": "290", "old ceiling thickness": "15", f"{name} size": "120"}
    lines = changed(metric, values)
    assert len(lines) == 6
    assert any('first = 290, spacing = 500, stock = "2x8", span = "4400 mm" }' in line for line in lines)
    assert not any("from DA" in row for row in rows_of(metric, "room") if "joist" in row)


def test_joists_that_were_found_one_by_one_are_not_asked_for(inch: Path) -> None:
    assert not [row for row in rows_of(inch, "room") if "joist" in row]


@pytest.mark.parametrize(
    ("without", "more", "waiting"),
    [
        ("joist spacing", {}, "joists waits for: joist spacing"),
        ("first joist from DA", {}, "joists waits for: first joist from the wall that they are parallel to"),
        (
            "",
            {"first joist from AB": "8 in"},
            "joists waits for: one first joist alone, from DA or AB: they lie one way",
        ),
        ("light from AB", {}, None),
    ],
)
def test_joists_wait_for_what_they_need(den: Path, without: str, more: dict[str, str], waiting: str | None) -> None:
    values = {name: value for name, value in ABOVE.items() if name != without and "light" not in name} | more
    done = apply_measures(den, sheet(den, "room", values))
    assert (read_config(den).framing.joists is None) == (waiting is not None)
    assert done.notes == ((waiting,) if waiting else ())


def test_a_lamp_waits_for_its_place(den: Path) -> None:
    done = apply_measures(den, sheet(den, "room", {"light size": "5 in"}))
    assert done.notes == ("light size waits for: light from two walls",)
    assert not done.changed


def test_a_limit_holds_nothing_against_joists_that_nobody_has_found(den: Path) -> None:
    values = {"first joist from DA": "3 in", "joist spacing": "24 in"}
    assert apply_measures(den, sheet(den, "room", values), 10.0).changed


ODD = """\ufefftitle="Odd"   # first
units = "mm"

  [room]   # indented
height   =   2500   # one height
[room.measured]
DA = 3000.0      # a float
AB    =4000#no space
'BC' = '3 m'
CD=4_000

[slats] # last
gap = 6"""


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_odd_formatting_stays(newline: str, tmp_path: Path) -> None:
    path = tmp_path / "odd.toml"
    path.write_bytes(ODD.replace("\n", newline).encode("utf-8"))
    apply_measures(path, sheet(path, "room", {"AB": "4003", "DA": "3002.5", "CD": "4 m", "BC": "3001 mm"}))
    assert path.read_bytes().decode("utf-8") == (
        ODD.replace("=4000#", "=4003#").replace("3000.0 ", "3002.5 ").replace("'3 m'", '"3001 mm"')
    ).replace("\n", newline)


def test_measures_that_make_no_room_are_not_written(configs: Path, tmp_path: Path) -> None:
    path = copied(configs / "2-one-coffer.toml", tmp_path)
    before = path.read_bytes()
    filled = sheet(path, "room", {"AB": "20 ft"})
    with pytest.raises(LacunarError):
        apply_measures(path, filled, limit=1e5)
    assert path.read_bytes() == before
