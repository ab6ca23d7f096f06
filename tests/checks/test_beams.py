"""Beams in their openings, what their ends screw into, and the room under them."""

import math
from dataclasses import replace
from typing import Any

import pytest

from checks.sample import (
    SKEWED,
    SQUARE,
    analysed,
    block,
    box,
    ceiling,
    edited,
    found,
    levels,
    longer,
    moved,
    one,
    rebuilt,
    remedied,
    spoiled,
)
from lacunar.analysis import Subject
from lacunar.layout import Bar
from lacunar.parts import Part


def with_bars(subject: Subject, field: str, **fields: Any) -> Subject:
    bars: tuple[Bar, ...] = getattr(subject.layout, field)
    changed: Any = {field: tuple(replace(bar, **fields) for bar in bars)}
    return rebuilt(subject, layout=replace(subject.layout, **changed))


def test_pieces_have_their_clearance_to_spare() -> None:
    finding = one("beam-fits", ceiling())
    assert (finding.level, finding.value, finding.limit) == ("pass", pytest.approx(1.0), 1.0)
    # Corner to corner of 1949 by 140 in an opening of 1950.
    assert f"{math.hypot(1949.0, 140.0) - 1950.0:.0f} mm longer corner to corner" in finding.message
    assert "both ends together" in finding.message


def test_openings_between_beams_that_are_not_parallel() -> None:
    """Each side of each piece has half the clearance at both ends, measured along it, whatever its ends' angles."""
    subject = ceiling(SKEWED)
    pieces = {part.id for part in subject.of_kind("cross beam")}
    fits = [fit for beam in analysed(subject).beams if beam.part in pieces for fit in beam.sides]
    assert len(fits) == 12
    for fit in fits:
        assert fit.gaps == pytest.approx((25.4 / 64.0, 25.4 / 64.0), abs=2e-3)
    pairs = [(a, b) for a, b in zip(fits[::2], fits[1::2], strict=True)]
    assert any(abs(a.length - b.length) > 0.5 for a, b in pairs)


@pytest.mark.parametrize(
    ("more", "level", "value", "limit"),
    [(3.0, "fail", 1952.0, 1950.0), (-1.5, "pass", 2.5, 1.0), (-5.0, "warn", 6.0, 1.0 + 25.4 / 16.0)],
)
def test_too_long_and_too_short(more: float, level: str, value: float, limit: float) -> None:
    finding = one("beam-fits", spoiled(ceiling(), "X1-1", lambda part: longer(part, 0.0, more)))
    assert finding.level == level
    if level != "pass":
        assert (finding.where, finding.value, finding.limit) == ("X1-1", pytest.approx(value), pytest.approx(limit))
        assert ("3 mm shorter" in finding.fix) == (level == "fail")


def test_only_the_longer_side_of_a_leaning_end_counts() -> None:
    """The end's lower corner reaches 4 mm further: that side has -3 mm to spare."""

    def lean(part: Part) -> Part:
        right, low = max(x for x, _ in part.outline), min(y for _, y in part.outline)
        return replace(part, outline=tuple((x + 4.0 if (x, y) == (right, low) else x, y) for x, y in part.outline))

    finding = one("beam-fits", spoiled(ceiling(), "X1-1", lean))
    assert (finding.level, finding.value) == ("fail", pytest.approx(1953.0, abs=1e-2))


def test_stock_too_shallow_and_too_deep() -> None:
    shallow = found("beam-fits", with_bars(ceiling(), "pieces", stock_depth=130.0))
    assert [(f.where, f.level, f.value, f.limit) for f in shallow] == [
        ("X1-1", "fail", 130.0, pytest.approx(140.0)),
        ("X1-2", "fail", 130.0, pytest.approx(140.0)),
    ]
    deep = found("beam-fits", with_bars(ceiling(), "pieces", stock_depth=190.0))
    assert [(f.level, f.value) for f in deep] == [("warn", pytest.approx(50.0))] * 2
    assert levels("beam-fits", with_bars(ceiling(), "pieces", stock_depth=180.0)) == ["pass"]


@pytest.mark.parametrize(("down", "level"), [(39.9, "pass"), (50.0, "warn")])
def test_a_gap_above_that_trim_does_not_hide(down: float, level: str) -> None:
    """Slat and trim reach 40 mm below the ceiling."""
    subject = spoiled(ceiling(), "X1-2", lambda part: replace(part, top=part.top.lifted(-down)))
    findings = found("beam-fits", subject)
    assert findings[-1].level == level
    if level == "warn":
        assert (findings[-1].where, findings[-1].value) == ("X1-2", pytest.approx(-10.0))


def test_a_piece_cannot_be_lifted_past_what_lies_below_it() -> None:
    subject = ceiling()
    shelf = block("M9", box(1000.0, 1460.0, 300.0, 20.0), 2000.0, 2100.0, kind="moulding")
    finding = one("beam-fits", rebuilt(subject, parts=(*subject.parts, shelf)))
    assert (finding.level, finding.where) == ("fail", "X1-1")
    assert "M9 lies below its place" in finding.message


def hollow(shell: float, *changes: tuple[str, str]) -> str:
    return edited(SQUARE, ('made = "solid"', f'made = "hollow {shell} mm"'), *changes)


SCREW = (0.060 + 0.013 * 8) * 25.4
"""Shank of a No. 8 screw."""


def test_a_shell_that_a_screw_cannot_bite_in_fails() -> None:
    """At 15 degrees through 18 mm; six diameters are wanted. With solid blocking inside it is solid wood."""
    text = hollow(18.0)
    finding = one("beam-ends", ceiling(text))
    assert (finding.level, finding.where) == ("fail", "E1")
    assert finding.value == pytest.approx(18.0 / math.cos(math.radians(15.0)))
    assert finding.limit == pytest.approx(6.0 * SCREW)
    assert "glue" not in finding.fix
    assert "engineer decides" in finding.fix
    assert one("beam-ends", remedied(text, finding.fix)).level == "pass"
    # So the fix of evenly spread beams, which have no names.
    ends = 'ends = [{ wall = "AB", from = "A", at = 1950 }, { wall = "CD", from = "D", at = 1950 }]'
    even = hollow(
        18.0,
        (ends, ""),
        ('[[beam]]\nname = "E1"', '[beams]\ncount = 1\nbetween = ["AB", "CD"]'),
        ("middle = 100\n", ""),
    )
    assert one("beam-ends", remedied(even, one("beam-ends", ceiling(even)).fix)).level == "pass"


def test_a_thick_shell_is_a_question_and_a_screw_near_its_edge_fails() -> None:
    thick = one("beam-ends", ceiling(hollow(30.0)))
    assert (thick.level, thick.value) == ("ask", 30.0)
    low = one("beam-ends", ceiling(hollow(30.0, ("low = 0, clearance", "low = 1, drop = 12, clearance"))))
    assert (low.level, low.value, low.limit) == ("fail", pytest.approx(12.0), pytest.approx(4.0 * SCREW))


def test_ends_without_screws_in_a_shell_bite_nothing() -> None:
    finding = one("beam-ends", ceiling(hollow(30.0, ("low = 0, clearance", "low = 0, high = 0, clearance"))))
    assert (finding.level, finding.value) == ("fail", 0.0)


@pytest.mark.parametrize("shell", [6.0, 12.0, 19.0, 24.0, 25.0, 40.0, 90.0])
def test_a_shell_never_passes(shell: float) -> None:
    assert one("beam-ends", ceiling(hollow(shell))).level in ("fail", "ask")


def test_ends_in_solid_and_unknown_beams() -> None:
    assert one("beam-ends", ceiling()).level == "pass"
    unknown = one("beam-ends", ceiling(edited(SQUARE, ('made = "solid"\n', ""))))
    assert (unknown.level, unknown.where) == ("ask", "E1")
    assert "X1-1, X1-2" in unknown.message


def test_ends_at_walls() -> None:
    unknown = one("beam-ends", ceiling(edited(SQUARE, ('wall_end = "ledger"\n', ""))))
    assert (unknown.level, unknown.where, unknown.value) == ("ask", "wall DA, BC", 2.0)
    assert one("beam-ends", ceiling(edited(SQUARE, ("ledger", "stud")))).level == "pass"


@pytest.mark.parametrize(("off", "level"), [(0.7, "pass"), (-2.0, "warn"), (2.0, "warn")])
def test_bottoms_out_of_line(off: float, level: str) -> None:
    subject = spoiled(ceiling(), "X1-2", lambda part: replace(part, bottom=part.bottom.lifted(off)))
    finding = one("beam-ends", subject)
    assert (finding.level, finding.value) == (level, pytest.approx(off if level == "warn" else abs(off)))
    if level == "warn":
        assert ("higher" if off > 0.0 else "lower") in finding.message


def test_a_step_that_is_wanted_is_in_line() -> None:
    assert one("beam-ends", ceiling(edited(SQUARE, ("rows = 1", 'rows = 1\nbottom = "up 12 mm"')))).level == "pass"


def test_headroom() -> None:
    assert one("headroom", ceiling()).value == pytest.approx(2360.0)
    low = ceiling(edited(SQUARE, ("height = 2500", "height = 2200")))
    findings = found("headroom", low)
    assert [(f.level, f.where) for f in findings] == [("ask", "X1-1"), ("ask", "E1")]
    assert findings[0].value == pytest.approx(2060.0)
    assert findings[0].limit == pytest.approx(2133.6)


DOOR = """
[[door]]
wall = "DA"
from = "D"
at = 1000
width = 900
height = 2400
swing = "in"
hinge = "left"
"""


def test_a_door_that_sweeps_under_a_beam() -> None:
    """X1-1 runs from wall DA between 1450 and 1550 mm from D: within the sweep of a door from 1000 to 1900."""
    finding = one("headroom", ceiling(SQUARE + DOOR))
    assert (finding.level, finding.where, finding.limit) == ("fail", "X1-1", 2400.0)
    assert finding.value == pytest.approx(2360.0)
    assert one("headroom", ceiling(SQUARE + edited(DOOR, ('swing = "in"', 'swing = "out"')))).level == "pass"
    assert one("headroom", ceiling(SQUARE + edited(DOOR, ("height = 2400\n", "")))).level == "pass"


@pytest.mark.parametrize(
    ("hinge", "y", "level"),
    [("left", 650.0, "fail"), ("right", 650.0, "pass"), ("right", 1350.0, "fail"), ("left", 1350.0, "pass")],
)
def test_the_sweep_is_a_quarter_circle_about_the_hinge(hinge: str, y: float, level: str) -> None:
    """Facing wall DA from inside, D is on the left. A block 700 mm out is swept beside the hinge only."""
    door = edited(DOOR, ("at = 1000", "at = 600"), ("width = 900", "width = 800"), ('"left"', f'"{hinge}"'))
    subject = ceiling(SQUARE + door)
    shelf = block("S", box(700.0, y, 60.0, 10.0), 2200.0, 2300.0, kind="moulding")
    assert levels("headroom", rebuilt(subject, parts=(*subject.parts, shelf))) == [level]


def test_moved_parts_keep_their_planes() -> None:
    part = ceiling(SKEWED).parts[-1]
    there = moved(part, 100.0, -50.0, 3.0)
    for (x, y), (u, v) in zip(part.outline, there.outline, strict=True):
        assert there.top.at((u, v)) == pytest.approx(part.top.at((x, y)) + 3.0)


def test_a_height_that_few_ceilings_have_is_told() -> None:
    (finding,) = [f for f in found("headroom", ceiling(edited(SQUARE, ("height = 2500", "height = 4600")))) if f.fix]
    assert (finding.level, finding.where) == ("warn", "room.height")
    assert finding.message == (
        "4600 mm from floor to ceiling: few ceilings are lower than 1800 mm or higher than 4300 mm"
    )
