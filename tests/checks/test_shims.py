"""Nails and screws where a coffer's plane hangs under a ceiling out of flat."""

import pytest

from checks.sample import SQUARE, ceiling, edited, found
from lacunar.analysis import Subject
from lacunar.checks import Finding
from lacunar.survey import ceiling_height

SAG = ("height = 2500", "heights = { A = 2500, B = 2500, C = 2500, D = 2500, centre = 2460 }")
FURRED = ("[finish]", '[furring]\nstock = "1x3"\nuse = true\n[finish]')
OPEN_NAIL = (", length = 64 }", " }")
THICKER = ("thickness = 13", "thickness = 26")


def widest(subject: Subject, kind: str) -> float:
    """The largest gap at a nail of any part of a kind."""
    return max(
        ceiling_height(subject.room, nail) - part.top.at(nail) for part in subject.of_kind(kind) for nail in part.nails
    )


def unsettled(subject: Subject) -> list[Finding]:
    return [finding for finding in found("nail-reach", subject) if finding.level != "pass"]


def test_nails_reach_less_deep_by_the_gap() -> None:
    """57 - 20 - 13 leave 24 under a flat ceiling, 3/4 in is the least."""
    shorter = ("length = 64", "length = 57")
    assert not unsettled(ceiling(edited(SQUARE, shorter)))
    subject = ceiling(edited(SQUARE, SAG, shorter))
    (finding,) = unsettled(subject)
    gap = widest(subject, "slat")
    assert gap > 5.0
    assert (finding.level, finding.where) == ("fail", "fasteners.slat.length")
    assert finding.value == pytest.approx(24.0 - gap)
    assert f"through 20 mm slat, {round(gap)} mm of shims and 13 mm plasterboard" in finding.message
    longer = int(finding.fix.removeprefix("take nails ").split()[0])
    assert finding.fix == f"take nails {longer} mm longer, or use furring (furring.use = true)"
    assert not unsettled(ceiling(edited(SQUARE, SAG, ("length = 64", f"length = {57 + longer}"))))
    assert unsettled(ceiling(edited(SQUARE, SAG, ("length = 64", f"length = {56 + longer}"))))
    assert not unsettled(ceiling(edited(SQUARE, SAG, OPEN_NAIL, FURRED)))


def test_screws_that_nobody_chose_are_longer_by_the_gap() -> None:
    """19.05 + 26 + 25.4 of wood leave 4.55 of a screw of 75: less than the gap."""
    flat = ceiling(edited(SQUARE, OPEN_NAIL, FURRED, THICKER))
    sagging = ceiling(edited(SQUARE, SAG, OPEN_NAIL, FURRED, THICKER))
    gap = widest(sagging, "furring")
    assert gap > 4.55
    assert [s.layout.furring and s.layout.furring.screw for s in (flat, sagging)] == [75.0, 90.0]
    assert not unsettled(flat)
    assert not unsettled(sagging)
    what = [item.what for subject in (flat, sagging) for item in subject.cost.items if item.name == "furring screw"]
    assert what == ["for furring, 75 mm", "for furring, 90 mm"]


def test_screws_too_short_for_the_shims() -> None:
    given = (OPEN_NAIL[0], " }\nfurring = { length = 75 }")
    subject = ceiling(edited(SQUARE, SAG, given, FURRED, THICKER))
    (finding,) = unsettled(subject)
    gap = widest(subject, "furring")
    assert (finding.level, finding.where) == ("fail", "fasteners.furring.length")
    assert finding.value == pytest.approx(75.0 - 0.75 * 25.4 - 26.0 - gap)
    assert f"furring, {round(gap)} mm of shims and 26 mm" in finding.message
