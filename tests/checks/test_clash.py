"""Parts that overlap, leave the room, stand in a fixture or in the old ceiling."""

from dataclasses import replace

import numpy as np
import pytest
from shapely import Polygon

from checks.sample import (
    SKEWED,
    SQUARE,
    block,
    box,
    ceiling,
    edited,
    found,
    levels,
    longer,
    moved,
    one,
    part_of,
    rebuilt,
    spoiled,
)
from lacunar.analysis.standing import ceiling_heights, rises
from lacunar.parts import Part
from lacunar.survey import ceiling_height


def test_good_ceiling_passes_with_contact() -> None:
    finding = one("clash", ceiling())
    assert (finding.level, finding.limit) == ("pass", 0.01)
    assert finding.value == pytest.approx(0.0, abs=1e-6)


def test_every_pair_is_named_with_its_depth() -> None:
    subject = spoiled(ceiling(), "X1-1", lambda part: longer(part, 0.0, 5.5))
    finding = one("clash", subject)
    assert (finding.level, finding.where, finding.unit) == ("fail", "E1, X1-1", "mm")
    assert finding.value == pytest.approx(5.0)
    assert "cross beam overlap by 5 mm" in finding.message
    assert "X1-1" in finding.fix


def test_a_slat_in_its_neighbours() -> None:
    findings = found("clash", spoiled(ceiling(), "C2-S05", lambda part: moved(part, dy=8.0)))
    assert [(f.where, f.level) for f in findings] == [("C2-S04, C2-S05", "fail")]
    assert findings[0].value == pytest.approx(2.0)


def test_what_leaves_the_room() -> None:
    findings = found("clash", spoiled(ceiling(), "C1-T4", lambda part: moved(part, dx=-3.0)))
    outside = [f for f in findings if f.where == "C1-T4"]
    assert [f.value for f in outside] == [pytest.approx(3.0)]
    assert "into a wall" in outside[0].message


def test_what_stands_in_a_fixture() -> None:
    """The lamp is 100 mm wide and hangs 900 mm from DA: a whole slat over it stands as deep in it as it reaches."""
    subject = ceiling()
    severed = next(part for part in subject.parts if part.coffer == "C1" and part.id.endswith("a"))
    finding = one("clash", spoiled(subject, severed.id, lambda part: longer(part, 0.0, 21.5875)))
    assert (finding.level, finding.where) == ("fail", severed.id)
    assert "fixture lamp" in finding.message
    assert 0.0 < (finding.value or 0.0) <= 20.1


def test_a_beam_that_rises_into_the_ceiling_fails() -> None:
    finding = one("clash", spoiled(ceiling(), "X1-2", lambda part: replace(part, top=part.top.lifted(2.0))))
    assert (finding.level, finding.where, finding.value) == ("fail", "X1-2", pytest.approx(2.0))
    assert "2 mm" in finding.fix


@pytest.mark.parametrize("furred", [False, True])
def test_slats_in_the_plaster_fail_and_a_sag_alone_is_none(furred: bool) -> None:
    heights = ("height = 2500", "heights = { A = 2500, B = 2500, C = 2500, D = 2500, centre = 2480 }")
    more = [("[finish]", "[furring]\nuse = true\n[finish]")] if furred else []
    subject = ceiling(edited(SQUARE, heights, *more))
    assert one("clash", subject).level == "pass"
    name = "C1-F1" if furred else "C1-S05"
    risen = spoiled(subject, name, lambda part: replace(part, top=part.top.lifted(9.0)))
    (finding,) = (f for f in found("clash", risen) if "old ceiling" in f.message)
    assert (finding.level, finding.where) == ("fail", name)
    # It may hang free at its ends, but touches the plaster or nearly so somewhere.
    assert 0.0 < (finding.value or 0.0) <= 9.0
    assert finding.fix == "hang it lower"


MARKED = edited(
    SKEWED,
    ('centre = "8 ft 11 3/4 in" }', 'centre = "8 ft 11 3/4 in", m1 = "9 ft 1 in", m2 = "8 ft 10 3/4 in" }'),
    ("[[beam]]\nname = \"E1\"", """[room.marks]
m1 = { wall = "AB", from = "B", at = "3 ft" }
m2 = { wall = "BC", from = "B", at = "5 ft" }
[[beam]]
name = "E1\""""),
)  # fmt: skip
"""Folds from the middle of two walls too; half beams lie along one of them."""


@pytest.mark.parametrize("text", [SKEWED, MARKED], ids=["corners", "marks"])
def test_ceiling_heights_are_those_of_the_survey(text: str) -> None:
    room = ceiling(text).room
    points = np.random.default_rng(7).uniform(-200.0, 4200.0, (400, 2))
    expected = [ceiling_height(room, (float(x), float(y))) for x, y in points]
    assert ceiling_heights(room, points) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize("text", [SKEWED, MARKED], ids=["corners", "marks"])
def test_rise_is_found_at_folds_and_centre_too(text: str) -> None:
    """Dense sampling of each part finds no place where the ceiling is lower or higher than the few points looked at."""
    subject = ceiling(text)
    standing = list(zip(subject.parts, rises(subject.room, subject.parts, subject.polygons), strict=True))
    rng = np.random.default_rng(3)
    for part, rise in standing[:: max(1, len(standing) // 40)]:
        weights = rng.dirichlet(np.full(len(part.outline), 0.4), 600)
        points = weights @ np.array(part.outline)
        tops = np.array([part.top.at((float(x), float(y))) for x, y in points])
        over = tops - ceiling_heights(subject.room, points)
        assert over.max() <= rise + 1e-9
        assert over.max() > rise - 2.0


def test_the_lowest_place_may_be_the_middle_of_a_part() -> None:
    """A block over the centre of a ceiling that sags 12 mm there: none of its corners is as high above the ceiling."""
    sagging = ceiling(
        edited(SQUARE, ("height = 2500", "heights = { A = 2500, B = 2500, C = 2500, D = 2500, centre = 2488 }"))
    )
    x, y, _ = sagging.room.centre
    over = block("over", box(x - 300.0, y - 200.0, 600.0, 400.0), 2400.0, 2500.0)
    aside = block("aside", box(10.0, 10.0, 50.0, 50.0), 2400.0, 2500.0)
    parts = [aside, over]
    _, rise = rises(sagging.room, parts, [Polygon(part.outline) for part in parts])
    assert rise == pytest.approx(12.0)


def test_many_pairs_of_one_coffer_are_told_once() -> None:
    subject = ceiling()

    def sunk(part: Part) -> Part:
        return moved(part, dz=-5.0) if part.kind == "slat" and part.coffer == "C4" else part

    findings = found("clash", rebuilt(subject, parts=tuple(sunk(part) for part in subject.parts)))
    assert [(f.where, f.value) for f in findings if f.level == "fail"] == [("C4", pytest.approx(5.0))]


def test_existing_beams_may_stand_in_the_ceiling() -> None:
    subject = spoiled(ceiling(), "E1", lambda part: replace(part, top=part.top.lifted(30.0)))
    assert levels("clash", subject) == ["pass"]
    assert part_of(subject, "E1").top.z0 == pytest.approx(2530.0)
