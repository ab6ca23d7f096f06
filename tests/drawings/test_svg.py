"""Pages as SVG: well formed, at paper size, drawn alike by another program."""

import xml.etree.ElementTree as ET
from pathlib import Path

import typst
from PIL import Image, ImageOps

from drawings import sawing
from lacunar.drawings import Disc, Page, Stroke, Text, board_pages, rectangle, svg_text

SVG = "{http://www.w3.org/2000/svg}"


def test_well_formed_and_at_paper_size() -> None:
    (page,) = board_pages(sawing.plan(), sawing.parts(), sawing.config())
    root = ET.fromstring(svg_text(page, "Tea & <music> room"))
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("279.4mm", "215.9mm", "0 0 279.4 215.9")
    assert root.findtext(f"{SVG}title") == "Tea & <music> room"
    said = [element.text for element in root.iter(f"{SVG}text")]
    assert said == [thing.text for thing in page.things if isinstance(thing, Text)]


def test_the_same_page_is_the_same_text() -> None:
    (page,) = board_pages(sawing.plan(), sawing.parts(), sawing.config())
    assert svg_text(page, "t") == svg_text(page, "t")


def test_lines_wrap_and_turn() -> None:
    page = Page(
        size=(50.0, 50.0),
        things=(
            Text(at=(5.0, 5.0), text="eight words that do not fit one line", measure=20.0),
            Text(at=(5.0, 40.0), text="up", turn=1.5707963267948966),
            Disc(at=(20.0, 20.0), radius=1.0),
            Stroke(points=((0.0, 0.0), (1.0, 1.0)), dashed=True),
        ),
    )
    root = ET.fromstring(svg_text(page, "t"))
    lines = list(root.iter(f"{SVG}text"))
    assert len(lines) > 2
    assert " ".join(line.text or "" for line in lines[:-1]) == "eight words that do not fit one line"
    assert lines[-1].get("transform") == "rotate(-90 5 40)"


def test_another_program_draws_what_is_meant(tmp_path: Path) -> None:
    # A black square from 10 to 30 mm on a page of 50 by 40 mm, at 254 dots per inch: ten dots a millimetre.
    page = Page(size=(50.0, 40.0), things=(rectangle((10.0, 10.0), (20.0, 20.0), width=0.0, fill="#000000"),))
    (tmp_path / "a.svg").write_text(svg_text(page, "t"), encoding="utf-8")
    sheet = tmp_path / "a.typ"
    sheet.write_text(
        '#set page(width: 50mm, height: 40mm, margin: 0pt)\n#image("a.svg", width: 100%)', encoding="utf-8"
    )
    (tmp_path / "a.png").write_bytes(typst.compile(sheet, format="png", ppi=254))
    with Image.open(tmp_path / "a.png") as picture:
        assert picture.size == (500, 400)
        dark = ImageOps.invert(picture.convert("L")).getbbox()
    assert dark is not None
    assert all(abs(got - wanted) <= 1 for got, wanted in zip(dark, (100, 100, 300, 300), strict=True))
