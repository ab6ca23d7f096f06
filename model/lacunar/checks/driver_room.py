"""Can a drill and a driver reach every pocket?

What: the axis of each pocket, carried on out of its mouth, against the old ceiling above it and the next beam or
wall before it.
Why: a drill that does not fit in bores the pocket at another angle, and the screw comes out through the side.
Fix: bore the pockets on the bench before the piece goes up; drive with a long bit, a right-angle attachment or a
flexible shaft; move the row further from the wall.
Source: 10 in for a drill with its bit, 4 in for a right-angle attachment, 1 in from a chuck's axis to its outside:
common practice, no source.
"""

from lacunar.analysis import CHUCK, DRILL, PocketFit
from lacunar.checks.finding import Finding, Level
from lacunar.checks.pocket_breakout import named
from lacunar.checks.voice import Found, Voice, check, least_each, settle, tell_once
from lacunar.tolerances import CONTACT
from lacunar.units import INCH

ATTACHMENT = 4.0 * INCH
"""Free length for a right-angle attachment: with less nothing goes in. Source: common practice, no source."""


@check("driver-room", "common practice, no source", __doc__)
def check_driver_room(voice: Voice) -> Found:
    """Findings on the room for a drill under the ceiling."""
    pockets = voice.analysis.pockets
    if not pockets:
        return (voice.say("pass", "the ceiling", "no piece has a pocket"),)
    tightest, head = min(pockets, key=lambda one: one.free), min(one.head for one in pockets)
    ahead = [one for one in pockets if one.free < DRILL - CONTACT]
    above = [one for one in pockets if one.head < CHUCK - CONTACT]
    message = (
        f"at least {voice.length(min(tightest.free, DRILL))} are free before every pocket"
        f" and {voice.length(head)} above its axis"
    )
    passed = voice.say("pass", tightest.part, message, value=tightest.free, limit=DRILL)
    shut = [_ahead(voice, one) for one in least_each(ahead, lambda one: one.part, lambda one: one.free)]
    low = [_above(voice, one) for one in least_each(above, lambda one: one.part, lambda one: one.head)]
    return settle([*tell_once(shut, "pieces"), *tell_once(low, "pieces")], passed)


def room_level(pocket: PocketFit) -> int:
    """How bad it is: 0 for good, 1 for a warning, 2 for a failure."""
    return 2 if pocket.free < ATTACHMENT else int(pocket.free < DRILL - CONTACT or pocket.head < CHUCK - CONTACT)


def _ahead(voice: Voice, pocket: PocketFit) -> Finding:
    message = (
        f"only {voice.length(pocket.free)} is free before the {named(voice, pocket)}, a drill with its bit needs"
        f" {voice.length(DRILL)}"
    )
    level: Level = "warn"
    fix = "bore on the bench; drive with a right-angle attachment or a flexible shaft"
    if pocket.free < ATTACHMENT:
        level, fix = "fail", "bore that pocket from the other side face, or move the row"
    return voice.say(level, pocket.part, message, value=pocket.free, limit=DRILL, fix=fix)


def _above(voice: Voice, pocket: PocketFit) -> Finding:
    message = (
        f"only {voice.length(max(pocket.head, 0.0))} is free between the old ceiling and the axis of the"
        f" {named(voice, pocket)}, a chuck needs {voice.length(CHUCK)}"
    )
    lower = voice.at_least(CHUCK - pocket.head)
    fix = f"drive with a long bit, or lower the pockets by {lower} (cross_beams.joint.drop)"
    return voice.say("warn", pocket.part, message, value=pocket.head, limit=CHUCK, fix=fix)
