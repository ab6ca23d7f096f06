"""Do any two parts want the same place?

What: every pair of parts is compared, in the plan by separating axes and in height by their faces; contact is
allowed, overlap is not. Nothing may leave the room, stand in a fixture, or, if it is a beam, rise into the old
ceiling. Beams that go up, and slats or the furring over them, may not stand in it.
Why: a piece that wants another's place is found on the ladder, with the adhesive open.
Fix: change the gap, the rows or the fixture's place that the two parts come from; scribe a beam to the ceiling.
Source: separating axes of convex shapes; contact up to 0.01 mm is arithmetic, not wood.
"""

import shapely

from lacunar.checks.ceiling import stand_against_ceiling
from lacunar.checks.finding import Finding
from lacunar.checks.overlap import Overlaps, find_overlaps, plan_depth
from lacunar.checks.shapes import polygon, without
from lacunar.checks.subject import NEW_BEAMS, Subject
from lacunar.checks.voice import Voice, assumed_shape, coffers_of, gather, settle
from lacunar.tolerances import CONTACT

NAME = "clash"
SOURCE = "separating axes of convex shapes, exact; contact up to 0.01 mm"


def check_clash(subject: Subject) -> tuple[Finding, ...]:
    """Findings on parts that overlap, leave the room, stand in a fixture or in the old ceiling."""
    voice = Voice(check=NAME, source=SOURCE, subject=subject)
    overlaps = find_overlaps(subject.parts, subject.polygons, CONTACT)
    coffers = coffers_of(subject)
    found = [
        *_pairs(subject, voice, overlaps),
        *gather(_outside(subject, voice), coffers),
        *gather(_in_fixtures(subject, voice), coffers),
        *gather(_against_ceiling(subject, voice), coffers),
    ]
    return settle(found, _passed(subject, voice, overlaps), assumed_shape(subject))


def _passed(subject: Subject, voice: Voice, overlaps: Overlaps) -> Finding:
    closest = overlaps.closest
    where = "the ceiling"
    depth = 0.0
    if closest is not None:
        where = f"{subject.parts[closest.first].id}, {subject.parts[closest.second].id}"
        depth = max(closest.depth, 0.0)
    message = f"none of {len(subject.parts)} parts overlaps another, leaves the room or stands in a fixture"
    return voice.say("pass", where, message, value=depth, limit=CONTACT)


def _pairs(subject: Subject, voice: Voice, overlaps: Overlaps) -> list[Finding]:
    """One finding a pair; more than a few of one part and its neighbours' coffer are told once."""
    found: list[Finding] = []
    by_place: dict[str, list[Finding]] = {}
    for overlap in overlaps.found:
        one, other = subject.parts[overlap.first], subject.parts[overlap.second]
        finding = voice.say(
            "fail",
            f"{one.id}, {other.id}",
            f"{one.kind} and {other.kind} overlap by {voice.length(overlap.depth)}",
            value=overlap.depth,
            limit=CONTACT,
            fix=f"shorten or move {other.id if other.bought else one.id} by {voice.at_least(overlap.depth)}",
        )
        by_place.setdefault(one.coffer or other.coffer or one.id, []).append(finding)
    for place, alike in by_place.items():
        found += gather(alike, {finding.where: place for finding in alike})
    return found


def _outside(subject: Subject, voice: Voice) -> list[Finding]:
    room = polygon(subject.room.points)
    shapely.prepare(allowed := shapely.buffer(room, CONTACT, join_style="mitre"))
    inside = shapely.covers(allowed, list(subject.polygons))
    found: list[Finding] = []
    for part, outline, fits in zip(subject.parts, subject.polygons, inside, strict=True):
        if fits:
            continue
        beyond = without(outline, [room])
        out = max(room.distance(shapely.Point(point)) for point in shapely.get_coordinates(beyond))
        message = f"it reaches {voice.length(out)} into a wall"
        found.append(
            voice.say("fail", part.id, message, value=out, limit=CONTACT, fix="shorten or move it by that much")
        )
    return found


def _in_fixtures(subject: Subject, voice: Voice) -> list[Finding]:
    found: list[Finding] = []
    tree = shapely.STRtree(subject.polygons)
    for fixture in subject.layout.cut_outs:
        body = polygon(fixture.fixture)
        for index in sorted(int(i) for i in tree.query(body, predicate="intersects")):
            part = subject.parts[index]
            depth = plan_depth(subject.polygons[index], body)
            if depth > CONTACT:
                message = f"it stands {voice.length(depth)} in fixture {fixture.name}"
                fix = "move the fixture or the row, or notch the part"
                found.append(voice.say("fail", part.id, message, value=depth, limit=CONTACT, fix=fix))
    return found


def _against_ceiling(subject: Subject, voice: Voice) -> list[Finding]:
    lies = "slat" if subject.layout.furring is None else "furring"
    looked_at = [part for part in subject.parts if part.kind == lies or part.kind in NEW_BEAMS]
    standing = stand_against_ceiling(subject.room, looked_at, [subject.polygon(part.id) for part in looked_at])
    found: list[Finding] = []
    for one in standing:
        if one.rise > CONTACT:
            message = f"its top rises {voice.length(one.rise)} into the old ceiling"
            scribe = f"scribe {voice.at_least(one.rise)} off its top, or " if one.part.kind in NEW_BEAMS else ""
            fix = f"{scribe}hang it lower"
            found.append(voice.say("fail", one.part.id, message, value=one.rise, limit=CONTACT, fix=fix))
    return found
