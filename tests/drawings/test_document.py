"""Documents of flowing blocks, read back from their PDF by another library."""

from pathlib import Path

import pytest
from PIL import Image

from field.pdf_look import page_texts
from lacunar.drawings import (
    A4,
    FONT,
    Banner,
    Document,
    Figure,
    Heading,
    Picture,
    Table,
    Text,
    Words,
    document_bytes,
    letters_note,
    printable,
    rectangle,
)
from lacunar.errors import ExportError

ROWS = 70
FOOT = "plan ABC234, 14 March 2026"
HOSTILE = '#panic() *x* $y$ "q" </text> שלום 🙂'


@pytest.fixture(scope="module")
def document(tmp_path_factory: pytest.TempPathFactory) -> Document:
    picture = tmp_path_factory.mktemp("pictures") / "door.png"
    Image.new("RGB", (40, 30), "#804020").save(picture)
    rows = tuple((f"C1-S{i:02d}", f"{i} 3/4 in", "☐") for i in range(ROWS))
    return Document(
        title=HOSTILE,
        foot=FOOT,
        size=A4,
        blocks=(
            Heading(text="Saw sheets"),
            Picture(path=picture, height=40.0, alt="the door"),
            Words(texts=("one", "w" * 300)),
            Heading(text="stop-1", level=2),
            Table(head=("piece", "length", "cut"), rows=rows, shares=(0, 1, 1), banner="NOT YET"),
            Heading(text="stop-2", level=2, breaks=True),
            Banner(text="WAIT: for what is said here"),
            Figure(size=(80.0, 60.0), things=(rectangle((0, 0), (80, 60)), Text(at=(5, 5), text=HOSTILE))),
            Words(texts=("much more",) * 60),
            Heading(text="Trim"),
            Banner(text="HOLD: all of it"),
            Heading(text="T1", level=2, breaks=True),
            Words(texts=("last but one",)),
            Heading(text="Finish"),
            Words(texts=("last",)),
        ),
    )


@pytest.fixture(scope="module")
def pages(document: Document) -> list[str]:
    return page_texts(document_bytes(document))


def test_every_page_says_what_plan_it_is_of_and_its_number(pages: list[str]) -> None:
    assert len(pages) == 8
    for number, text in enumerate(pages, 1):
        assert f"{FOOT}, page {number} of 8" in " ".join(text.split())


def test_head_and_banner_of_a_table_stand_on_every_page_of_it(pages: list[str]) -> None:
    with_rows = [text for text in pages if "C1-S" in text]
    assert len(with_rows) == 3
    assert all("NOT YET" in text and "piece" in text for text in with_rows)
    assert sum(text.count("C1-S") for text in with_rows) == ROWS


def test_chapter_and_section_go_on_at_the_head_of_the_next_page(pages: list[str]) -> None:
    assert [text.count("Saw sheets: stop-1 (continued)") for text in pages] == [0, 1, 1, 0, 0, 0, 0, 0]
    assert "Saw sheets (continued)" in pages[3]
    assert "continued" not in pages[5]


def test_what_goes_on_under_a_banner_says_where_that_is(pages: list[str]) -> None:
    assert ["WAIT, see page 4" in text for text in pages] == [False, False, False, False, True, False, False, False]


def test_a_banner_under_a_chapter_holds_for_all_of_it(pages: list[str]) -> None:
    assert ["HOLD, see page 6" in text for text in pages] == [False, False, False, False, False, False, True, False]


def test_the_same_document_is_the_same_file(document: Document) -> None:
    assert document_bytes(document) == document_bytes(document)


def test_marks_of_the_typesetter_are_letters(document: Document, pages: list[str]) -> None:
    assert '#panic() *x* $y$ "q" </text>' in pages[3]
    assert b"/BaseFont" in document_bytes(document)
    assert document_bytes(document).count(FONT.replace(" ", "").encode()) > 0


def test_a_letter_that_the_font_lacks_is_a_question_mark_and_told() -> None:
    assert printable("7′ 3½″ × 2 שלום") == "7′ 3½″ × 2 שלום"
    assert printable("a\u202eb\nc\x00 🙂") == "ab c ?"
    assert letters_note(["7′", "really?"]) == ()
    assert letters_note(["a🙂", "🙂"]) == ('some letters cannot be printed, "?" stands for them: U+1F642',)


def test_a_picture_that_is_gone_is_told(document: Document) -> None:
    gone = Document(title="t", foot=FOOT, size=A4, blocks=(Picture(path=Path("nowhere.png"), height=40.0, alt="none"),))
    with pytest.raises(ExportError, match=r"nowhere\.png: cannot be read"):
        document_bytes(gone)
