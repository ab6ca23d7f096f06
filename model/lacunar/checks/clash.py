"""Do any two parts want the same place?

What: every pair of parts is compared, in the plan by separating axes and in height by their faces; contact is
allowed, overlap is not. Nothing may leave the room, stand in a fixture, or, if it is a beam, rise into the old
ceiling. Beams that go up, and slats or the furring over them, may not stand in it.
Why: a piece that wants another's place is found on the ladder, with the adhesive open.
Fix: change the gap, the rows or the fixture's place that the two parts come from; scribe a beam to the ceiling.
Source: separating axes of convex shapes; contact up to 0.01 mm is arithmetic, not wood.
"""

from collections.abc import Iterator

from lacunar.analysis import NEW_BEAMS
from lacunar.checks.finding import Finding
from lacunar.checks.voice import Found, Voice, assumed_shape, check, gather, settle
from lacunar.tolerances import CONTACT


@check("clash", "separating axes of convex shapes, exact; contact up to 0.01 mm", __doc__)
def check_clash(voice: Voice) -> Found:
    """Findings on parts that overlap, leave the room, stand in a fixture or in the old ceiling."""
    found = [
        *_pairs(voice),
        *voice.gather(_outside(voice)),
        *voice.gather(_in_fixtures(voice)),
        *voice.gather(_against_ceiling(voice)),
    ]
    return settle(found, _passed(voice), assumed_shape(voice.subject))


def _passed(voice: Voice) -> Finding:
    closest = voice.analysis.overlaps.closest
    where = "the ceiling" if closest is None else f"{closest.first}, {closest.second}"
    depth = 0.0 if closest is None else max(closest.depth, 0.0)
    message = f"none of {len(voice.subject.parts)} parts overlaps another, leaves the room or stands in a fixture"
    return voice.say("pass", where, message, value=depth, limit=CONTACT)


def _clash(voice: Voice, where: str, message: str, depth: float, fix: str) -> Finding:
    return voice.say("fail", where, message, value=depth, limit=CONTACT, fix=fix)


def _pairs(voice: Voice) -> Iterator[Finding]:
    """One finding a pair; more than a few of one part and its neighbours' coffer are told once."""
    by_place: dict[str, list[Finding]] = {}
    for overlap in voice.analysis.overlaps.found:
        one, other = voice.part(overlap.first), voice.part(overlap.second)
        message = f"{one.kind} and {other.kind} overlap by {voice.length(overlap.depth)}"
        fix = f"shorten or move {other.id if other.bought else one.id} by {voice.at_least(overlap.depth)}"
        finding = _clash(voice, f"{one.id}, {other.id}", message, overlap.depth, fix)
        by_place.setdefault(one.coffer or other.coffer or one.id, []).append(finding)
    for place, alike in by_place.items():
        yield from gather(alike, {finding.where: place for finding in alike})


def _outside(voice: Voice) -> Iterator[Finding]:
    for one in voice.analysis.outside:
        message, fix = f"it reaches {voice.length(one.depth)} into a wall", "shorten or move it by that much"
        yield _clash(voice, one.part, message, one.depth, fix)


def _in_fixtures(voice: Voice) -> Iterator[Finding]:
    for fixture in voice.analysis.fixtures:
        for one in fixture.in_body:
            message = f"it stands {voice.length(one.depth)} in fixture {fixture.name}"
            yield _clash(voice, one.part, message, one.depth, "move the fixture or the row, or notch the part")


def _against_ceiling(voice: Voice) -> Iterator[Finding]:
    for one in voice.analysis.risen:
        is_beam = voice.part(one.part).kind in NEW_BEAMS
        scribe = f"scribe {voice.at_least(one.depth)} off its top, or " if is_beam else ""
        message = f"its top rises {voice.length(one.depth)} into the old ceiling"
        yield _clash(voice, one.part, message, one.depth, f"{scribe}hang it lower")
