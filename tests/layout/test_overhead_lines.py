"""Joists, strips and forbidden zones over coffers, against closed forms."""

from pathlib import Path

import pytest

from lacunar.config import read_config_text
from lacunar.layout import (
    Layout,
    OverheadLines,
    arrange_layout,
    barred_nails,
    no_nail_zones,
    overhead_lines,
)
from lacunar.survey import Room, solve_survey

# Square, 3000 by 2000; one beam 100 wide in the middle, joists along DA every 400.
ROOM = """
title = "Square"
units = "mm"
[room]
height = 2500
[room.measured]
AB = 3000
BC = 2000
CD = 3000
DA = 2000
AC = "3605.551275463989 mm"
[[beam]]
name = "E1"
width = 100
depth = 150
ends = [{ wall = "AB", from = "A", at = 1450 }, { wall = "CD", from = "D", at = 1450 }]
[cross_beams]
rows = 0
[slats]
run = "across"
[framing]
joists = { along = "DA", first = 300, spacing = 400 }
[[no_nail]]
from = { AB = 500, DA = 200 }
to = { AB = 500, DA = 1200 }
within = 50
"""


def arranged(more: str = "") -> tuple[Room, Layout]:
    config = read_config_text(ROOM.replace('run = "across"', f'run = "across"{more}'), Path("square.toml"))
    room = solve_survey(config)
    return room, arrange_layout(room, config)


def of(lines: tuple[OverheadLines, ...], coffer: str, kind: str) -> list[OverheadLines]:
    return [one for one in lines if (one.coffer, one.kind) == (coffer, kind)]


def test_joists_are_told_from_the_face_at_the_slats_ends() -> None:
    _, layout = arranged()
    (first,) = of(overhead_lines(layout), "C1", "joist")
    assert layout.coffer("C1").sides[first.side].against == "DA"
    assert [mark.name for mark in first.marks] == ["joist 1", "joist 2", "joist 3"]
    assert [mark.distances for mark in first.marks] == [
        pytest.approx((mm, mm), abs=1e-6) for mm in (300.0, 700.0, 1100.0)
    ]
    # Beyond the beam, whose far face is 1550 from DA.
    (second,) = of(overhead_lines(layout), "C2", "joist")
    assert layout.coffer("C2").sides[second.side].against == "E1"
    assert [mark.distances[0] for mark in second.marks] == pytest.approx([350.0, 750.0, 1150.0], abs=1e-6)


def test_joists_along_the_slats_are_told_from_the_start_side_and_strips_across_them_by_their_near_edge() -> None:
    room, layout = arranged('\n[furring]\nuse = true\n[slats.coffer.C1]\nrun = "with"')
    coffer = layout.coffer("C1")
    lines = overhead_lines(layout)
    (joists,) = of(lines, "C1", "joist")
    assert joists.side == coffer.start_side
    (strips,) = of(lines, "C1", "furring")
    assert strips.side != coffer.start_side
    assert layout.furring is not None
    width = layout.furring.strip.width
    face = coffer.sides[strips.side].line
    for mark in strips.marks:
        strip = next(strip for strip in layout.furring_strips if strip.id == mark.name)
        depths = sorted(-face.offset(point) for point in strip.outline)
        assert mark.distances == pytest.approx((depths[0], depths[0]), abs=1e-6)
        assert depths[-1] - depths[0] == pytest.approx(width, abs=1e-6)
    assert room.points


def test_a_zone_is_all_that_lies_within_and_its_nails_are_found() -> None:
    config = read_config_text(ROOM, Path("square.toml"))
    room, layout = arranged()
    (zone,) = no_nail_zones(room, config.no_nail)
    xs, ys = zip(*zone.outline, strict=True)
    assert (min(xs), max(xs)) == pytest.approx((150.0, 1250.0), abs=1.0)
    assert (min(ys), max(ys)) == pytest.approx((1450.0, 1550.0), abs=1.0)
    found = barred_nails(layout.slats, (zone,))
    wanted = {
        (slat.id, nail)
        for slat in layout.slats
        for nail in slat.nails
        if abs(nail[1] - 1500.0) < 50.0 and 200.0 <= nail[0] <= 1200.0
    }
    assert {*found} == wanted
    assert wanted
