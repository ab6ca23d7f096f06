"""Pages as DXF: sound, at true size, distances that measure what they say, read by other programs."""

# pyright: basic
# ezdxf's queries are loosely typed.

import io
import math
import shutil
import subprocess
import xml.etree.ElementTree as ET
from pathlib import Path
from typing import Any

import pytest
from ezdxf.bbox import extents
from ezdxf.filemanagement import read as read_dxf

from lacunar.book import Sheet, drawing_sheets
from lacunar.config import read_config, read_config_text
from lacunar.drawings import Dimension, Disc, Hatch, Outline, Page, Stroke, Text, dxf_text, rectangle, svg_text
from lacunar.drawings.dxf import plain
from lacunar.job import Job, book_of, run_job
from lacunar.layout import overhead_lines, running_dimensions
from lacunar.parts import row_marks
from lacunar.units import INCH, read_length

SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = (
    "<text>&amp;</text>",
    'a "quoted" \\P{\\H9;name} %%c %%% ^J',
    "x" * 200,
    "שלום עולם",
    "🪵🔨 \u202ereversed",
)


def quick(path: Path, text: str = "") -> Job:
    config = read_config(path) if not text else read_config_text(text, path)
    return run_job(config, weighed=False, advised=False)


@pytest.fixture(scope="module")
def inch(configs: Path) -> Job:
    return quick(configs / "4-inch.toml")


@pytest.fixture(scope="module")
def sheets(inch: Job) -> dict[str, Sheet]:
    return {sheet.name: sheet for sheet in drawing_sheets(book_of(inch))}


def read(text: str) -> Any:
    return read_dxf(io.StringIO(text))


def measures(text: str) -> dict[str, list[float]]:
    """What dimensions measure, by what they say."""
    found: dict[str, list[float]] = {}
    for dimension in read(text).modelspace().query("DIMENSION"):
        found.setdefault(dimension.dxf.text, []).append(float(dimension.get_measurement()))
    return found


def test_every_sheet_is_there_and_sound(sheets: dict[str, Sheet], inch: Job) -> None:
    coffers = {f"coffer-{coffer.id}" for coffer in inch.layout.coffers}
    assert {"reflected-plan", "framing", "section", "section-edge", "section-end", "boards-1"} | coffers <= {*sheets}
    for name in ("framing", "coffer-C8", "section-edge", "boards-1"):
        document = read(dxf_text(sheets[name].page, "in"))
        audit = document.audit()
        assert (audit.errors, audit.fixes) == ([], [])
        assert document.header["$INSUNITS"] == 1


def test_rows_measure_what_the_stage_has(sheets: dict[str, Sheet], inch: Job) -> None:
    found = measures(dxf_text(sheets["framing"].page, "in"))
    wanted = [mm for face in row_marks(inch.room, inch.layout) for row in face.rows for mm in (row.near, row.far)]
    measured = sorted(inches * INCH for lengths in found.values() for inches in lengths)
    assert measured == pytest.approx(sorted(wanted), abs=0.01)
    for text, lengths in found.items():
        said = read_length(f"{text} in", "in")
        assert all(abs(inches * INCH - said) <= inch.config.tape.fine / 2.0 + 0.01 for inches in lengths)


def test_running_and_joist_distances_measure_what_the_stages_have(sheets: dict[str, Sheet], inch: Job) -> None:
    for coffer in ("C1", "C8"):
        found = measures(dxf_text(sheets[f"coffer-{coffer}"].page, "in"))
        (running,) = (one for one in running_dimensions(inch.layout) if one.coffer == coffer)
        stages = [mm for mark in running.marks for mm in (mark.start, mark.end)]
        stages += [
            mm for one in overhead_lines(inch.layout) if one.coffer == coffer for m in one.marks for mm in m.distances
        ]
        assert found
        for text, lengths in found.items():
            for inches in lengths:
                assert min(abs(inches * INCH - mm) for mm in stages) <= 0.01
                assert abs(inches * INCH - read_length(f"{text} in", "in")) <= inch.config.read_to / 2.0 + 0.01


def test_a_millimetre_page_is_in_millimetres(configs: Path) -> None:
    page = Page(
        size=(210.0, 297.0),
        scale=0.1,
        things=(Dimension(points=((10.0, 10.0), (60.0, 10.0)), label=Text(at=(35.0, 8.0), text="500")),),
    )
    document = read(dxf_text(page, "mm"))
    assert document.header["$INSUNITS"] == 4
    (dimension,) = document.modelspace().query("DIMENSION")
    assert dimension.get_measurement() == pytest.approx(500.0, abs=1e-9)
    assert dimension.dxf.text == "500"


def test_numbers_of_dimensions_stand_and_run_as_on_paper(sheets: dict[str, Sheet]) -> None:
    for name in ("framing", "coffer-C8"):
        page = sheets[name].page
        wanted = sorted(
            (thing.label.text, round(math.degrees(thing.label.turn), 3))
            for thing in page.things
            if isinstance(thing, Dimension) and thing.label is not None
        )
        found: list[tuple[str, float]] = []
        for dimension in read(dxf_text(page, "in")).modelspace().query("DIMENSION"):
            (text,) = dimension.get_geometry_block().query("MTEXT")
            found.append((text.plain_text(), round(text.get_rotation(), 3)))
        assert sorted(found) == wanted


def test_a_known_beam_is_as_wide_in_both_files(sheets: dict[str, Sheet], inch: Job) -> None:
    page = sheets["framing"].page
    beam = next(bar for bar in inch.layout.beams if bar.id == "E1")
    xs = [x for x, _ in beam.outline]
    wide = max(xs) - min(xs)
    drawn = [
        thing.points for thing in page.things if isinstance(thing, Outline) and len(thing.points) == len(beam.outline)
    ]
    fits = [
        points for points in drawn if abs(max(x for x, _ in points) - min(x for x, _ in points) - wide / 32.0) < 1e-6
    ]
    assert page.scale == 1.0 / 32.0
    assert len(fits) >= 1
    root = ET.fromstring(svg_text(page, "t"))
    assert (root.get("width"), root.get("viewBox")) == ("279.4mm", "0 0 279.4 215.9")
    (path, *_) = [
        path.get("d", "")
        for path in root.iter(f"{SVG}path")
        if path.get("d", "").startswith(f"M{round(fits[0][0][0], 3):g} {round(fits[0][0][1], 3):g}L")
    ]
    across = [float(step.split()[0]) for step in path.strip("MZ").split("L")]
    assert max(across) - min(across) == pytest.approx(wide / 32.0, abs=0.002)
    rings = [
        [point[0] for point in line.get_points("xy")]
        for line in read(dxf_text(page, "in")).modelspace().query("LWPOLYLINE")
        if line.closed
    ]
    assert any(max(ring) - min(ring) == pytest.approx(wide / INCH, abs=1e-6) for ring in rings)


def test_layers_are_the_drawings_own(sheets: dict[str, Sheet]) -> None:
    document = read(dxf_text(sheets["coffer-C1"].page, "in"))
    used = {entity.dxf.layer for entity in document.modelspace()}
    assert {"room", "wood", "measures", "sheet"} <= used
    assert used <= {layer.dxf.name for layer in document.layers}


def test_every_kind_of_thing_is_drawn() -> None:
    square = ((10.0, 10.0), (20.0, 10.0), (20.0, 15.0), (10.0, 15.0))
    page = Page(
        size=(100.0, 50.0),
        things=(
            Hatch(points=square, pitch=2.0),
            Disc(at=(50.0, 25.0), radius=3.0),
            Stroke(points=((0.0, 0.0), (5.0, 5.0)), dashed=True),
            rectangle((30.0, 5.0), (4.0, 4.0), fill="#000000"),
            Dimension(points=((1.0, 1.0), (1.0, 1.0))),
            Text(at=(5.0, 5.0), text="eight words that do not fit one line", measure=20.0),
            Text(at=(40.0, 45.0), text="up", turn=1.5707963267948966),
        ),
    )
    space = read(dxf_text(page, "mm")).modelspace()
    kinds = {kind: len(space.query(kind)) for kind in ("HATCH", "CIRCLE", "LWPOLYLINE", "DIMENSION")}
    assert kinds == {"HATCH": 2, "CIRCLE": 1, "LWPOLYLINE": 3, "DIMENSION": 0}
    said = [text.dxf.text for text in space.query("TEXT")]
    assert " ".join(said[:-1]) == "eight words that do not fit one line"
    assert space.query("TEXT").last.dxf.rotation == pytest.approx(90.0)
    (circle,) = space.query("CIRCLE")
    assert tuple(circle.dxf.center)[:2] == pytest.approx((50.0, 25.0))
    low = extents(space.query("LWPOLYLINE"))
    assert low.extmin.y == pytest.approx(35.0)


def test_the_same_page_is_the_same_file(sheets: dict[str, Sheet]) -> None:
    page = sheets["section-edge"].page
    assert dxf_text(page, "in") == dxf_text(page, "in")


@pytest.mark.parametrize("name", HOSTILE)
def test_no_text_is_taken_for_codes(name: str) -> None:
    said = plain(name)
    assert not {"\\", "{", "}", "^"} & {*said}
    assert "%%" not in said
    page = Page(size=(50.0, 50.0), things=(Text(at=(5.0, 5.0), text=name),))
    document = read(dxf_text(page, "in"))
    assert document.audit().errors == []
    (text,) = document.modelspace().query("TEXT")
    assert text.dxf.text == said
    assert text.plain_text() == said


def test_hostile_names_neither_break_nor_inject(configs: Path) -> None:
    path = configs / "2-one-coffer.toml"
    text = path.read_text(encoding="utf-8")
    title = text.splitlines()[[line.startswith("title") for line in text.splitlines()].index(True)]
    quoted = [name.replace("\\", "\\\\").replace('"', '\\"').replace("\u202e", "") for name in HOSTILE]
    fixtures = "".join(
        f'[[fixture]]\nname = "{name}"\nat = {{ AB = "{12 + 8 * i} in", DA = "{20 + 7 * i} in" }}\n'
        for i, name in enumerate(quoted)
    )
    job = quick(path, f"{text.replace(title, f'title = {chr(34)}{quoted[1]}<b>{chr(34)}')}\n{fixtures}")
    for sheet in drawing_sheets(book_of(job)):
        root = ET.fromstring(svg_text(sheet.page, sheet.title))
        assert {element.tag.removeprefix(SVG) for element in root.iter()} <= {
            "svg",
            "title",
            "rect",
            "path",
            "circle",
            "text",
        }
        assert read(dxf_text(sheet.page, "in")).audit().errors == []


@pytest.mark.skipif(shutil.which("ogrinfo") is None, reason="gdal is not installed here: no second reader of DXF")
def test_a_second_reader_opens_it(sheets: dict[str, Sheet], tmp_path: Path) -> None:
    path = tmp_path / "coffer.dxf"
    path.write_text(dxf_text(sheets["coffer-C8"].page, "in"), encoding="utf-8")
    done = subprocess.run(["ogrinfo", "-ro", "-al", path], capture_output=True, text=True, check=True)
    assert "Layer name: entities" in done.stdout
    for layer in ("room", "wood", "measures"):
        assert f"Layer (String) = {layer}" in done.stdout
    assert "C8-S01" in done.stdout
