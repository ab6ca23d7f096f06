"""Has every lamp room, and does its canopy hide the hole?

What: each cut-out against beams and trim, its canopy against them and over the hole, what is left standing in the
hole, and over how many slats it reaches.
Why: a box found to sit under a beam, or a canopy that stands on the trim and rocks, is found with the power off and
the slats nailed.
Fix: align the rows to the fixture (cross_beams.align), take a larger canopy, or have the box moved by an
electrician.
Source: geometry; cut-out 1/16 in larger all round, one to three slats: common practice, no source.
"""

import shapely
from shapely import Polygon

from lacunar.checks.finding import Finding
from lacunar.checks.overlap import plan_depth
from lacunar.checks.shapes import distances, polygon
from lacunar.checks.subject import HANGING, Subject
from lacunar.checks.voice import Voice, assumed_shape, settle
from lacunar.layout import CutOut
from lacunar.parts import Part
from lacunar.tolerances import CONTACT

NAME = "fixture-clear"
SOURCE = "geometry; common practice, no source"

MOST_SLATS = 3
"""A cut-out over more slats leaves too little to nail. Source: common practice, no source."""


def check_fixture_clear(subject: Subject) -> tuple[Finding, ...]:
    """Findings on fixtures in the ceiling."""
    voice = Voice(check=NAME, source=SOURCE, subject=subject)
    cut_outs = subject.layout.cut_outs
    if not cut_outs:
        return _none(voice)
    found = [finding for cut_out in cut_outs for finding in _one(voice, cut_out)]
    return settle(found, _passed(voice), assumed_shape(subject))


def _none(voice: Voice) -> tuple[Finding, ...]:
    if voice.subject.config.is_given("fixture"):
        return (voice.say("pass", "the ceiling", "there is no fixture", unit=""),)
    message = "every lamp, smoke alarm and vent in the old ceiling needs its hole, and the config names none"
    fix = "write each one as [[fixture]] with its distances from two walls, or fixture = [] if there is none"
    return (voice.say("ask", "the ceiling", message, unit="", fix=fix),)


def _one(voice: Voice, cut_out: CutOut) -> list[Finding]:
    return [*_beams(voice, cut_out), *_trim(voice, cut_out), *_canopy(voice, cut_out), *_slats(voice, cut_out)]


def _standing_in(subject: Subject, hole: Polygon, kinds: frozenset[str]) -> list[tuple[Part, float]]:
    """Parts of these kinds that overlap a hole, the deepest first."""
    found = [
        (part, depth)
        for part, shape in zip(subject.parts, subject.polygons, strict=True)
        if part.kind in kinds and shape.intersects(hole) and (depth := plan_depth(shape, hole)) > CONTACT
    ]
    return sorted(found, key=lambda item: -item[1])


def _beams(voice: Voice, cut_out: CutOut) -> list[Finding]:
    hole, cover = polygon(cut_out.outline), polygon(cut_out.cover or cut_out.outline)
    fix = "align the rows to it (cross_beams.align), or have the box moved by an electrician"
    for shape, what in ((hole, "its hole runs"), (cover, "its canopy runs")):
        hit = _standing_in(voice.subject, shape, HANGING)
        if hit:
            part, depth = hit[0]
            message = f"{what} {voice.length(depth)} into {part.kind} {part.id}"
            return [voice.say("fail", cut_out.name, message, value=-depth, limit=0.0, fix=fix)]
    if cut_out.coffer is None:
        return [voice.say("fail", cut_out.name, "its centre lies in no coffer", unit="", fix=fix)]
    return []


def _trim(voice: Voice, cut_out: CutOut) -> list[Finding]:
    hit = _standing_in(voice.subject, polygon(cut_out.outline), frozenset({"trim"}))
    if hit:
        part, depth = hit[0]
        message = f"its hole runs {voice.length(depth)} into trim {part.id}"
        fix = "move the row or the box, or take narrower trim in that coffer"
        return [voice.say("fail", cut_out.name, message, value=-depth, limit=0.0, fix=fix)]
    hit = _standing_in(voice.subject, polygon(cut_out.cover or cut_out.outline), frozenset({"trim"}))
    if hit:
        part, depth = hit[0]
        message = f"its canopy stands {voice.length(depth)} on trim {part.id} and will not lie flat"
        fix = "take a smaller canopy, or move the row or the box"
        return [voice.say("warn", cut_out.name, message, value=-depth, limit=0.0, fix=fix)]
    return []


def _canopy(voice: Voice, cut_out: CutOut) -> list[Finding]:
    if cut_out.cover is None:
        message = "nobody measured its canopy, and where that is no larger than the cut-out the hole shows"
        return [voice.say("ask", cut_out.name, message, unit="", fix="measure it and write canopy = in [[fixture]]")]
    hidden = cover_overlap(cut_out)
    if hidden > CONTACT:
        return []
    message = f"its canopy is {voice.length(-hidden)} too small to cover the hole"
    fix = f"take a canopy {voice.at_least(-2.0 * hidden)} larger, or a trim ring"
    return [voice.say("fail", cut_out.name, message, value=hidden, limit=0.0, fix=fix)]


def cover_overlap(cut_out: CutOut) -> float:
    """How far a canopy reaches past its hole at the least place; negative where the hole shows."""
    if cut_out.cover is None:
        return 0.0
    hole, cover = polygon(cut_out.outline), polygon(cut_out.cover)
    if cover.covers(hole):
        return float(cover.exterior.distance(hole.exterior))
    corners = [shapely.Point(corner) for corner in cut_out.outline]
    return -float(distances(corners, [cover] * len(corners)).max())


def _slats(voice: Voice, cut_out: CutOut) -> list[Finding]:
    left = _standing_in(voice.subject, polygon(cut_out.outline), frozenset({"slat"}))
    if left:
        part, depth = left[0]
        message = f"{part.id} stands {voice.length(depth)} in its hole"
        fix = f"notch {part.id} to the template"
        return [voice.say("fail", cut_out.name, message, value=-depth, limit=0.0, fix=fix)]
    crossed = slats_crossed(voice.subject, cut_out)
    if crossed > MOST_SLATS:
        message = f"its hole reaches over {crossed} slats, {MOST_SLATS} is the most"
        fix = "box it in with trim of its own and end the slats there"
        return [voice.say("warn", cut_out.name, message, value=crossed, limit=MOST_SLATS, unit="count", fix=fix)]
    if crossed == 0 and cut_out.coffer is not None:
        message = "no slat makes room for it"
        return [voice.say("warn", cut_out.name, message, value=0, unit="count", fix="check the fixture's distances")]
    return []


def slats_crossed(subject: Subject, cut_out: CutOut) -> int:
    """Number of slats that a cut-out takes something out of, the two halves of a severed one counted once."""
    numbers = {slat.id: (slat.coffer, slat.number) for slat in subject.layout.slats}
    return len(
        {
            numbers.get(part.id, (part.id, 0))
            for part in subject.of_kind("slat")
            if any(notch.fixture == cut_out.name for notch in part.notches)
        }
    )


def _passed(voice: Voice) -> Finding:
    cut_outs = voice.subject.layout.cut_outs
    least = min(cut_outs, key=cover_overlap)
    hidden = cover_overlap(least)
    many = (
        f"{len(cut_outs)} fixtures are clear of beams and trim"
        if len(cut_outs) > 1
        else "it is clear of beams and trim"
    )
    message = f"{many}; the canopy reaches {voice.length(hidden)} past the hole at least"
    return voice.say("pass", least.name, message, value=hidden, limit=0.0)
