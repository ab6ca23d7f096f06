"""Nails and what they reach."""

from dataclasses import replace

import pytest

from checks.sample import SQUARE, ceiling, edited, found, levels, one, rebuilt, spoiled
from lacunar.checks.nailed import nailed_slats
from lacunar.parts import Part


def test_square_ceiling() -> None:
    """Joists at 200, 600, ... 3800 from DA, five over each coffer; nails of 64 through 20 and 13 mm."""
    finding = one("nail-reach", ceiling())
    # The lamp severs a slat: the shorter stump, 842 mm long, catches the joists at 200 and 600.
    assert (finding.level, finding.where, finding.value, finding.limit) == ("pass", "C1-S08a", 2.0, 2.0)
    whole = [slat for slat in nailed_slats(ceiling()) if slat.part.length > 1900.0]
    assert {len(slat.joists) for slat in whole} == {5}
    assert "31 mm deep" in finding.message


def test_joists_are_counted_from_the_nails_not_from_the_list() -> None:
    subject = spoiled(ceiling(), "C2-S03", lambda part: replace(part, joists=(1, 2, 3), nails=()))
    finding = one("nail-reach", subject)
    assert (finding.level, finding.where, finding.value) == ("fail", "C2-S03", 0.0)


def test_nails_beside_the_joists_catch_nothing() -> None:
    def beside(part: Part) -> Part:
        return replace(part, nails=tuple((x + 100.0, y) for x, y in part.nails))

    assert levels("nail-reach", spoiled(ceiling(), "C2-S03", beside)) == ["fail"]


def test_nails_outside_the_slat_count_for_nothing() -> None:
    def outside(part: Part) -> Part:
        return replace(part, nails=tuple((x, y + 100.0) for x, y in part.nails))

    assert one("nail-reach", spoiled(ceiling(), "C2-S03", outside)).value == 0.0


@pytest.mark.parametrize(("joist", "level"), [(2, "fail"), (0, "fail")])
def test_one_joist_and_a_long_free_end(joist: int, level: str) -> None:
    def one_only(part: Part) -> Part:
        xs = sorted({round(x) for x, _ in part.nails})
        return replace(part, nails=tuple(n for n in part.nails if round(n[0]) == xs[joist]))

    finding = one("nail-reach", spoiled(ceiling(), "C2-S03", one_only))
    assert (finding.level, finding.value) == (level, 1.0)
    assert "hang free" in finding.message


def test_a_short_slat_on_one_joist_is_a_warning() -> None:
    """Joists 400 mm apart; a stump of 500 mm nailed in its middle has free ends of 250."""

    def stump(part: Part) -> Part:
        y = part.axis[0][1]
        ring = ((2350.0, y - 45.0), (2850.0, y - 45.0), (2850.0, y + 45.0), (2350.0, y + 45.0))
        return replace(part, outline=ring, axis=((2350.0, y), (2850.0, y)), nails=((2600.0, y),), length=500.0)

    finding = one("nail-reach", spoiled(ceiling(), "C2-S03", stump))
    assert (finding.level, finding.value) == ("warn", 1.0)
    assert "250 mm" in finding.message


def test_a_nail_near_an_end() -> None:
    def near(part: Part) -> Part:
        left = min(x for x, _ in part.outline)
        return replace(part, nails=(*part.nails, (left + 12.0, part.axis[0][1])))

    findings = found("nail-reach", spoiled(ceiling(), "C2-S03", near))
    assert [(f.level, f.where) for f in findings] == [("warn", "C2-S03")]
    assert findings[0].value == pytest.approx(12.0)
    assert findings[0].limit == pytest.approx(25.4)


def test_slats_along_the_joists_are_told_by_coffer() -> None:
    findings = found("nail-reach", ceiling(edited(SQUARE, ('run = "across"', 'run = "with"'))))
    assert [(f.where, f.level, f.value) for f in findings] == [(c, "fail", 0.0) for c in ("C1", "C2", "C3", "C4")]
    assert all("runs along the joists" in f.message and "furring" in f.fix for f in findings)


def test_assumed_joists_are_a_question_whatever_they_catch() -> None:
    text = edited(SQUARE, ('joists = { along = "DA", first = 200, spacing = 400 }\n', ""))
    for run in ("across", "with"):
        findings = found("nail-reach", ceiling(edited(text, ('run = "across"', f'run = "{run}"'))))
        assert {f.level for f in findings} == {"ask"}
        assert all("framing.joists" in f.fix for f in findings)


def test_short_nails() -> None:
    finding = one("nail-reach", ceiling(edited(SQUARE, ("length = 64", "length = 45"))))
    assert (finding.level, finding.where) == ("fail", "fasteners.slat.length")
    assert finding.value == pytest.approx(45.0 - 20.0 - 13.0)
    assert finding.limit == pytest.approx(0.75 * 25.4)
    assert finding.fix == "take nails 8 mm longer"


def test_an_assumed_ceiling_is_a_question() -> None:
    text = edited(SQUARE, ('old_ceiling = { kind = "plasterboard", thickness = 13 }\n', ""))
    finding = one("nail-reach", ceiling(text))
    assert (finding.level, finding.where) == ("ask", "framing.old_ceiling")
    assert finding.value == pytest.approx(64.0 - 20.0 - 12.7)


def test_plaster_may_be_loose() -> None:
    text = edited(SQUARE, ('kind = "plasterboard", thickness = 13', 'kind = "plaster on wood lath", thickness = 22'))
    findings = found("nail-reach", ceiling(text))
    assert [(f.level, f.where) for f in findings] == [("ask", "framing.old_ceiling")]
    assert "loose" in findings[0].message


def test_nailed_slats_without_joists() -> None:
    subject = ceiling()
    bare = rebuilt(subject, layout=replace(subject.layout, joists=replace(subject.layout.joists, lines=())))
    assert all(slat.joists == () for slat in nailed_slats(bare))
    assert {f.level for f in found("nail-reach", bare)} == {"fail"}
