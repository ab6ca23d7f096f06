"""Has every lamp room, and does its canopy hide the hole?

What: each cut-out against beams and trim, its canopy against them and over the hole, what is left standing in the
hole, and over how many slats it reaches.
Why: a box found to sit under a beam, or a canopy that stands on the trim and rocks, is found with the power off and
the slats nailed.
Fix: align the rows to the fixture (cross_beams.align), take a larger canopy, or have the box moved by an
electrician.
Source: geometry; cut-out 1/16 in larger all round, one to three slats: common practice, no source.
"""

from collections.abc import Collection, Iterator, Sequence

from lacunar.analysis import HANGING, FixtureFit, Standing
from lacunar.checks.finding import Finding
from lacunar.checks.voice import Found, Voice, assumed_shape, check, settle
from lacunar.parts import Part
from lacunar.told import count
from lacunar.tolerances import CONTACT

MOST_SLATS = 3
"""A cut-out over more slats leaves too little to nail. Source: common practice, no source."""


@check("fixture-clear", "geometry; common practice, no source", __doc__)
def check_fixture_clear(voice: Voice) -> Found:
    """Findings on fixtures in the ceiling."""
    fixtures = voice.analysis.fixtures
    if not fixtures:
        return _none(voice)
    found = [finding for one in fixtures for said in (_beams, _trim, _canopy, _slats) for finding in said(voice, one)]
    return settle(found, _passed(voice, fixtures), assumed_shape(voice.subject))


def _none(voice: Voice) -> Found:
    if voice.config.is_given("fixture"):
        return (voice.say("pass", "the ceiling", "there is no fixture", unit=""),)
    message = "every lamp, smoke alarm and vent in the old ceiling needs its hole, and the config names none"
    fix = "write each one as [[fixture]] with its distances from two walls, or fixture = [] if there is none"
    return (voice.say("ask", "the ceiling", message, unit="", fix=fix),)


def _deepest(voice: Voice, standing: Sequence[Standing], kinds: Collection[str]) -> tuple[Part, float] | None:
    """The part of these kinds that stands deepest in it."""
    found = ((voice.part(one.part), one.depth) for one in standing)
    return next(((part, depth) for part, depth in found if part.kind in kinds), None)


def _beams(voice: Voice, fixture: FixtureFit) -> Iterator[Finding]:
    fix = "align the rows to it (cross_beams.align), or have the box moved by an electrician"
    in_hole, in_canopy = (_deepest(voice, place, HANGING) for place in (fixture.in_hole, fixture.in_canopy))
    if hit := in_hole or in_canopy:
        what = f"its {'hole' if in_hole else 'canopy'} runs"
        message = f"{what} {voice.length(hit[1])} into {hit[0].kind} {hit[0].id}"
        yield voice.say("fail", fixture.name, message, value=-hit[1], limit=0.0, fix=fix)
    elif fixture.coffer is None:
        yield voice.say("fail", fixture.name, "its centre lies in no coffer", unit="", fix=fix)


def _trim(voice: Voice, fixture: FixtureFit) -> Iterator[Finding]:
    if hit := _deepest(voice, fixture.in_hole, ("trim",)):
        message = f"its hole runs {voice.length(hit[1])} into trim {hit[0].id}"
        fix = "move the row or the box, or take narrower trim in that coffer"
        yield voice.say("fail", fixture.name, message, value=-hit[1], limit=0.0, fix=fix)
    elif hit := _deepest(voice, fixture.in_canopy, ("trim",)):
        message = f"its canopy stands {voice.length(hit[1])} on trim {hit[0].id} and will not lie flat"
        fix = "take a smaller canopy, or move the row or the box"
        yield voice.say("warn", fixture.name, message, value=-hit[1], limit=0.0, fix=fix)


def _canopy(voice: Voice, fixture: FixtureFit) -> Iterator[Finding]:
    hidden = fixture.hides
    if hidden is None:
        message = "nobody measured its canopy, and where that is no larger than the cut-out the hole shows"
        yield voice.say("ask", fixture.name, message, unit="", fix="measure it and write canopy = in [[fixture]]")
    elif hidden <= CONTACT:
        message = f"its canopy is {voice.length(-hidden)} too small to cover the hole"
        fix = f"take a canopy {voice.at_least(-2.0 * hidden)} larger, or a trim ring"
        yield voice.say("fail", fixture.name, message, value=hidden, limit=0.0, fix=fix)


def _slats(voice: Voice, fixture: FixtureFit) -> Iterator[Finding]:
    name, crossed = fixture.name, fixture.slats
    if hit := _deepest(voice, fixture.in_hole, ("slat",)):
        message, fix = f"{hit[0].id} stands {voice.length(hit[1])} in its hole", f"notch {hit[0].id} to the template"
        yield voice.say("fail", name, message, value=-hit[1], limit=0.0, fix=fix)
    elif crossed > MOST_SLATS:
        message = f"its hole reaches over {count(crossed)} slats, {MOST_SLATS} is the most"
        fix = "box it in with trim of its own and end the slats there"
        yield voice.say("warn", name, message, value=crossed, limit=MOST_SLATS, unit="count", fix=fix)
    elif crossed == 0 and fixture.coffer is not None:
        message, fix = "no slat makes room for it", "check the fixture's distances"
        yield voice.say("warn", name, message, value=0, unit="count", fix=fix)


def _passed(voice: Voice, fixtures: Sequence[FixtureFit]) -> Finding:
    least = min(fixtures, key=lambda one: one.hides or 0.0)
    hidden = least.hides or 0.0
    many = f"{len(fixtures)} fixtures are" if len(fixtures) > 1 else "it is"
    message = f"{many} clear of beams and trim; the canopy reaches {voice.length(hidden)} past the hole at least"
    return voice.say("pass", least.name, message, value=hidden, limit=0.0)
