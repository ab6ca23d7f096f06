"""Nails and what they reach."""

import re
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from checks.sample import (
    SQUARE,
    analysed,
    box,
    ceiling,
    edited,
    found,
    levels,
    one,
    part_of,
    rebuilt,
    remedied,
    spoiled,
)
from lacunar.analysis import Subject
from lacunar.analysis.nailed import nailed_slats, screwed_strips
from lacunar.checks import CHECKS
from lacunar.checks.nail_grip import is_held
from lacunar.geometry import Line
from lacunar.layout.nails import joist_bearers, nail_slat
from lacunar.parts import Part, make_parts
from lacunar.units import INCH

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
    whole = [slat for slat in nailed_slats(ceiling()) if part_of(ceiling(), slat.part).length > 1900.0]
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


@pytest.mark.parametrize("joist", [2, 0])
def test_one_joist_and_a_long_free_end(joist: int) -> None:
    """A slat from 6 to 1944 mm of its coffer; 12 in is the most past the nails of one joist."""

    def one_only(part: Part) -> Part:
        xs = sorted({round(x) for x, _ in part.nails})
        return replace(part, nails=tuple(n for n in part.nails if round(n[0]) == xs[joist]))

    subject = spoiled(ceiling(), "C2-S03", one_only)
    (nail, *_), ((start, _), (end, _)) = part_of(subject, "C2-S03").nails, part_of(subject, "C2-S03").axis
    finding = one("nail-reach", subject)
    assert (finding.level, finding.limit) == ("fail", pytest.approx(12.0 * INCH))
    assert finding.value == pytest.approx(max(abs(nail[0] - start), abs(end - nail[0])))
    assert "hang free" in finding.message
    assert "one joist alone" in finding.message


@pytest.mark.parametrize(
    ("length", "nails", "level", "value", "limit"),
    [
        (400.0, 2, "pass", None, None),
        (400.0, 1, "warn", 1.0, 2.0),
        (500.0, 2, "warn", 250.0, 8.0 * INCH),
        (500.0, 1, "warn", 250.0, 8.0 * INCH),
        (620.0, 2, "fail", 310.0, 12.0 * INCH),
    ],
)
def test_a_short_slat_on_one_joist(
    length: float, nails: int, level: str, value: float | None, limit: float | None
) -> None:
    """A stump nailed in its middle to the joist at 2600: ends of up to 8 in on two nails are good."""

    def stump(part: Part) -> Part:
        y, half = part.axis[0][1], length / 2.0
        ring = box(2600.0 - half, y - 45.0, length, 90.0)
        places = ((2600.0, y - 26.0), (2600.0, y + 26.0)) if nails == 2 else ((2600.0, y),)
        return replace(part, outline=ring, axis=((2600.0 - half, y), (2600.0 + half, y)), nails=places, length=length)

    finding = one("nail-reach", spoiled(ceiling(), "C2-S03", stump))
    assert finding.level == level
    if value is not None:
        assert (finding.where, finding.value, finding.limit) == ("C2-S03", value, limit)


SPREAD = 'joists = {{ along = "DA", first = {first}, spacing = {spacing} }}'
WORSE = ("pass", "ask", "warn", "fail")


def spread(first: float, spacing: float, *changes: tuple[str, str]) -> str:
    """Slats across joists so far apart."""
    joists = ('joists = { along = "DA", first = 200, spacing = 400 }', SPREAD.format(first=first, spacing=spacing))
    return edited(SQUARE, joists, *changes)


def test_joists_four_feet_apart() -> None:
    """Joists at 600, 1800 and 3000: nails too far apart in C1, one joist in C2; nothing there to screw strips to."""
    findings = found("nail-reach", ceiling(spread(600.0, 1200.0)))
    assert {(f.where, f.level) for f in findings} >= {("C1", "fail"), ("C2", "fail")}
    assert any("two nails stand 1200 mm apart" in f.message for f in findings)
    assert any("hang free past its last nail: 305 mm is the most on one joist alone" in f.message for f in findings)
    assert all("blocking between the joists" in f.fix for f in findings)
    # Once blocking is there and written down, everything holds.
    assert is_held(ceiling(spread(200.0, 400.0)))


ANY_NAIL = (", length = 64 }", " }")


@pytest.mark.parametrize(
    ("text", "keys"),
    [
        (
            edited(
                SQUARE, ('run = "across"', 'run = "with"'), ("[finish]", "[furring]\nuse = false\n[finish]"), ANY_NAIL
            ),
            {"furring.use"},
        ),
        (spread(300.0, 1200.0, ANY_NAIL), {"slats.run", "furring.use", "furring.thickness", "furring.width"}),
        (spread(300.0, 900.0, ANY_NAIL), {"slats.run", "furring.use", "furring.thickness", "furring.width"}),
        (spread(300.0, 640.0, ANY_NAIL), {"slats.run", "furring.use"}),
        (spread(300.0, 900.0, ANY_NAIL, ('run = "across"', 'run = "with"')), {"furring.thickness", "furring.width"}),
        (spread(300.0, 900.0, ANY_NAIL, FURRING), {"slats.run", "furring.stock"}),
        (
            spread(300.0, 900.0, ANY_NAIL, ('run = "across"', 'run = "with"'), FURRING),
            {"furring.stock"},
        ),
    ],
)
def test_the_remedy_applies_and_everything_holds(text: str, keys: set[str]) -> None:
    findings = [f for f in found("nail-reach", ceiling(text)) if f.level in ("warn", "fail")]
    assert findings
    fix = findings[0].fix
    assert set(re.findall(r"([a-z_]+\.[a-z_]+) = ", fix)) == keys
    assert [f.level for f in found("nail-reach", remedied(text, fix)) if f.level in ("warn", "fail")] == []


def test_beams_that_furring_would_hide_are_no_remedy() -> None:
    """Beams 55 mm deep show 15 below slats and trim: furring of 24 mm or more would hide them."""
    text = spread(300.0, 1200.0, ("depth = 140", "depth = 55"), ('stock = "100x140"', 'stock = "100x55"'))
    findings = found("nail-reach", ceiling(text))
    assert "fail" in {f.level for f in findings}
    assert "furring.use" not in findings[0].fix
    assert "blocking between the joists" in findings[0].fix


def worst(subject: Subject) -> int:
    """With other joists alone: all else of the square ceiling stays."""
    nails = replace(analysed(ceiling()), nailed=nailed_slats(subject), screwed=screwed_strips(subject))
    return max(WORSE.index(f.level) for f in CHECKS["nail-reach"](subject, nails))


def with_joists(subject: Subject, at: Iterable[float]) -> Subject:
    """The same slats nailed anew to other joists."""
    lines = tuple(Line((x, 0.0), (0.0, 1.0)) for x in at)
    joists = replace(subject.layout.joists, lines=lines)
    slats = tuple(
        replace(s, nails=nail_slat(s, joist_bearers(joists), subject.layout.nailing)[0]) for s in subject.layout.slats
    )
    layout = replace(subject.layout, joists=joists, slats=slats)
    return rebuilt(subject, layout=layout, parts=make_parts(layout))


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(at=st.lists(st.floats(20.0, 3980.0), min_size=2, max_size=14, unique=True), data=st.data())
def test_taking_joists_away_never_makes_it_better(at: list[float], data: st.DataObject) -> None:
    kept = data.draw(st.lists(st.sampled_from(at), max_size=len(at), unique=True))
    assert worst(with_joists(ceiling(), kept)) >= worst(with_joists(ceiling(), at))


def test_spreading_joists_never_makes_it_better() -> None:
    """Wherever the first joist lies: the worst place for it, in steps of 100 mm, is no kinder at a wider spacing."""
    found_levels: list[int] = []
    for spacing in (300.0, 400.0, 600.0, 700.0, 800.0, 1200.0, 2400.0):
        starts = [100.0 * k for k in range(int(spacing / 100.0))]
        every = [[x0 + spacing * k for k in range(int((4000.0 - x0) / spacing) + 1)] for x0 in starts]
        found_levels.append(max(worst(with_joists(ceiling(), at)) for at in every))
    assert found_levels == sorted(found_levels)
    assert (found_levels[0], found_levels[-1]) == (WORSE.index("pass"), WORSE.index("fail"))


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
    assert (finding.level, finding.where, finding.limit) == ("fail", "C2-S03", 12.0 * INCH)
    assert "on one strip of furring alone" in finding.message


def test_strips_that_are_counted_are_those_that_are_there() -> None:
    """A strip that is moved aside holds nothing: its slats lose it."""

    def moved(part: Part) -> Part:
        return replace(part, outline=tuple((x, y + 200.0) for x, y in part.outline), nails=())

    subject = furred(OPEN_NAIL)
    before = {slat.part: slat.caught for slat in nailed_slats(subject)}
    after = {slat.part: slat.caught for slat in nailed_slats(spoiled(subject, "C2-F2", moved))}
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
    assert all(strip.under_joist and strip.holds > 2 for strip in analysed(subject).screwed)
    one = spoiled(subject, "C1-F2", lambda part: replace(part, nails=part.nails[:1]))
    findings = [f for f in found("nail-reach", one) if f.level != "pass"]
    assert [(f.level, f.where, f.value) for f in findings] == [("fail", "C1-F2", 1.0)]


@pytest.mark.parametrize(
    ("name", "key", "value"),
    [("3-square", "furring.use", "true"), ("5-metric", "slats.run", '"across"'), ("5-metric", "furring.use", "true")],
)
def test_no_nail_into_our_own_furring_stands_near_an_end(configs: Path, name: str, key: str, value: str) -> None:
    """Slats as cut by the plan, which may take any length that hides its gaps."""
    subject = ceiling((configs / f"{name}.toml").read_text(encoding="utf-8"), ((key, value),))
    assert subject.layout.furring is not None
    assert [slat.part for slat in nailed_slats(subject) if (slat.from_end or INCH) < INCH - 1e-6] == []
