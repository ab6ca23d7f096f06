"""Sheets: what stands on the pages, that nothing is cut off or covered, and that they repeat byte for byte."""

import csv
import math
from itertools import combinations
from pathlib import Path

import pytest

from field.by_hand import copied
from field.pdf_look import ink, page_sizes, page_texts
from lacunar.config import read_config
from lacunar.drawings import A4, LETTER, Disc, Outline, Page, Stroke, Text, pdf_bytes
from lacunar.errors import LacunarError
from lacunar.field import STAGES, Design, Row, Stage, design, sheet_pages, write_sheets

ROOMS = ("1-first-look", "2-one-coffer", "4-inch", "5-metric", "7-hall", "8-l-shaped")
MARGIN = 10.0


@pytest.fixture(scope="module")
def drawn(configs: Path) -> dict[str, Design]:
    plain = {name: design(read_config(configs / f"{name}.toml")) for name in ROOMS}
    other = {
        f"{name} {what}": design(read_config(configs / f"{name}.toml", [change]))
        for name, what, change in (
            ("4-inch", "at an angle", ("slats.run", "30 deg")),
            ("2-one-coffer", "at an angle", ("slats.run", "45 deg")),
            ("8-l-shaped", "at an angle", ("slats.run", "-20 deg")),
            ("4-inch", "from the centre", ("slats.from", '"centre"')),
            ("1-first-look", "of one beam", ("beams.count", "1")),
        )
    }
    return plain | other


def pages_of(one: Design, stage: Stage) -> tuple[Page, ...]:
    return sheet_pages(one, stage)


def every(drawn: dict[str, Design]) -> list[tuple[str, Stage, tuple[Page, ...], tuple[Row, ...]]]:
    return [
        (name, stage, sheet_pages(one, stage), one.rows[stage])
        for name, one in drawn.items()
        for stage in STAGES
        if one.rows[stage]
    ]


def numbers(page: Page) -> list[tuple[str, tuple[float, float]]]:
    """Every number in a disc, and where: in the plan and beside its box."""
    discs = {thing.at for thing in page.things if isinstance(thing, Disc)}
    return [(t.text, t.at) for t in page.things if isinstance(t, Text) and t.text.isdigit() and t.at in discs]


def test_every_row_has_one_box_and_stands_in_a_drawing(drawn: dict[str, Design]) -> None:
    for name, stage, pages, rows in every(drawn):
        found = [text for page in pages for text, _ in numbers(page)]
        for row in rows:
            assert found.count(str(row.number)) == (1 if row.card == "above" else 2), f"{name} {stage} {row.name}"
        boxes = [thing for page in pages for thing in page.things if _is_box(thing)]
        assert len(boxes) == len(rows), f"{name} {stage}"


def _is_box(thing: object) -> bool:
    """A rectangle in the pen of write-in boxes; large enough for a pencil."""
    if not isinstance(thing, Outline) or thing.layer != "boxes":
        return False
    (x0, y0), _, (x1, y1), _ = thing.points
    assert x1 - x0 >= 26.0
    assert y1 - y0 >= 7.5
    return True


def test_nothing_lies_outside_the_margins(drawn: dict[str, Design]) -> None:
    for name, stage, pages, _ in every(drawn):
        for page in pages:
            for thing in page.things:
                spots = (
                    thing.points
                    if isinstance(thing, Stroke)
                    else [thing.at]
                    if isinstance(thing, Disc)
                    else _reach(thing)
                )
                for x, y in spots:
                    inside = MARGIN <= x <= page.size[0] - MARGIN and MARGIN <= y <= page.size[1] - MARGIN
                    assert inside, f"{name} {stage}: {thing}"


def _reach(label: Text) -> list[tuple[float, float]]:
    """Both ends of a line of text: the font's letters are about 0.62 of its size wide."""
    (x, y), wide = label.at, 0.62 * label.size * 0.353 * len(label.text)
    if label.measure is not None:
        return [(x, y), (x + label.measure, y)]
    if label.turn:
        return [(x, y)]
    start = x - {"left": 0.0, "centre": 0.5, "right": 1.0}[label.anchor] * wide
    return [(start, y), (start + wide, y)]


def test_no_number_covers_another(drawn: dict[str, Design]) -> None:
    for name, stage, pages, _ in every(drawn):
        for page in pages:
            for (a, p), (b, q) in combinations(numbers(page), 2):
                assert math.dist(p, q) >= 4.5, f"{name} {stage}: {a} and {b}"


def test_no_two_boxes_and_no_box_and_number_overlap(drawn: dict[str, Design]) -> None:
    for name, stage, pages, _ in every(drawn):
        for page in pages:
            boxes = [t.points for t in page.things if isinstance(t, Stroke) and _is_box(t)]
            for one, other in combinations(boxes, 2):
                apart = (
                    one[0][0] >= other[2][0]
                    or other[0][0] >= one[2][0]
                    or one[0][1] >= other[2][1]
                    or other[0][1] >= one[2][1]
                )
                assert apart, f"{name} {stage}"


def test_paper_goes_with_the_units_unless_labels_say_otherwise(configs: Path, drawn: dict[str, Design]) -> None:
    assert {page.size for page in pages_of(drawn["4-inch"], "room")} == {LETTER}
    assert {page.size for page in pages_of(drawn["5-metric"], "room")} == {A4}
    told = read_config(configs / "4-inch.toml", [("labels.grid.sheet", "a4")])
    assert {page.size for page in pages_of(design(told), "trim")} == {A4}


def test_the_files_of_a_room(configs: Path, tmp_path: Path) -> None:
    config = read_config(configs / "4-inch.toml")
    sheets = write_sheets(config, tmp_path / "out")
    assert [path.name for path in sheets.files] == [f"{stage}.{kind}" for stage in STAGES for kind in ("pdf", "csv")]
    assert sheets.notes == ()
    counts = {stage: len(page_texts(tmp_path / "out" / f"{stage}.pdf")) for stage in STAGES}
    assert counts == {"room": 3, "openings": 3, "coffers": 6, "last": 3, "trim": 3}
    for size in page_sizes(tmp_path / "out" / "room.pdf"):
        assert size == pytest.approx(LETTER, abs=0.1)
    assert all(0.01 < share < 0.2 for share in ink(tmp_path / "out" / "coffers.pdf"))


def test_the_text_of_a_sheet_can_be_read_back(configs: Path, tmp_path: Path) -> None:
    write_sheets(read_config(configs / "4-inch.toml"), tmp_path, "coffers")
    texts = page_texts(tmp_path / "coffers.pdf")
    first = " ".join(texts[0].split())
    for wanted in ("Measure 3: coffers for slats", "Morning room", "page 1 of 6", "Date", "C1", "length at S01"):
        assert wanted in first
    for letter in "ABCD":
        assert f" {letter} " in f" {first} "
    assert "On the ladder" in first
    assert "breaker off" in first
    assert "4' 2 15/16\"" in first
    assert "page 6 of 6" in texts[5]


def test_electricity_is_only_named_where_there_is_a_box(configs: Path, drawn: dict[str, Design]) -> None:
    def says(one: Design, stage: Stage) -> bool:
        pages = pages_of(one, stage)
        return any("breaker" in t.text for page in pages for t in page.things if isinstance(t, Text))

    assert says(drawn["4-inch"], "coffers")
    assert not says(drawn["7-hall"], "coffers")
    assert not says(drawn["4-inch"], "openings")


def test_the_same_sheet_is_the_same_file(configs: Path, tmp_path: Path) -> None:
    config = read_config(configs / "5-metric.toml")
    for folder in ("one", "two"):
        write_sheets(config, tmp_path / folder, "last")
    for kind in ("pdf", "csv"):
        assert (tmp_path / "one" / f"last.{kind}").read_bytes() == (tmp_path / "two" / f"last.{kind}").read_bytes()


def test_every_letter_is_in_the_font(drawn: dict[str, Design]) -> None:
    """An archival PDF may not hold a glyph that no font has."""
    for stage in ("room", "openings"):
        assert pdf_bytes(sheet_pages(drawn["1-first-look"], stage), "Den", archival=True).startswith(b"%PDF")


def test_the_csv_has_the_rows_of_the_pdf_in_order(configs: Path, tmp_path: Path, drawn: dict[str, Design]) -> None:
    write_sheets(read_config(configs / "4-inch.toml"), tmp_path, "openings")
    with (tmp_path / "openings.csv").open(encoding="utf-8-sig", newline="") as file:
        read = list(csv.DictReader(file))
    rows = drawn["4-inch"].rows["openings"]
    assert [line["name"] for line in read] == [row.name for row in rows]
    assert [int(line["row"]) for line in read] == list(range(1, 41))
    assert {line["stage"] for line in read} == {"openings"}
    assert {line["measured"] for line in read} == {""}
    assert read[0] == {
        "row": "1",
        "stage": "openings",
        "name": "X1-1 AB face top",
        "design": "3 ft 7 3/8 in",
        "measured": "",
        "note": "DA to E1",
    }


def test_names_are_unique_on_their_sheet(drawn: dict[str, Design]) -> None:
    for name, one in drawn.items():
        for stage, rows in one.rows.items():
            assert len({row.name for row in rows}) == len(rows), f"{name} {stage}"


def test_measures_that_were_typed_in_are_not_written_over(configs: Path, tmp_path: Path) -> None:
    path = copied(configs / "2-one-coffer.toml", tmp_path)
    config, out = read_config(path), tmp_path / "out"
    write_sheets(config, out)
    write_sheets(config, out)  # nothing is typed in yet
    filled = out / "trim.csv"
    filled.write_text(filled.read_text(encoding="utf-8").replace(",,along", ",70 in,along"), encoding="utf-8")
    before = filled.read_bytes()
    with pytest.raises(LacunarError, match=r"trim\.csv: holds measured values"):
        write_sheets(config, out)
    assert filled.read_bytes() == before
    write_sheets(config, out, "room")


def test_a_room_that_cannot_be_arranged_yet_has_its_first_sheet(tmp_path: Path) -> None:
    path = tmp_path / "attic.toml"
    path.write_text(
        'title = "Attic"\n[room]\nheight = "8 ft"\n[room.measured]\nAB = "10 ft"\nBC = "9 ft"\nCD = "10 ft"\n'
        'DA = "9 ft"\nAC = "25 ft"\n',
        encoding="utf-8",
    )
    config = read_config(path)
    sheets = write_sheets(config, tmp_path / "out")
    assert [file.name for file in sheets.files] == ["room.pdf", "room.csv"]
    assert "only the room's sheet: " in sheets.notes[0]
    with pytest.raises(LacunarError):
        write_sheets(config, tmp_path / "out", "trim")


def test_a_stage_with_nothing_to_measure_is_told(configs: Path, tmp_path: Path) -> None:
    config = read_config(configs / "2-one-coffer.toml")
    with pytest.raises(LacunarError, match='--stage: got "openings", and this ceiling has nothing to measure then'):
        write_sheets(config, tmp_path, "openings")
    assert list(tmp_path.iterdir()) == []


def test_slats_at_an_angle_have_a_row_each(configs: Path, tmp_path: Path, drawn: dict[str, Design]) -> None:
    one = drawn["4-inch at an angle"]
    sheets = write_sheets(one.config, tmp_path)
    assert {path.stem for path in sheets.files} == {"room", "openings", "coffers", "trim"}
    assert sheets.notes == ()
    assert one.layout is not None
    numbers = [(slat.coffer, slat.number) for slat in one.layout.slats]
    wanted = [f"{coffer}-S{number:02d} middle line" for coffer, number in dict.fromkeys(numbers)]
    assert [row.name for row in one.rows["coffers"]] == wanted
    first = " ".join(page_texts(tmp_path / "coffers.pdf")[0].split())
    assert "along its middle line, side to side" in first
    assert "end gaps are taken off later" in first


def test_a_coffer_with_more_slats_than_a_page_has_room_for_takes_two_cards(configs: Path) -> None:
    config = read_config(configs / "2-one-coffer.toml", [("slats.run", "45 deg"), ("slats.stock", "1x2")])
    one = design(config)
    pages = pages_of(one, "coffers")
    assert len(one.rows["coffers"]) > 2 * 14
    assert len(pages) == 3  # the plan, and two cards
    found = [text for page in pages for text, _ in numbers(page)]
    assert all(found.count(str(row.number)) == 2 for row in one.rows["coffers"])


@pytest.mark.parametrize("name", ["4-inch", "5-metric"])
def test_what_to_do_takes_two_lines_at_most(name: str, configs: Path, tmp_path: Path, drawn: dict[str, Design]) -> None:
    """There is room for two above the rule; A4 is the narrower paper."""
    write_sheets(read_config(configs / f"{name}.toml"), tmp_path)
    for stage in STAGES:
        labels = [t for t in sheet_pages(drawn[name], stage)[0].things if isinstance(t, Text) and t.measure is not None]
        lines = page_texts(tmp_path / f"{stage}.pdf")[0].splitlines()
        for label, most in zip(labels, (2, 1, 1), strict=False):
            start = next(i for i, line in enumerate(lines) if label.text.startswith(line.strip()) and " " in line)
            taken = 0
            while start + taken < len(lines) and lines[start + taken].strip() in label.text:
                taken += 1
            assert 1 <= taken <= most, f"{stage}: {label.text}"
