"""What furring does to the other checks: everything hangs lower by its thickness."""

import pytest
from hypothesis import strategies as st

from checks.sample import SQUARE, ceiling, edited, found, one
from lacunar.analysis.overlap import find_overlaps
from lacunar.analysis.shapes import polygons_of
from lacunar.errors import LayoutError
from lacunar.layout import arrange_layout
from lacunar.parts import make_parts
from lacunar.survey import solve_survey
from lacunar.tolerances import CONTACT
from strategies import Quad, Wish, config_of, quads, sampled, text_of

THICK = 0.75 * 25.4
FURRING = ("[finish]", '[furring]\nstock = "1x3"\nuse = true\n[finish]')


def test_slats_lie_against_the_furring_and_trim_below_them() -> None:
    bare, furred = ceiling(), ceiling(edited(SQUARE, FURRING))
    for kind in ("slat", "trim"):
        before = {round(part.top.z0, 6) for part in bare.of_kind(kind)}
        assert {round(part.top.z0 + THICK, 6) for part in furred.of_kind(kind)} == before
    assert {(part.top.z0, round(part.bottom.z0, 6)) for part in furred.of_kind("furring")} == {
        (2500.0, round(2500.0 - THICK, 6))
    }
    assert one("clash", furred).level == "pass"


def test_a_beam_that_slats_and_trim_would_hide() -> None:
    """Beams 55 deep: slats and trim of 20 each leave 15, with furring they hang 4.05 lower than the beams."""
    shallow = edited(SQUARE, ("depth = 140", "depth = 55"))
    assert not [f for f in found("beam-fits", ceiling(shallow)) if "hide it" in f.message]
    findings = [f for f in found("beam-fits", ceiling(edited(shallow, FURRING))) if "hide it" in f.message]
    assert [(f.level, f.where, f.value) for f in findings] == [
        ("fail", name, pytest.approx(55.0 - 40.0 - THICK)) for name in ("E1", "X1-1", "X1-2")
    ]
    assert "furring.use = false" in findings[0].fix


def test_an_existing_beam_alone_is_told_too() -> None:
    rows = (
        '[cross_beams]\nstock = "100x140"\nwidth = 100\ndepth = 140\nrows = 1\nwall_end = "ledger"\n'
        "joint = { low = 0, clearance = 1 }\n"
    )
    text = edited(SQUARE, (rows, ""), ("depth = 140", "depth = 40"))
    finding = one("beam-fits", ceiling(text))
    assert (finding.level, finding.where, finding.value) == ("fail", "E1", pytest.approx(0.0))
    assert "level with" in finding.message


def test_bare_furring_shows_in_the_gaps() -> None:
    bare = edited(SQUARE, FURRING, ('behind = "flat black"\n', ""))
    (finding,) = (f for f in found("what-shows", ceiling(bare)) if f.where == "finish.behind")
    assert "bare furring" in finding.message
    assert "ceiling and furring" in finding.fix


def test_boxes_end_deeper() -> None:
    assert one("caution-electrical", ceiling(edited(SQUARE, FURRING))).value == pytest.approx(20.0 + THICK)


def test_under_a_ceiling_out_of_flat_furring_takes_the_slats_planes() -> None:
    heights = "heights = { A = 2500, B = 2500, C = 2500, D = 2500, centre = 2480 }"
    sagging = edited(SQUARE, ("height = 2500", heights))
    bare, furred = ceiling(sagging), ceiling(edited(sagging, FURRING))
    planes = [
        {(part.coffer, part.top) for part in subject.of_kind(kind)}
        for subject, kind in ((bare, "slat"), (furred, "furring"))
    ]
    assert planes[0] == planes[1]
    assert len(planes[0]) == 4
    for part in furred.of_kind("slat"):
        (above,) = {strip.bottom for strip in furred.of_kind("furring") if strip.coffer == part.coffer}
        assert part.top == above


@sampled(
    12,
    40,
    room=quads(),
    beams=st.integers(0, 3),
    run=st.sampled_from(["with", "across"]),
    light=st.tuples(st.floats(0.1, 0.9), st.floats(0.1, 0.9)),
)
def test_nothing_clashes_in_any_room(room: Quad, beams: int, run: str, light: tuple[float, float]) -> None:
    more = (
        '[framing]\njoists = { along = "DA", first = 200, spacing = 400 }\n[furring]\nuse = true\n'
        f'[[fixture]]\nname = "light"\nsize = 100\nat = {{ AB = {light[1] * 2400.0}, DA = {light[0] * 2600.0} }}\n'
    )
    config = config_of(text_of(room, Wish(beams=beams, rows=1, run=run), more))
    try:
        layout = arrange_layout(solve_survey(config), config)
    except LayoutError:
        return
    parts = make_parts(layout)
    polygons = polygons_of([part.outline for part in parts], [part.holes for part in parts])
    overlaps = find_overlaps(parts, polygons, CONTACT).found
    assert [o for o in overlaps if "F" in o.first + o.second] == []
