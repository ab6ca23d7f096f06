"""The list of pieces says what the report says of each."""

import re
from dataclasses import replace

import pytest

from lacunar.reports import PartRow
from lacunar.share.part_list import part_list, price_text, size_text
from lacunar.tape import Tape
from lacunar.units import INCH, read_length
from share.figure_page import shown
from share.reading import Node, read

ROOM = "4-inch"


@pytest.fixture(scope="module")
def lines() -> dict[str, Node]:
    one = shown(ROOM, light=False)
    tree = read(part_list(one.report, one.scene.tape))
    return {row.attributes["data-part"] or "": row for row in tree.all("tr") if "data-part" in row.attributes}


def test_every_size_reads_as_the_row_s(lines: dict[str, Node]) -> None:
    rows = {row.id: row for row in shown(ROOM, light=False).report.parts}
    assert set(lines) == set(rows)
    for name, line in lines.items():
        row = rows[name]
        kind, size, _ = (cell.text for cell in line.all("td"))
        assert kind == row.kind
        found = re.fullmatch(r"(.+) x (.+?)(?: to (.+))? in, (.+) long", size)
        assert found is not None, size
        thick, width, width_end, length = found.groups()
        told = [read_length(f"{text} in", "in") for text in (thick, width, width_end or width)]
        meant = [row.thickness, row.width, row.width if row.width_end is None else row.width_end]
        assert told == pytest.approx(meant, abs=INCH / 64)
        assert read_length(length, "in") == pytest.approx(row.length, abs=INCH / 32 + 1e-6)


def test_a_price_is_the_row_s_or_says_why_there_is_none(lines: dict[str, Node]) -> None:
    for row in shown(ROOM, light=False).report.parts:
        told = list(lines[row.id].all("td"))[-1].text
        expected = "there already" if row.kind == "existing beam" else f"USD {row.price or 0.0:.2f}"
        assert told == expected
    some = next(row for row in shown(ROOM, light=False).report.parts if row.kind == "slat")
    assert price_text(replace(some, price=None), "USD") == "no price"


def test_a_tapered_piece_has_both_widths() -> None:
    row: PartRow = next(row for row in shown(ROOM, light=False).report.parts if row.kind == "slat")
    row = replace(row, thickness=0.75 * INCH, width=3.5 * INCH, width_end=3.0 * INCH, length=60.0 * INCH)
    assert size_text(row, Tape(units="in", read_to=INCH / 16)) == "3/4 x 3 1/2 to 3 in, 5 ft long"
