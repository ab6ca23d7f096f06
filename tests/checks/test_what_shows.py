"""What is seen: rips, tapers, gaps, bare places, the old ceiling's colour, plugs, joints at walls."""

import re
from dataclasses import replace
from pathlib import Path

import pytest
from shapely import Polygon

from checks.sample import (
    SQUARE,
    ceiling,
    edited,
    found,
    levels,
    longer,
    one,
    part_of,
    rebuilt,
    spoiled,
    turned,
)
from lacunar.analysis.slat_gaps import slat_gaps
from lacunar.parts import Part

RIPPED = edited(SQUARE, ("BC = 3000", "BC = 3120"), ("DA = 3000", "DA = 3120"), ("AC = 5000\nBD = 5000\n", ""))
"""Coffers 1510 mm deep: 15 full slats and a rip of 1510 - 12 - 15 x 96 = 58 mm."""


def test_nothing_to_see_in_the_square_ceiling() -> None:
    finding = one("what-shows", ceiling())
    assert (finding.level, finding.limit) == ("pass", pytest.approx(25.4 / 8))
    assert finding.value == pytest.approx(0.0, abs=1e-9)
    assert "no slat is ripped" in finding.message


def test_a_rip_shows_less_by_what_trim_hides_of_it() -> None:
    finding = one("what-shows", ceiling(RIPPED))
    # The corner is assumed square: a question, with the numbers of a pass.
    assert finding.level == "ask"
    assert finding.value == pytest.approx(58.0 - (20.0 - 6.0))
    assert finding.limit == pytest.approx(45.0 - (20.0 - 6.0))


def test_a_narrow_rip_is_told() -> None:
    def narrower(part: Part) -> Part:
        top = max(y for _, y in part.outline)
        return replace(part, outline=tuple((x, y - 20.0 if y == top else y) for x, y in part.outline))

    findings = found("what-shows", spoiled(ceiling(RIPPED), "C1-S16", narrower))
    narrow = [f for f in findings if f.where == "C1-S16"]
    assert [f.level for f in narrow] == ["warn"]
    assert narrow[0].value == pytest.approx(44.0 - 20.0)
    assert narrow[0].message == "only 24 mm of it shows beside the trim"


@pytest.mark.parametrize(("taper", "level"), [(3.2, None), (10.0, "warn")])
def test_a_taper_is_told_by_what_of_it_shows(taper: float, level: str | None) -> None:
    """Over the 1910 mm between the trims, of a slat 1938 mm long."""

    def tapered(part: Part) -> Part:
        top, right = max(y for _, y in part.outline), max(x for x, _ in part.outline)
        ring = tuple((x, y - taper if (x, y) == (right, top) else y) for x, y in part.outline)
        return replace(part, outline=ring, width_end=part.width - taper)

    findings = found("what-shows", spoiled(ceiling(RIPPED), "C1-S16", tapered))
    told = [f for f in findings if f.message.startswith("it shows")]
    assert [f.level for f in told] == ([level] if level else [])
    if told:
        assert told[0].value == pytest.approx(taper * 1910.0 / 1938.0, abs=0.01)
        assert re.fullmatch(r"it shows \d+ mm at DA and \d+ mm at E1", told[0].message)


def test_gaps_are_measured_at_both_ends() -> None:
    gaps = slat_gaps(ceiling())
    whole = [gap for gap in gaps if gap.coffer == "C3"]
    assert len(whole) == 14
    assert all(gap.widths == pytest.approx((6.0, 6.0)) for gap in gaps)


def test_a_gap_that_opens_is_told_for_its_coffer() -> None:
    def change(part: Part) -> Part:
        about = (sum(x for x, _ in part.axis) / 2.0, sum(y for _, y in part.axis) / 2.0)
        a, b = turned(part.axis, 0.003, about)
        return replace(part, outline=turned(part.outline, 0.003, about), axis=(a, b))

    subject = spoiled(ceiling(), "C2-S05", change)
    told = [f for f in found("what-shows", subject) if "gaps open" in f.message]
    assert [(f.where, f.level) for f in told] == [("C2", "warn")]
    assert told[0].value == pytest.approx(0.003 * 1938.0, rel=0.01)


def test_a_missing_slat_leaves_a_bare_place() -> None:
    subject = ceiling()
    parts = tuple(part for part in subject.parts if part.id != "C4-S06")
    told = [f for f in found("what-shows", rebuilt(subject, parts=parts)) if "bare" in f.message]
    assert [(f.where, f.level) for f in told] == [("C4", "warn")]
    # Neighbours of the missing slat now stand 102 mm apart, and that gap is what was meant as far as anyone can see;
    # a bare place is one wider than the gaps between slats that are there.
    gap = 90.0 + 2.0 * 6.0
    assert told[0].value == pytest.approx(gap, abs=0.5)


def test_the_colour_behind() -> None:
    bare = edited(SQUARE, ('[finish]\nbehind = "flat black"\n', ""))
    finding = one("what-shows", ceiling(bare))
    assert (finding.level, finding.where, finding.value) == ("ask", "finish.behind", pytest.approx(6.0))
    decided = edited(SQUARE, ('behind = "flat black"', 'when = "before"'))
    assert levels("what-shows", ceiling(decided)) == ["warn"]
    closed = edited(bare, ("gap = 6\nend_gap", "gap = 0\nend_gap"))
    assert all("painted" not in f.message for f in found("what-shows", ceiling(closed)))


def test_low_pockets_are_plugged_in_view() -> None:
    finding = one("what-shows", ceiling(edited(SQUARE, ("low = 0", "low = 1"))))
    assert (finding.level, finding.value, finding.unit) == ("warn", 4.0, "count")
    assert "plugs" in finding.fix


@pytest.mark.parametrize(("short", "told"), [(0.2, 0), (5.0, 1)])
def test_an_end_that_stands_off_the_wall(short: float, told: int) -> None:
    subject = spoiled(ceiling(), "X1-1", lambda part: longer(part, -short, 0.0))
    findings = [f for f in found("what-shows", subject) if f.where == "X1-1"]
    assert len(findings) == told
    if findings:
        assert findings[0].value == pytest.approx(5.5)
        assert "its end at DA" in findings[0].message


def test_parts_of_the_square_ceiling_are_what_the_numbers_say() -> None:
    slat = part_of(ceiling(), "C3-S02")
    assert (slat.length, slat.width) == (1938.0, 90.0)


@pytest.mark.parametrize("rows", [16, 18, 20])
def test_a_stump_shorter_than_its_cut_out_keeps_its_shape(rows: int) -> None:
    """Coffers hardly deeper than the lamp: what is left beside it is cut out on its own end, too."""
    text = edited(SQUARE, ("rows = 1", f"rows = {rows}"), ('run = "across"', 'run = "with"'))
    subject = ceiling(text)
    slats = [part for part in subject.parts if part.kind == "slat" and part.notches]
    assert slats
    for part in slats:
        assert Polygon(part.outline, part.holes).is_valid, part.id
    assert found("what-shows", subject)


def test_no_gap_is_less_than_nothing_where_a_corner_cuts_slats_to_triangles(configs: Path) -> None:
    # A wall 2 ft shorter than the one that faces it: the last slats end in points, long before their neighbours do.
    text = (configs / "2-one-coffer.toml").read_text(encoding="utf-8")
    gaps = slat_gaps(ceiling(edited(text, ('AB = "5 ft 10 1/4 in"', 'AB = "3 ft 10 1/4 in"'))))
    assert min(width for gap in gaps for width in gap.widths) >= 0.0
