"""Nails and what they reach."""

from dataclasses import replace

import pytest

from checks.sample import SQUARE, ceiling, edited, found, levels, one, rebuilt, spoiled
from lacunar.checks.nailed import nailed_slats, screwed_strips
from lacunar.checks.subject import Subject
from lacunar.parts import Part

ALONG = ('run = "across"', 'run = "with"')
NO_FURRING = ("[finish]", "[furring]\nuse = false\n[finish]")
FURRING = ("[finish]", "[furring]\nstock = '1x3'\nuse = true\n[finish]")
OPEN_NAIL = (", length = 64 }", " }")
"""The nail's length is left to the furring."""
NO_JOISTS = ('joists = { along = "DA", first = 200, spacing = 400 }\n', "")
THICKER = ('kind = "plasterboard", thickness = 13', 'kind = "plasterboard", thickness = 26')


def furred(*changes: tuple[str, str]) -> Subject:
    """Slats along the joists, so that there is furring."""
    strips = ("[finish]", "[furring]\nstock = '1x3'\n[finish]")
    return ceiling(edited(SQUARE, ALONG, strips, *changes))


def test_square_ceiling() -> None:
    """Joists at 200, 600, ... 3800 from DA, five over each coffer; nails of 64 through 20 and 13 mm."""
    finding = one("nail-reach", ceiling())
    # The lamp severs a slat: the shorter stump, 842 mm long, catches the joists at 200 and 600.
    assert (finding.level, finding.where, finding.value, finding.limit) == ("pass", "C1-S08a", 2.0, 2.0)
    whole = [slat for slat in nailed_slats(ceiling()) if slat.part.length > 1900.0]
    assert {len(slat.caught) for slat in whole} == {5}
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
    findings = found("nail-reach", ceiling(edited(SQUARE, ('run = "across"', 'run = "with"'), NO_FURRING)))
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
    assert all(slat.caught == () for slat in nailed_slats(bare))
    assert {f.level for f in found("nail-reach", bare)} == {"fail"}


def test_furring_was_chosen_and_why() -> None:
    """Slats 20, furring 19.05: nails of 38, 18 of them in the furring; 2 strips at least on each joist of 5."""
    chosen, passed = found("nail-reach", furred(OPEN_NAIL))
    assert (chosen.level, chosen.where) == ("pass", "furring.use")
    assert "slats of every coffer run along the joists" in chosen.message
    assert (passed.level, passed.limit) == ("pass", 2.0)
    assert "strips of furring or more, each nail 18 mm deep" in passed.message
    # Nobody has to be told what they asked for.
    assert [f.level for f in found("nail-reach", ceiling(edited(SQUARE, OPEN_NAIL, FURRING)))] == ["pass"]


def test_a_nail_that_comes_out_of_the_furring() -> None:
    """A nail of 64 that the config asks for: 64 - 20 - 19.05."""
    (finding,) = [f for f in found("nail-reach", furred()) if f.level != "pass"]
    assert (finding.level, finding.where, finding.value) == ("warn", "fasteners.slat.length", 64.0)
    assert finding.limit == pytest.approx(20.0 + 0.75 * 25.4)
    assert "comes 25 mm out of the furring" in finding.message
    assert finding.fix == '38 mm would do: fasteners.slat.length = "38 mm"'


def test_a_nail_too_short_for_the_furring() -> None:
    (finding,) = [f for f in found("nail-reach", furred(("length = 64", "length = 30"))) if f.level != "pass"]
    assert (finding.level, finding.value, finding.limit) == ("fail", pytest.approx(10.0), pytest.approx(12.7))
    assert finding.fix == "take nails 3 mm longer"


def test_furring_screws_into_the_joists() -> None:
    """64 - 19.05 - 26 of old ceiling leave 18.95, an inch is the least; the default is longer."""
    short = (OPEN_NAIL[0], " }\nfurring = { length = 64 }")
    (finding,) = [f for f in found("nail-reach", furred(THICKER, short)) if f.level != "pass"]
    assert (finding.level, finding.where) == ("fail", "fasteners.furring.length")
    assert (finding.value, finding.limit) == (pytest.approx(18.95), pytest.approx(25.4))
    assert finding.fix == "take screws 7 mm longer"
    assert {f.level for f in found("nail-reach", furred(THICKER, OPEN_NAIL))} == {"pass"}
    unknown = furred(OPEN_NAIL, ('old_ceiling = { kind = "plasterboard", thickness = 13 }\n', ""))
    (finding,) = [f for f in found("nail-reach", unknown) if f.level != "pass"]
    assert (finding.level, finding.where, finding.value) == (
        "ask",
        "framing.old_ceiling",
        pytest.approx(64 - 19.05 - 12.7),
    )


def test_a_slat_that_one_strip_holds() -> None:
    def one_only(part: Part) -> Part:
        ys = sorted({round(y) for _, y in part.nails})
        return replace(part, nails=tuple(n for n in part.nails if round(n[1]) == ys[0]))

    (finding,) = [f for f in found("nail-reach", spoiled(furred(OPEN_NAIL), "C2-S03", one_only)) if f.level != "pass"]
    assert (finding.level, finding.where, finding.value) == ("fail", "C2-S03", 1.0)
    assert "of the strips of furring it catches one" in finding.message


def test_strips_that_are_counted_are_those_that_are_there() -> None:
    """A strip that is moved aside holds nothing: its slats lose it."""

    def moved(part: Part) -> Part:
        return replace(part, outline=tuple((x, y + 200.0) for x, y in part.outline), nails=())

    subject = furred(OPEN_NAIL)
    before = {slat.part.id: slat.caught for slat in nailed_slats(subject)}
    after = {slat.part.id: slat.caught for slat in nailed_slats(spoiled(subject, "C2-F2", moved))}
    assert all(len(before[name]) - len(after[name]) == ("C2-F2" in before[name]) for name in before)
    assert sum("C2-F2" in caught for caught in before.values()) > 10


@pytest.mark.parametrize(("joists", "level"), [((), "fail"), (NO_JOISTS, "ask")])
def test_a_strip_on_one_joist(joists: tuple[str, str], level: str) -> None:
    """On joists that nobody has found it is a question."""

    def one_only(part: Part) -> Part:
        return replace(part, nails=part.nails[:2])

    changes = [joists] if joists else []
    text = edited(SQUARE, OPEN_NAIL, FURRING, *changes)
    # Assumed joists lie along DA as well, 406 mm apart.
    subject = spoiled(ceiling(edited(text, ALONG)), "C2-F2", one_only)
    findings = [f for f in found("nail-reach", subject) if f.where == "C2-F2"]
    assert [(f.level, f.value) for f in findings] == [(level, 1.0)]
    assert "screwed to one joist" in findings[0].message


def test_a_strip_under_a_joist_wants_two_screws() -> None:
    subject = ceiling(edited(SQUARE, OPEN_NAIL, FURRING))
    assert all(strip.under_joist and strip.holds > 2 for strip in screwed_strips(subject))
    one = spoiled(subject, "C1-F2", lambda part: replace(part, nails=part.nails[:1]))
    findings = [f for f in found("nail-reach", one) if f.level != "pass"]
    assert [(f.level, f.where, f.value) for f in findings] == [("fail", "C1-F2", 1.0)]
