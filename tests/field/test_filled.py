"""A CSV filled in by hand: every mistake has its message, all are told at once, and nothing is written."""

from pathlib import Path

import pytest

from field.by_hand import copied, sheet
from lacunar.config import read_config
from lacunar.errors import ConfigError, LacunarError
from lacunar.field import apply_measures, read_limit
from lacunar.units import INCH


@pytest.fixture
def square(configs: Path, tmp_path: Path) -> Path:
    """Coffers and openings of 40 1/2 in."""
    return copied(configs / "3-square.toml", tmp_path)


def problems_of(path: Path, filled: Path) -> list[str]:
    before = path.read_bytes()
    with pytest.raises(LacunarError) as stop:
        apply_measures(path, filled)
    assert path.read_bytes() == before
    return [str(problem) for problem in stop.value.problems]


WRONG = [
    ("coffers", "C1 length at S01", "40 1/2 inn", 'got "40 1/2 inn", must be a length'),
    ("coffers", "C1 length at S01", "40,5", 'a comma inside a number; write a point: "40.5"'),
    ("coffers", "C1 length at S01", "40 3/2", "3/2 after a whole number is 1 or more"),
    ("coffers", "C1 length at S01", "4o 1/2", 'got "4o 1/2", must be a length'),
    ("coffers", "C1 length at S01", "3 ft 14 in", "after ft there must be fewer than 12 in"),
    ("coffers", "C1 length at S01", "-40 1/2", 'got "-40 1/2", must be more than 0'),
    ("coffers", "C1 length at S01", "0", 'got "0", must be more than 0'),
    ("coffers", "C1 length at S01", "41 1/2", "the design has 3 ft 4 1/2 in: 1 in too long, must be within 1/2 in"),
    ("coffers", "C1 length at S01", "41 1/2", "about an inch too much? measure again"),
    ("coffers", "C1 length at S01", "28 1/2", "about a foot missing? measure again"),
    ("coffers", "C1 length at S01", "1029", 'write "1029 mm" if that is what was read'),
    ("coffers", "C1 length at S01", "20", "1 ft 8 1/2 in too short, must be within 1/2 in; measure again"),
    ("coffers", "C11 length at S01", "40 1/2", "there is no coffer C11 to measure, there are C1 to C9"),
    ("coffers", "C1 lenght at S01", "40 1/2", "did you mean C1 length at S01?"),
    ("openings", "X3-1 AB face top", "40 1/2", "there is no piece X3-1 to measure, there are X1-1 to X2-3"),
    ("trim", "C12-T1", "40 1/2", "there is no coffer C12 to measure, there are C1 to C9"),
    ("trim", "C1-T5", "40 1/2", "no row of this sheet has that name; did you mean C1-T"),
    ("last", "C1 last hole at E2", "3 1/4", "did you mean C1 last hole at E1?"),
    ("slats", "C1 length at S01", "40 1/2", 'stage: got "slats", must be of room, openings, coffers, last, trim'),
    ("room", "AZ", "10 ft", "no row of this sheet has that name"),
    ("room", "height E", "9 ft", "no row of this sheet has that name; did you mean height "),
    ("room", "E3 at AB from A", "9 ft", "no row of this sheet has that name"),
    ("room", "AB", "21 ft", "must be within 6 in"),
]


@pytest.mark.parametrize(("stage", "name", "value", "told"), WRONG)
def test_a_mistake_has_its_message(square: Path, stage: str, name: str, value: str, told: str) -> None:
    (problem,) = problems_of(square, sheet(square, stage, {name: value}))
    assert problem.startswith(f"filled-{stage}.csv:2 {name}: ")
    assert told in problem


def test_all_mistakes_are_told_at_once_each_with_its_line(square: Path) -> None:
    filled = sheet(
        square,
        "coffers",
        [
            ("C1 length at S01", "40 1/2"),
            ("C1 length at end", "4O 1/2"),
            ("C2 length at S01", ""),
            ("C99 length at S01", "40 1/2"),
            ("C1 length at S01", "40 5/8"),
            ("C3 depth", "9 1/4"),
        ],
    )
    told = problems_of(square, filled)
    assert [text.partition(" ")[0] for text in told] == [f"filled-coffers.csv:{n}" for n in (3, 5, 6, 7)]
    assert 'got "40 5/8", and line 2 has "40 1/2" for the same; keep one of them' in told[2]


def test_a_row_twice_is_no_mistake_while_one_is_blank(square: Path) -> None:
    rows = [("C1-T1", ""), ("C1-T1", "40 1/2"), ("C1-T1", "–")]
    assert apply_measures(square, sheet(square, "trim", rows)).parts == ("C1-T1",)


@pytest.mark.parametrize(
    "value", ["40 1/2", '40-1/2"', "3' 4 1/2\"", "3 ft 4½ in", "1028.7 mm", "102.87 cm", "1.0287 m", " 40.5 in. "]
)
def test_every_way_of_writing_is_the_same_length(square: Path, value: str) -> None:
    apply_measures(square, sheet(square, "trim", {"C1-T1": value}))
    # the design's side is 40 1/2 as surveyed, to a ten thousandth of an inch
    assert read_config(square).field["C1-T1"].length == pytest.approx(40.5 * INCH, abs=1e-2)


@pytest.mark.parametrize(
    ("encoding", "delimiter", "newline"),
    [
        ("utf-8", ",", "\r\n"),
        ("utf-8-sig", ",", "\n"),
        ("utf-8-sig", ";", "\r\n"),
        ("cp1252", ";", "\r\n"),
        ("cp1252", "\t", "\n"),
    ],
)
def test_what_a_spreadsheet_makes_of_it_is_read(square: Path, encoding: str, delimiter: str, newline: str) -> None:
    filled = square.with_name("saved.csv")
    lines = ["Row;Stage;NAME;design;measured;note", ";trim;C1-T1;;40 ½;née", "", ";Trim; C1-T2 ;;40 1/2"]
    filled.write_bytes(newline.join(line.replace(";", delimiter) for line in lines).encode(encoding))
    assert apply_measures(square, filled).parts == ("C1-T1", "C1-T2")


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "lost.csv: is empty"),
        ("name,value\nC1-T1,40\n", "lost.csv:1: has no column stage, measured"),
        ('row,stage,name,measured\n1,trim,"C1-T1\n', "C1-T1"),
    ],
)
def test_a_file_that_is_no_sheet(square: Path, text: str, told: str) -> None:
    filled = square.with_name("lost.csv")
    filled.write_text(text, encoding="utf-8")
    if "measured" in text:
        assert apply_measures(square, filled).parts == ()  # a quote that is not closed swallows the rest
        return
    assert told in problems_of(square, filled)[0]


def test_a_file_that_is_not_there(square: Path) -> None:
    (problem,) = problems_of(square, square.with_name("nowhere.csv"))
    assert "nowhere.csv: cannot be read: No such file or directory" in problem


def test_the_room_is_applied_by_itself(square: Path) -> None:
    filled = sheet(square, "room", {"AB": "10 ft 8 1/2 in"})
    with filled.open("a", encoding="utf-8") as file:
        file.write("9,trim,C1-T1,,40 1/2,\n")
    (problem,) = problems_of(square, filled)
    assert "holds measures of the room and of trim: the room's change the design of all others" in problem


def test_a_wider_limit_believes_more(square: Path) -> None:
    filled = sheet(square, "trim", {"C1-T1": "42"})
    assert "must be within 1/2 in" in problems_of(square, filled)[0]
    assert apply_measures(square, filled, limit=2.0 * INCH).parts == ("C1-T1",)


@pytest.mark.parametrize(("text", "limit"), [("", None), ("3/4 in", 19.05), ("20 mm", 20.0), ("1", INCH)])
def test_a_limit_is_read_as_any_length(text: str, limit: float | None) -> None:
    assert read_limit(text, "in") == limit


@pytest.mark.parametrize("text", ["wide", "0", "-1 in"])
def test_a_limit_that_is_none(text: str) -> None:
    with pytest.raises(ConfigError, match=f'--limit: got "{text}"'):
        read_limit(text, "in")
