"""The crew book, read back from its PDF: each piece where it is cut, numbers of the report, nothing cut too early."""

import re
import shutil
import subprocess
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

import pytest

from book.bold_text import bold_lines, fonts
from field.pdf_look import page_texts
from lacunar.book import crew_book
from lacunar.config import read_config, read_config_text
from lacunar.done import tick_rows
from lacunar.drawings import Document, Heading, document_bytes, settings_by_part
from lacunar.job import Job, book_of, report_of, run_job
from lacunar.parts import waits_for
from lacunar.reports import Report
from lacunar.units import read_length

ID = re.compile(r"\b[A-Z]\d+-[A-Z]?\d+[a-z]?\b")
SECTION = re.compile(r"((?:stop|fence|mitre)-\d+): ")


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A book with what it is made of."""

    job: Job
    report: Report
    document: Document
    data: bytes
    pages: list[str]
    bold: list[list[str]]

    def heads(self) -> list[Heading]:
        """Of chapters and of what is in them."""
        return [block for block in self.document.blocks if isinstance(block, Heading)]

    def chapters(self) -> Mapping[str, list[str]]:
        """Bold runs by chapter; what goes on at the head of a page is left out."""
        found: dict[str, list[str]] = {}
        names = [head.text for head in self.heads() if head.level == 1]
        chapter = ""
        for page in self.bold:
            for run in page:
                chapter = run if run in names else chapter
                if not run.endswith("(continued)"):
                    found.setdefault(chapter, []).append(run)
        return found


@pytest.fixture(scope="session")
def made(configs: Path) -> Made:
    """The room in inches, its openings and one coffer measured on the wood as they were drawn."""
    path = configs / "4-inch.toml"
    drawn = run_job(read_config(path), advised=False)
    rows = (
        f'[field."{part.id}"]\nlength = "{drawn.plan.lengths[part.id] / 25.4!r} in"\n'
        for part in drawn.parts
        if part.bought and (part.kind == "cross beam" or (part.kind == "slat" and part.coffer == "C1"))
    )
    text = f"date = 2026-03-14\n{path.read_text(encoding='utf-8')}\n{''.join(rows)}"
    job = run_job(read_config_text(text, path), advised=False)
    document = crew_book(book_of(job))
    data = document_bytes(document)
    return Made(
        job=job,
        report=report_of(job),
        document=document,
        data=data,
        pages=page_texts(data),
        bold=bold_lines(data),
    )


def sections(made: Made) -> Iterator[tuple[str, list[str]]]:
    """Saw sections by setting, with the bold runs that follow the heading."""
    name, runs = "", list[str]()
    for run in made.chapters()["Saw sheets"]:
        if head := SECTION.match(run):
            if name:
                yield name, runs
            name, runs = head[1], []
        elif name:
            runs.append(run)
    yield name, runs


def test_every_cut_part_stands_once_on_each_saw_section_that_it_needs(made: Made) -> None:
    wanted = Counter(
        (setting.id, part) for part, settings in settings_by_part(made.job.plan).items() for setting in settings
    )
    found = Counter((name, part) for name, runs in sections(made) for run in runs for part in ID.findall(run))
    assert found == wanted
    assert {part for _, part in found} == {part.id for part in made.job.parts if part.bought}


def test_every_part_has_one_row_to_tick_as_in_the_list(made: Made) -> None:
    ticked = [part for run in made.chapters()["Tick list"] for part in ID.findall(run)]
    assert Counter(ticked) == Counter(cells[0] for cells in tick_rows(made.job.parts, made.job.plan, made.job.config))
    text = " ".join(made.pages)
    assert text.count("☐") == 3 * len(ticked)
    stops = {part: one.stop for one in made.report.plan.settings if one.stop is not None for part in one.parts}
    rows = {cells[0]: cells[4] for cells in tick_rows(made.job.parts, made.job.plan, made.job.config)}
    assert {name: read_length(told, "in") for name, told in rows.items()} == pytest.approx(stops, abs=1e-6)


def test_what_the_saw_is_set_to_is_what_the_report_says(made: Made) -> None:
    told = {one.id: one for one in made.report.plan.settings}
    for name, runs in sections(made):
        big, setting = runs[0], told[name]
        if setting.mitre_deg is not None:
            assert float(big.removesuffix(" deg")) == pytest.approx(abs(setting.mitre_deg), abs=0.005)
        else:
            assert read_length(big, "in") == pytest.approx(setting.stop or setting.fence, abs=1e-6)
    assert {name for name, _ in sections(made)} == {*told}


def test_trim_is_told_with_the_length_that_the_report_has(made: Made) -> None:
    runs = made.chapters()["Trim"]
    strips = {row.id: row for row in made.report.parts if row.kind == "trim"}
    stops = {part: one.stop for one in made.report.plan.settings if one.stop for part in one.parts}
    cells = [run for run in runs if ID.match(run) or run.endswith(" in")]
    told = dict(zip(cells[::2], cells[1::2], strict=True))
    assert told.keys() == strips.keys()
    assert {name: read_length(length, "in") for name, length in told.items()} == pytest.approx(
        {name: stops[name] for name in strips}, abs=1e-6
    )


@pytest.mark.parametrize("chapter", ["Saw sheets", "Trim", "Dry run", "Tick list"])
def test_nothing_that_waits_stands_without_its_banner(made: Made, chapter: str) -> None:
    waits = waits_for(made.job.parts, made.job.config.field)
    heads = {head.text for head in made.heads()}
    banner, free = "", 0
    for run in made.chapters()[chapter]:
        if run.startswith("NOT YET"):
            banner = run
        elif run in heads:
            banner = ""
        for part in ID.findall(run):
            measures = waits.get(part, {}).values()
            assert all(measure in banner for measure in measures), f"{part} under {banner!r}"
            assert bool(banner) is bool(measures), f"{part} may be cut, and stands under {banner!r}"
            free += not measures
    assert free > 0 or chapter == "Trim"


def test_the_cover_says_what_may_be_cut_today(made: Made) -> None:
    cover = " ".join(" ".join(made.pages[:2]).split())
    assert "CUT NOW (10 of 10)" in cover
    assert "NOT YET: waits for coffers (196 of 210)" in cover
    assert "Power off at the panel and tested dead. Checked by" in cover


def test_every_page_says_what_plan_it_is_of(made: Made) -> None:
    for number, text in enumerate(made.pages, 1):
        foot = f"plan {made.report.plan.code}, 14 March 2026, page {number} of {len(made.pages)}"
        assert foot in " ".join(text.split())


def test_the_same_job_is_the_same_file(made: Made) -> None:
    assert document_bytes(crew_book(book_of(made.job))) == made.data


def test_one_font_is_in_the_file_and_no_other(made: Made) -> None:
    found = {(name.partition("+")[2], embedded) for name, embedded in fonts(made.data)}
    assert found == {("DejaVuSans", True), ("DejaVuSans-Bold", True)}


def test_fractions_and_feet_are_found_as_text(made: Made) -> None:
    text = " ".join(" ".join(made.pages).split())
    assert "8' 0\"" in text
    assert re.search(r"\b43 1/16 in\b", text)


def test_another_program_finds_the_file_sound(made: Made, tmp_path: Path) -> None:
    qpdf = shutil.which("qpdf")
    if qpdf is None:
        pytest.skip("qpdf is not installed")
    (tmp_path / "book.pdf").write_bytes(made.data)
    done = subprocess.run([qpdf, "--check", tmp_path / "book.pdf"], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


def test_no_page_with_a_piece_that_waits_lacks_the_words(made: Made) -> None:
    """Whatever page is torn out of the book."""
    waits = waits_for(made.job.parts, made.job.config.field)
    for number, (text, bold) in enumerate(zip(made.pages, made.bold, strict=True), 1):
        named = {part for run in bold for part in ID.findall(run)}
        assert "NOT YET" in text or named.isdisjoint(waits), f"page {number}"


def test_pieces_stand_beside_the_board_that_they_are_cut_from(made: Made) -> None:
    first, last = (next(i for i, page in enumerate(made.bold) if page[0] == name) for name in ("Saw sheets", "Trim"))
    saw = " ".join(" ".join(made.pages[first:last]).split())
    told = re.findall(r"\b(B\d+), [^:]{1,25}? ((?:[A-Z]\d+-[A-Z]?\d+[a-z]?(?:, )?)+)", saw)
    found = Counter((board, part) for board, parts in told for part in ID.findall(parts))
    wanted = {(board.id, cut.part) for board in made.job.plan.boards for cut in board.cuts}
    assert {*found} == wanted
