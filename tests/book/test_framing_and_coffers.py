"""Framing and coffer pages, read back: every piece on its page, every number where the stages have it."""

import math
import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

import pytest
from shapely import Polygon, STRtree

from field.pdf_look import page_texts
from lacunar.book import Book, crew_book, drawing_sheets
from lacunar.book.coffer_facts import coffer_facts
from lacunar.book.coffers import coffer_chapters
from lacunar.book.framing import framing_chapter
from lacunar.config import read_config, read_config_text
from lacunar.drawings import (
    LADDER,
    Banner,
    Block,
    Document,
    Figure,
    Heading,
    Outline,
    Table,
    Text,
    Thing,
    Words,
    coffer_plan,
    document_bytes,
    document_texts,
    paper_size,
    piece_card,
    settings_by_part,
    simple,
    text_box,
)
from lacunar.field import LIMITS, hole_windows
from lacunar.geometry import Line, dot
from lacunar.job import Job, book_of, run_job
from lacunar.layout import running_dimensions
from lacunar.parts import BEAM_PIECES, pocket_places, row_marks, waits_for
from lacunar.reports import cut_list_rows
from lacunar.units import read_length

ID = re.compile(r"\b(?:[CX]\d+|E\d+)-[A-Z]?\d+[a-z]?\b")


def quick(path: Path, text: str = "") -> Job:
    """A job whose plan is not weighed against others."""
    config = read_config(path) if not text else read_config_text(text, path)
    return run_job(config, weighed=False, advised=False)


@pytest.fixture(scope="module")
def jobs(configs: Path) -> dict[str, Job]:
    """The four rooms that these pages were tried on; a pipe lies above the first coffer of the one in inches."""
    names = ("4-inch", "5-metric", "6-sagging", "8-l-shaped")
    pipe = '[[no_nail]]\nfrom = {AB = "2 ft", DA = "1 ft"}\nto = {AB = "2 ft", DA = "3 ft"}\nwithin = "2 in"\n'
    text = (configs / "4-inch.toml").read_text(encoding="utf-8")
    first = quick(configs / "4-inch.toml", f"{text}\n{pipe}")
    return {"4-inch": first} | {name: quick(configs / f"{name}.toml") for name in names[1:]}


CROWDED = (
    ("5-metric", "cross_beams.rows", "6"),
    ("5-metric", "cross_beams.walls", "half beam"),
    ("4-inch", "cross_beams.rows", "0"),
)


@pytest.mark.parametrize(("name", "key", "value"), CROWDED)
def test_numbers_stand_apart_where_there_are_many(configs: Path, name: str, key: str, value: str) -> None:
    config = read_config(configs / f"{name}.toml", [(key, value)])
    book = book_of(run_job(config, weighed=False, advised=False))
    for block in (*framing_chapter(book), *coffer_chapters(book)):
        assert not isinstance(block, Figure) or overlaps(block.things) == []
    for sheet in drawing_sheets(book):
        if not sheet.name.startswith("boards"):
            assert overlaps(sheet.page.things) == [], sheet.name


@pytest.fixture(scope="module")
def books(jobs: dict[str, Job]) -> dict[str, Book]:
    return {name: book_of(job) for name, job in jobs.items()}


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """Blocks of both chapters of a book."""

    framing: tuple[Block, ...]
    coffers: tuple[Block, ...]

    def of_coffer(self, name: str) -> list[Block]:
        """From its heading to the next."""
        heads = [i for i, block in enumerate(self.coffers) if isinstance(block, Heading)]
        start = next(i for i in heads if self.coffers[i] == Heading(text=f"Coffer {name}", level=2, breaks=True))
        return list(self.coffers[start : next((i for i in heads if i > start), len(self.coffers))])


@pytest.fixture(scope="module")
def made(books: dict[str, Book]) -> dict[str, Made]:
    return {
        name: Made(framing=tuple(framing_chapter(book)), coffers=tuple(coffer_chapters(book)))
        for name, book in books.items()
    }


def ids(blocks: list[Block] | tuple[Block, ...]) -> Counter[str]:
    return Counter(found for text in document_texts(blocks) for found in ID.findall(text))


def test_slats_trim_and_furring_are_on_the_pages_of_their_coffer_alone(
    jobs: dict[str, Job], made: dict[str, Made]
) -> None:
    for name, job in jobs.items():
        told = {coffer.id: ids(made[name].of_coffer(coffer.id)) for coffer in job.layout.coffers}
        for part in (part for part in job.parts if part.kind in ("slat", "trim", "furring")):
            assert [id for id, found in told.items() if part.id in found] == [part.coffer], part.id
            assert part.id not in ids(made[name].framing)
        rows = [row[0] for block in made[name].coffers if isinstance(block, Table) for row in block.rows]
        listed = Counter(row for row in rows if ID.fullmatch(row))
        assert listed == Counter(part.id for part in job.parts if part.kind in ("slat", "furring"))


def test_pieces_have_a_card_each_and_beams_that_stay_have_none(jobs: dict[str, Job], made: dict[str, Made]) -> None:
    for name, job in jobs.items():
        pieces = [part for part in job.parts if part.bought and part.kind in BEAM_PIECES]
        figures = [block for block in made[name].framing if isinstance(block, Figure)]
        tops = Counter(text.removesuffix("  TOP") for text in document_texts(figures) if text.endswith("  TOP"))
        assert tops == Counter(part.id for part in pieces)


def test_pages_as_printed_hold_every_part(jobs: dict[str, Job], made: dict[str, Made]) -> None:
    job = jobs["4-inch"]
    document = Document(
        title="t", foot="f", size=paper_size(job.config), blocks=(*made["4-inch"].framing, *made["4-inch"].coffers)
    )
    pages = page_texts(document_bytes(document))
    found = {id for page in pages for id in ID.findall(page)}
    assert {part.id for part in job.parts if part.bought} <= found
    # Head, drawing and what its numbers are taken from on one page, tables on the next.
    assert len([page for page in pages if "Coffer C" in page.split("START")[0]]) >= len(job.layout.coffers)
    assert len(pages) <= 2 * len(job.layout.coffers) + 10


def test_rows_of_beams_are_where_the_pieces_end(jobs: dict[str, Job]) -> None:
    for job in jobs.values():
        faces = row_marks(job.room, job.layout)
        pieces = {piece.id: piece for piece in job.layout.pieces}
        # Both ends of every piece have their lines on the face that they come up to.
        assert Counter(row.piece for face in faces for row in face.rows) == Counter([*pieces] * 2)
        for face in faces:
            line = Line.through(*face.ends)
            for row in face.rows:
                piece = pieces[row.piece]
                corners = sorted(piece.outline, key=lambda point: abs(line.offset(point)))[:2]
                near, far = sorted(line.along(point) for point in corners)
                off = abs(line.offset(corners[0]))
                # A piece's corners stand half its clearance before the face, or a moulding's width, on its own sides.
                assert off < (3.0 if job.layout.mouldings == () else 70.0)
                assert (row.near, row.far) == pytest.approx((near, far), abs=0.05 + 0.01 * off)


def test_a_rows_lines_are_one_straight_line(jobs: dict[str, Job]) -> None:
    for job in jobs.values():
        faces = row_marks(job.room, job.layout)
        for number, axis in enumerate(job.layout.rows, 1):
            marks = [(face, row) for face in faces for row in face.rows if row.row == f"X{number}"]
            width = {piece.width for piece in job.layout.pieces}
            for face, row in marks:
                line = Line.through(*face.ends)
                offsets = sorted(axis.offset(line.at(mm)) for mm in (row.near, row.far))
                assert offsets == pytest.approx([-max(width) / 2.0, max(width) / 2.0], abs=0.02)


def test_pockets_are_told_where_rule_13_has_them(jobs: dict[str, Job]) -> None:
    # DESIGN rule 13: 2.799 in from the end of a square piece, 1 1/8 in below its top, 3/4 in from the face.
    places = [place for part in jobs["5-metric"].parts for place in pocket_places(part)]
    assert len(places) == 36
    for place in places:
        assert place.from_end == pytest.approx(2.799 * 25.4, abs=0.1)
        assert place.from_edge == pytest.approx(1.125 * 25.4)
        assert place.from_face == pytest.approx(0.75 * 25.4)
        assert place.depth + place.pocket.pilot_length == pytest.approx(0.75 * 25.4 / math.sin(math.radians(15.0)))


def test_what_must_not_be_cut_yet_stands_under_a_banner(jobs: dict[str, Job], made: dict[str, Made]) -> None:
    for name, job in jobs.items():
        waits = waits_for(job.parts, job.config.field, job.config.done.cut)
        for coffer in job.layout.coffers:
            banners = [block.text for block in made[name].of_coffer(coffer.id) if isinstance(block, Banner)]
            waiting = [part.id for part in job.parts if part.coffer == coffer.id and part.id in waits]
            assert len(banners) == 1
            assert "NOT YET" in banners[0]
            named = re.findall(r"(C\d+-[ST])(\d+)[a-z]?(?: to C\d+-[ST](\d+))?", banners[0])
            told = {
                f"{stem}{number:0{len(first)}d}"
                for stem, first, last in named
                for number in range(int(first), int(last or first) + 1)
            }
            assert {id.rstrip("ab") for id in waiting} == told


def test_holes_ask_where_the_rip_would_be_no_good(jobs: dict[str, Job]) -> None:
    for job in jobs.values():
        slats = {slat.id: slat for slat in job.layout.slats}
        for window in hole_windows(job.config, job.layout, LIMITS["last"]):
            widths = [width for id in window.ids for width in slats[id].widths]
            assert window.least <= window.expected <= window.most
            assert window.most - window.expected <= LIMITS["last"] + 1e-9
            # So much less of a hole for one rip is so much less of the rip.
            assert min(widths) - (window.expected - window.least) / 1.0 >= job.config.slats.narrowest_rip - 1e-6


def test_the_sheet_lies_as_the_room_does_for_who_faces_ab(jobs: dict[str, Job]) -> None:
    """Right and ahead on a sheet that is held flat are right and ahead in the room."""
    for job in jobs.values():
        a, b = job.room.wall(job.room.walls[0])
        right = Line.through(a, b).direction  # facing AB from inside, A is the left corner
        ahead = Line.through(a, b).left
        for facts in coffer_facts(book_of(job)):
            things, _, number = coffer_plan(facts.drawing, (180.0, 160.0))
            heavy = [thing for thing in things if isinstance(thing, Outline) and thing.width == 0.6]
            drawn = next(thing.points for thing in heavy if thing.layer == "room")
            plan = facts.coffer.outline
            for spot, point in zip(drawn[1:], plan[1:], strict=True):
                by = (point[0] - plan[0][0], point[1] - plan[0][1])
                moved = (spot[0] - drawn[0][0], drawn[0][1] - spot[1])
                assert moved == pytest.approx((dot(by, right) / number, dot(by, ahead) / number), abs=1e-6)


def overlaps(things: Iterable[Thing]) -> list[tuple[str, str]]:
    texts = [thing for thing in simple(things) if isinstance(thing, Text)]
    boxes = [Polygon(text_box(text)) for text in texts]
    pairs: list[tuple[int, int]] = STRtree(boxes).query(boxes, predicate="intersects").T.tolist()
    # Two that touch do not overlap: more than a tenth of a letter.
    return [(texts[i].text, texts[j].text) for i, j in pairs if i < j and boxes[i].intersection(boxes[j]).area > 0.5]


def test_texts_are_large_enough_and_stand_apart_on_the_page(books: dict[str, Book], made: dict[str, Made]) -> None:
    for name, chapters in made.items():
        width = Document(title="", foot="", size=paper_size(books[name].config), blocks=()).width
        for block in (*chapters.framing, *chapters.coffers):
            if isinstance(block, Words | Banner | Table):
                assert block.size >= LADDER
            if isinstance(block, Figure):
                assert overlaps(block.things) == [], name
                for thing in simple(block.things):
                    if isinstance(thing, Text):
                        assert thing.size >= LADDER
                        corners = text_box(thing)
                        assert all(-0.5 <= x <= width + 0.5 and -0.5 <= y <= block.size[1] + 0.5 for x, y in corners), (
                            name,
                            thing.text,
                        )


def test_running_numbers_of_a_table_are_the_stages_own(jobs: dict[str, Job], made: dict[str, Made]) -> None:
    job = jobs["4-inch"]
    running = {one.coffer: one for one in running_dimensions(job.layout)}
    for coffer in job.layout.coffers:
        table = next(
            block
            for block in made["4-inch"].of_coffer(coffer.id)
            if isinstance(block, Table) and block.head[0] == "Slat"
        )
        marks = {mark.number: mark for mark in running[coffer.id].marks}
        for row in table.rows:
            mark = marks[int(row[0].rpartition("-S")[2].rstrip("ab"))]
            assert read_length(f"{row[1]} in", "in") == pytest.approx(mark.start, abs=job.config.read_to / 2.0 + 1e-6)


def test_a_nail_under_a_pipe_is_named(made: dict[str, Made]) -> None:
    texts = list(document_texts(made["4-inch"].of_coffer("C1")))
    assert "NO NAIL" in texts
    (told,) = [text for text in texts if "Leave those out" in text]
    assert "C1-S0" in told
    assert not [text for text in document_texts(made["4-inch"].of_coffer("C15")) if "Leave those out" in text]


def test_the_book_holds_both_chapters(books: dict[str, Book]) -> None:
    heads = [block.text for block in crew_book(books["8-l-shaped"]).blocks if isinstance(block, Heading)]
    assert heads.index("Framing") < heads.index("Coffers, one by one") < heads.index("Saw sheets")


def test_an_end_that_is_cut_square_is_drawn_square(jobs: dict[str, Job]) -> None:
    """Walls lean a little, and their ends are told as square: the drawing must not say otherwise."""
    job = jobs["8-l-shaped"]
    told = {row.id: row.ends for row in cut_list_rows(job.parts, job.plan, job.config) if row.kind == "cross beam"}
    leaning = [part for part in job.parts if part.id in told and any(abs(end.mitre_deg) > 1e-3 for end in part.ends)]
    assert leaning
    for part in leaning:
        assert re.fullmatch(r"square at \S+ and \S+", told[part.id])
        things, _ = piece_card(part, settings_by_part(job.plan)[part.id], part.id, (), 180.0, LADDER)
        ring = next(thing for thing in things if isinstance(thing, Outline)).points
        assert (ring[0][0], ring[1][0]) == (ring[3][0], ring[2][0])
