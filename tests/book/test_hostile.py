"""A room whose names are meant to break pages and tables, and its hole; both PDFs as other programs see them."""

import csv
import io
import re
import shutil
import subprocess
from functools import cache
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from field.pdf_look import page_texts
from lacunar.book import label_pages, template_pages
from lacunar.book.hole_templates import hole_templates
from lacunar.config import read_config_text
from lacunar.drawings import Page, Text, board_pages, pdf_bytes, svg_text, text_width, texts
from lacunar.files import unmarked
from lacunar.job import PRODUCTS, Job, book_of, run_job, write_job
from lacunar.reports import cut_list_rows
from reports.reporting import TEXT

LAMP = '=HYPERLINK("x") #set page(fill: red) $x$ <b>&amp; \\u{1F4A1} 💡 שלום'
SHEET = "@SUM(1+1)|cmd"
TITLE = "#read('x') \\ \"quoted\" *bold* _" + "very " * 25 + "long"


@cache
def job() -> Job:
    def quoted(text: str) -> str:
        return text.replace("\\", "\\\\").replace('"', '\\"')

    text = (
        TEXT.replace("Bücherei", quoted(TITLE))
        + f"""
[[fixture]]
name   = "{quoted(LAMP)}"
shape  = "round"
size   = "4 in"
canopy = "5 1/2 in"
at     = {{ AB = "5 ft 8 in", DA = "6 ft" }}
[[shop.sheet]]
name   = "{SHEET}"
covers = "floor"
"""
    )
    return run_job(read_config_text(text, "study.toml"), advised=False, weighed=False)


@cache
def templates() -> tuple[Page, ...]:
    return template_pages(book_of(job()))


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, tuple[str, ...]]:
    """Everything that goes by the plan alone, and what the build says of it."""
    out = tmp_path_factory.mktemp("hostile") / "out"
    rows = [row for row in PRODUCTS if row.group in ("report", "plan", "drawings") or row.path in PDFS]
    written = write_job(job(), out, ("plan", "drawings", "book"), rows=rows)
    return out, written.notes


PDFS = ("labels.pdf", "templates.pdf")


def test_no_cell_begins_like_a_formula_and_all_read_back(built: tuple[Path, tuple[str, ...]]) -> None:
    seen: list[str] = []
    for path in built[0].glob("*.csv"):
        head, *rows = csv.reader(io.StringIO(path.read_bytes().decode("utf-8-sig"), newline=""))
        assert all(len(row) == len(head) for row in rows)
        for cell in (cell for row in rows for cell in row):
            assert re.fullmatch(r"-?\d+(\.\d+)?", cell) or not cell.startswith(tuple("=+-@\t\r＝＋－＠"))
            seen.append(unmarked(cell))
    assert SHEET in seen
    assert any(LAMP in cell for cell in seen)
    with (built[0] / "cut-list.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [row["id"] for row in rows] == [row.id for row in cut_list_rows(job().parts, job().plan, job().config)]
    for row in rows:
        assert float(row["length_mm"]) == pytest.approx(float(row["length_in"]) * 25.4, abs=0.02)


def test_drawings_of_boards_are_well_formed(built: tuple[Path, tuple[str, ...]]) -> None:
    for number, page in enumerate(board_pages(job().plan, job().parts, job().config)):
        root = ET.fromstring(svg_text(page, f"{TITLE} {number}"))
        assert {element.tag.rpartition("}")[2] for element in root.iter()} <= {
            "svg",
            "title",
            "rect",
            "path",
            "text",
            "circle",
        }
    assert any(built[0].rglob("*.svg"))


def test_names_are_printed_as_text_and_no_more(built: tuple[Path, tuple[str, ...]]) -> None:
    for name in PDFS:
        pages = page_texts(built[0] / name)
        assert len(pages) == len(label_pages(book_of(job())) if name == "labels.pdf" else templates())
        assert "#read('x')" in pages[0]
    assert any("#set page(fill: red)" in text for text in page_texts(built[0] / "templates.pdf"))
    assert any(note.startswith("templates.pdf: some letters cannot be printed") for note in built[1])


def test_the_same_build_gives_the_same_bytes_and_other_programs_find_no_fault(
    built: tuple[Path, tuple[str, ...]],
) -> None:
    again = pdf_bytes(templates(), f"{job().config.title}: sticks and templates")
    assert (built[0] / "templates.pdf").read_bytes() == again
    qpdf, fonts = shutil.which("qpdf"), shutil.which("pdffonts")
    if qpdf is None or fonts is None:
        pytest.skip("qpdf or pdffonts is not here: apt-get install qpdf poppler-utils")
    for name in PDFS:
        path = built[0] / name
        assert subprocess.run([qpdf, "--check", path], capture_output=True, check=False).returncode == 0
        listed = subprocess.run([fonts, path], capture_output=True, check=True, text=True).stdout.splitlines()[2:]
        assert listed
        assert all("DejaVuSans" in line and line.split()[-5] == "yes" for line in listed)


def test_one_line_of_text_stays_on_its_sheet() -> None:
    for page in templates():
        for thing in page.things:
            if isinstance(thing, Text) and not thing.turn:
                wide = text_width(thing.text, thing.size, bold=thing.bold)
                left = thing.at[0] - wide * {"left": 0.0, "centre": 0.5, "right": 1.0}[thing.anchor]
                assert left >= 5.0, thing.text
                assert left + wide <= page.size[0] - 5.0, thing.text


def test_a_hole_is_drawn_as_large_as_it_is_cut_with_the_slats_that_it_cuts() -> None:
    layout = job().layout
    (hole,) = layout.cut_outs
    (made,) = hole_templates(layout)
    outline = made.strokes[0].points
    wide, tall = (max(one) - min(one) for one in zip(*outline, strict=True))
    across, along = (max(one) - min(one) for one in zip(*hole.outline, strict=True))
    assert sorted((wide, tall)) == pytest.approx(sorted((across, along)), abs=0.2)  # the coffer leans a little
    coffer = layout.coffer(hole.coffer or "")
    cut = [slat for slat in layout.slats if slat.coffer == coffer.id and slat.notches]
    named = {label.text for label in made.labels}
    assert {slat.id for slat in cut} <= named
    start = coffer.sides[coffer.start_side].line
    middle = [(min(one) + max(one)) / 2.0 for one in zip(*outline, strict=True)]
    slats = {slat.id: slat for slat in layout.slats}
    shown = [label.text for label in made.labels if label.text in slats]
    for name, stroke in zip(shown, made.strokes[2:], strict=False):  # after the hole and its cover
        for (x, y), point in zip(stroke.points, slats[name].outline, strict=False):
            # Away from the start side is down the page, and its first corner lies at the right.
            assert y - middle[1] == pytest.approx(start.offset(hole.centre) - start.offset(point), abs=0.01)
            assert x - middle[0] == pytest.approx(start.along(hole.centre) - start.along(point), abs=0.01)


def test_sticks_show_the_hole_and_no_text_is_lost() -> None:
    said = [*texts(templates())]
    assert sum(LAMP[:12] in text for text in said) > 2
