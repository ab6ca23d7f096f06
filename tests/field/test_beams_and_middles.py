"""Good to have in the room: heights half way along walls, and how wide and deep its beams are."""

from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from commands import change
from field.by_hand import copied, rows_of, sheet
from field.test_room_file import changed
from lacunar.config import read_config
from lacunar.errors import ConfigError
from lacunar.field import Design, apply_measures, design
from lacunar.field.beams import DIFFER, SECTION_LIMIT, sections
from lacunar.field.sheet_row import length_text
from lacunar.survey import ceiling_rim, solve_survey
from lacunar.units import INCH, read_length

SECTION: tuple[str, ...] = ("E2 width at AB", "E2 width half way", "E2 width at CD", "E2 depth at AB", "E2 depth at CD")


@cache
def drawn_of(path: Path) -> Design:
    return design(read_config(path))


@pytest.fixture
def inch(configs: Path, tmp_path: Path) -> Path:
    """Four measured beams, one height, walls of 19 ft and 13 ft."""
    return copied(configs / "4-inch.toml", tmp_path)


@pytest.fixture
def den(configs: Path, tmp_path: Path) -> Path:
    """Beams evenly spread."""
    return copied(configs / "1-first-look.toml", tmp_path)


def problems_of(path: Path, filled: Path) -> list[str]:
    before = path.read_bytes()
    with pytest.raises(ConfigError) as stop:
        apply_measures(path, filled)
    assert path.read_bytes() == before
    return [str(problem) for problem in stop.value.problems]


def test_a_beam_has_five_rows_that_nothing_waits_for(inch: Path) -> None:
    rows = {name: row for name, row in rows_of(inch, "room").items() if row.card == "section"}
    assert len(rows) == 5 * 4
    assert all(row.optional for row in rows.values())
    assert [rows[name].design / INCH for name in SECTION] == pytest.approx([3.5, 3.5, 3.5, 7.25, 7.25])


def test_the_mean_of_both_ends_and_the_middle_as_read(inch: Path) -> None:
    """3 1/2 and 3 5/8 are 3 9/16; only E2 changes, and comments above the next beam stay above it."""
    change(inch, '[[beam]]\nname  = "E3"', '# the third one\n[[beam]]\nname  = "E3"')
    values = dict(zip(SECTION, ("3 1/2", "3 11/16", "3 5/8", "7 1/4", "7 1/8"), strict=True))
    told = changed(inch, values)
    assert [line for line in told if line[0] == "-"] == ['- width = "3 1/2 in"', '- depth = "7 1/4 in"']
    came = [line for line in told if line[0] == "+"]
    assert came == ['+ width = "3 9/16 in"', '+ depth = "7 3/16 in"', '+ middle = "3 11/16 in"']
    beam = read_config(inch).beam[1]
    assert beam.name == "E2"
    wanted = [read_length(text) for text in ("3 9/16 in", "3 11/16 in", "7 3/16 in")]
    assert [beam.width, beam.middle, beam.depth] == wanted
    text = inch.read_text(encoding="utf-8")
    assert 'made  = "solid"\nmiddle = "3 11/16 in"\n\n# the third one\n[[beam]]\nname  = "E3"' in text


def test_one_end_waits_for_the_other(inch: Path) -> None:
    done = apply_measures(inch, sheet(inch, "room", {"E1 depth at AB": "7 1/8", "E1 width at CD": "3 3/8"}))
    assert not done.changed
    assert done.notes == (
        "E1 width waits for: E1 width at AB",
        "E1 depth waits for: E1 depth at CD",
    )


def test_ends_that_are_no_one_depth_are_measured_again(inch: Path) -> None:
    values = {"E1 depth at AB": "7 1/8", "E1 depth at CD": "7 3/8", "E3 width at AB": "3", "E3 width at CD": "3 1/2"}
    told = problems_of(inch, sheet(inch, "room", values))
    assert told[0].startswith(
        "filled-room.csv:3 E1 depth at CD: got 7 3/8 in, and line 2 has 7 1/8 in for E1 depth at AB"
    )
    assert "1/4 in apart, must be less than 1/4 in; measure again" in told[0]
    assert told[1].startswith("filled-room.csv:5 E3 width at CD: ")


@pytest.mark.parametrize(
    ("name", "value", "told"),
    [
        ("E1 width at AB", "35", "must be within 2 in"),
        ("E1 depth at CD", "7 4/4", "4/4 after a whole number is 1 or more"),
        ("E1 width at BC", "3 1/2", "no row of this sheet has that name; did you mean E1 width at "),
        ("E1 depth half way", "7 1/4", "no row of this sheet has that name"),
        ("E9 depth at AB", "7 1/4", "no row of this sheet has that name"),
        ("height mXY", "9 ft", "no row of this sheet has that name"),
        ("height mBC", "9 f", "must be a length"),
    ],
)
def test_a_mistake_has_its_message(inch: Path, name: str, value: str, told: str) -> None:
    (problem,) = problems_of(inch, sheet(inch, "room", {name: value}))
    assert problem.startswith(f"filled-room.csv:2 {name}: ")
    assert told in problem


def test_a_wider_limit_holds_for_sections_too(inch: Path) -> None:
    filled = sheet(inch, "room", {"E1 width half way": "6"})
    assert "must be within 2 in" in problems_of(inch, filled)[0]
    assert apply_measures(inch, filled, limit=3.0 * INCH).changed
    assert read_config(inch).beam[0].middle == pytest.approx(6.0 * INCH)


def test_evenly_spread_beams_are_given_their_own_sections(den: Path) -> None:
    ends = {name: f"{row.design / INCH:.2f}" for name, row in rows_of(den, "room").items() if row.card == "beam"}
    section = {"E2 depth at AB": "5 5/8", "E2 depth at CD": "5 3/4", "E1 width half way": "3 3/8"}
    done = apply_measures(den, sheet(den, "room", section))
    assert not done.changed
    assert [note.partition(" waits for: ")[0] for note in done.notes] == ["E1 width half way", "E2 depth"]
    assert all(note.endswith(", ".join(ends)) for note in done.notes)
    changed(den, {**ends, **section})
    first, second = read_config(den).beam
    assert (first.width, first.middle, first.depth) == pytest.approx((3.5 * INCH, 3.375 * INCH, 5.5 * INCH))
    assert (second.width, second.depth) == pytest.approx((3.5 * INCH, 5.6875 * INCH))
    assert second.middle is None


@settings(max_examples=200, deadline=None)
@given(
    read=st.lists(st.tuples(st.booleans(), st.floats(-SECTION_LIMIT, SECTION_LIMIT)), min_size=4, max_size=4),
    bowed=st.none() | st.floats(60.0, 120.0),
)
def test_what_is_read_of_a_section(configs: Path, read: list[tuple[bool, float]], bowed: float | None) -> None:
    """A mean lies between its two ends, and is none where one is missing or they are too far apart."""
    drawn = drawn_of(configs / "4-inch.toml")
    names = (SECTION[0], SECTION[2], SECTION[3], SECTION[4])
    values = {name: 100.0 + mm for name, (taken, mm) in zip(names, read, strict=True) if taken}
    values |= {} if bowed is None else {SECTION[1]: bowed}
    found = {section.key: section for section in sections(drawn.sketch, values)}
    for key, ends in (("width", names[:2]), ("depth", names[2:])):
        taken = [values[name] for name in ends if name in values]
        assert (key in found) == bool(taken)
        if key in found:
            assert found[key].missing == (len(taken) == 1)
            assert (found[key].differs > 0.0) == (max(taken) - min(taken) > DIFFER - 1e-6)
            assert min(taken) - 1e-9 <= found[key].mean <= max(taken) + 1e-9
    assert ("middle" in found) == (bowed is not None)
    if bowed is not None:
        assert (found["middle"].mean, found["middle"].missing, found["middle"].differs) == (bowed, False, 0.0)


def test_long_walls_have_a_height_half_way(inch: Path, configs: Path) -> None:
    """By the mark that is to be made there anyway, else by one of its own; short walls have none."""
    rows = rows_of(inch, "room")
    optional = [name for name, row in rows.items() if row.optional and row.card not in ("section", "above")]
    assert optional == ["B-mBC", "D-mDA", "height mAB", "height mBC", "height mCD", "height mDA"]
    assert "A-mAB" in rows
    pantry = rows_of(configs / "2-one-coffer.toml", "room")
    assert not any(name.startswith("height m") for name in pantry)


def test_a_height_half_way_waits_for_its_mark(inch: Path) -> None:
    corners = {f"height {corner}": "9 ft 2" for corner in "ABCD"}
    done = apply_measures(inch, sheet(inch, "room", {**corners, "height mBC": "9 ft 1 3/4"}))
    assert done.notes == ("height mBC waits for: B-mBC",)
    assert not done.changed


def test_a_height_half_way_is_a_point_of_the_ceiling(inch: Path) -> None:
    corners = {f"height {corner}": "9 ft 2" for corner in "ABCD"}
    told = changed(inch, {**corners, "B-mBC": "6 ft 8 5/8", "height mBC": "9 ft 1 3/4"})
    line = ", ".join(f'{corner} = "9 ft 2 in"' for corner in "ABCD")
    assert f'+ heights = {{ {line}, mBC = "9 ft 1 3/4 in" }}' in told
    room = solve_survey(read_config(inch))
    assert list(ceiling_rim(room)) == ["A", "B", "mBC", "C", "D"]
    assert ceiling_rim(room)["mBC"][2] == read_length("9 ft 1 3/4 in")
    again = rows_of(inch, "room")
    assert not again["height mBC"].optional
    assert "B-mBC" not in again


def test_a_height_joins_those_that_are_there(configs: Path, tmp_path: Path) -> None:
    path = copied(configs / "6-sagging.toml", tmp_path)
    rows = rows_of(path, "room")
    name = next(name for name, row in rows.items() if name.startswith("height m") and row.optional)
    mark = name.removeprefix("height ")
    along = next(row for row in rows if row.endswith(f"-{mark}") and len(row) == len(mark) + 2)
    told = changed(path, {along: length_text(rows[along].design, "in"), name: "9 ft 5 1/2"})
    assert any(line.startswith("+ heights  = {") and f'{mark} = "9 ft 5 1/2 in"' in line for line in told)
    assert read_config(path).room.heights[mark] == read_length("9 ft 5 1/2 in")


def test_a_mark_near_the_middle_serves(inch: Path) -> None:
    """Whatever its name: no other is made there."""
    text = inch.read_text(encoding="utf-8")
    marks = '[room.marks]\nsill = { wall = "CB", from = "C", at = "6 ft 2 in" }\n\n'
    inch.write_text(text.replace("[[window]]", marks + "[[window]]", 1), encoding="utf-8")
    rows = rows_of(inch, "room")
    assert "height sill" in rows
    assert "height mBC" not in rows
    assert rows["height sill"].optional


def test_lines_that_come_end_as_all_others_do(inch: Path) -> None:
    inch.write_bytes(inch.read_bytes().replace(b"\n", b"\r\n"))
    corners = {f"height {corner}": "9 ft 2 1/8" for corner in "ABCD"}
    changed(
        inch,
        {**corners, "B-mBC": "6 ft 8 5/8", "height mBC": "9 ft 1 3/4", "E1 width half way": "3 5/8", "BD": "23 ft 4"},
    )
    after = inch.read_bytes()
    assert after.count(b"\n") == after.count(b"\r\n")
    assert read_config(inch).beam[0].middle == read_length("3 5/8 in")


def test_what_is_not_written_keeps_every_byte(inch: Path) -> None:
    """Every row of the sheet, all at once: what was not there before is added, what was there keeps its lines."""
    before = inch.read_text(encoding="utf-8").splitlines()
    values = {name: length_text(row.design, "in") for name, row in rows_of(inch, "room").items()}
    told = changed(inch, values)
    gone = [line.removeprefix("- ") for line in told if line.startswith("-")]
    after = iter(inch.read_text(encoding="utf-8").splitlines())
    assert all(line in after for line in before if line not in gone)
