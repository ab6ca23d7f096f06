"""Does every nail reach wood, and does every slat hang on enough of it?

What: the joists that each slat's nails really hit, counted anew from the nails' places; nails too near an end; what
of a nail is left for the joist after slat and old ceiling.
Why: a nail that ends in plaster holds until the first dry winter, over somebody's head.
Fix: find the joists and write them in framing.joists; furring across them where slats run along them or miss;
longer nails.
Source: six diameters, NDS 2018 12.1.6 (from memory), and 3/4 in whatever the nail; two joists to a slat, nails 1 in
from its ends: common practice, no source.
"""

from lacunar.checks.finding import Finding, Level
from lacunar.checks.nailed import Nailed, joist_spacing, nailed_slats
from lacunar.checks.subject import Subject
from lacunar.checks.voice import Voice, assumed_joists, coffers_of, gather, settle
from lacunar.materials import DEFAULT_OLD_CEILING, LEAST_PENETRATION, find_old_ceiling, nail_diameter
from lacunar.tolerances import CONTACT
from lacunar.units import INCH

NAME = "nail-reach"
SOURCE = "NDS 2018 12.1.6, from memory; two joists to a slat and 3/4 in into each: common practice, no source"

LEAST_DEPTH = 0.75 * INCH
"""Of a finish nail in a joist overhead. Source: common practice, no source."""

ENOUGH = 2
"""Joists that a slat must catch. Source: common practice, no source."""

FURRING = (
    'nail furring across the joists first (furring.use = true), or let the slats run across them (slats.run = "joists")'
)


def check_nail_reach(subject: Subject) -> tuple[Finding, ...]:
    """Findings on nails and what they reach."""
    voice = Voice(check=NAME, source=SOURCE, subject=subject)
    slats = nailed_slats(subject)
    if not slats:
        return (voice.say("pass", "the ceiling", "there is no slat to nail", unit="count"),)
    coffers, spacing = coffers_of(subject), joist_spacing(subject)
    missed = [finding for slat in slats if (finding := _caught(voice, slat, spacing)) is not None]
    at_ends = [finding for slat in slats if (finding := _near_end(voice, slat)) is not None]
    caught = settle(
        [*gather(missed, coffers), *gather(at_ends, coffers)], _passed(voice, slats), assumed_joists(subject)
    )
    found = [*(finding for finding in caught if finding.level != "pass"), *_depth(voice), *_brittle(voice)]
    return tuple(found) or caught


def depth_in_joist(subject: Subject) -> float:
    """What of a nail is left for the joist."""
    return subject.config.fasteners.slat.length - subject.layout.slat.thickness - old_ceiling(subject)[1]


def old_ceiling(subject: Subject) -> tuple[str, float, bool]:
    """Kind and thickness of the old ceiling, and whether both are given."""
    given = subject.config.framing.old_ceiling
    if given is None:
        return DEFAULT_OLD_CEILING.kind, DEFAULT_OLD_CEILING.thickness, False
    return given.kind, given.thickness, subject.config.is_given("framing.old_ceiling.thickness")


def least_depth(subject: Subject) -> float:
    """What a nail must have in the joist."""
    return max(LEAST_DEPTH, LEAST_PENETRATION * nail_diameter(subject.config.fasteners.slat.gauge))


def _caught(voice: Voice, slat: Nailed, spacing: float) -> Finding | None:
    """Too few joists: nothing holds it, or a long end hangs free; on assumed joists a question."""
    count = len(slat.joists)
    if count >= ENOUGH:
        return None
    assumed = voice.subject.layout.joists.assumed
    where = "it runs along the joists" if slat.along else "it crosses the joists"
    catches = "catches none" if count == 0 else f"catches one, {voice.length(slat.free)} of it hang free"
    message = f"{where}{', as they are assumed to lie,' if assumed else ''} and {catches}"
    level: Level = "fail" if count == 0 or slat.free > spacing + CONTACT else "warn"
    fix = FURRING
    if assumed:
        level = "ask"
        fix = f"find the joists and write framing.joists; else {FURRING}"
    return voice.say(level, slat.part.id, message, value=count, limit=ENOUGH, unit="count", fix=fix)


def _near_end(voice: Voice, slat: Nailed) -> Finding | None:
    least = voice.subject.layout.nailing.from_end
    if not slat.part.nails or slat.from_end >= least - CONTACT:
        return None
    message = f"a nail stands {voice.length(slat.from_end)} from its end, {voice.length(least)} is the least: it splits"
    fix = "move the nail along the slat, or drill for it"
    return voice.say("warn", slat.part.id, message, value=slat.from_end, limit=least, fix=fix)


def _depth(voice: Voice) -> list[Finding]:
    subject = voice.subject
    depth, limit = depth_in_joist(subject), least_depth(subject)
    kind, thickness, known = old_ceiling(subject)
    nail = subject.config.fasteners.slat
    through = f"through {voice.length(subject.layout.slat.thickness)} slat and {voice.length(thickness)} {kind}"
    where = "fasteners.slat.length"
    left = (
        f"{voice.length(depth)} of it reach the joist"
        if depth > 0.0
        else f"it ends {voice.length(-depth)} before the joist"
    )
    if depth < limit - CONTACT:
        message = f"a nail of {voice.length(nail.length)} goes {through}: {left}, {voice.length(limit)} is the least"
        fix = f"take nails {voice.at_least(limit - depth)} longer"
        return [voice.say("fail" if known else "ask", where, message, value=depth, limit=limit, fix=fix)]
    if known:
        return []
    message = f"{left}, if the old ceiling is {voice.length(thickness)} {kind} as assumed"
    fix = "measure the old ceiling at a hole for a lamp and write framing.old_ceiling"
    return [voice.say("ask", "framing.old_ceiling", message, value=depth, limit=limit, fix=fix)]


def _brittle(voice: Voice) -> list[Finding]:
    kind, _, _ = old_ceiling(voice.subject)
    known = find_old_ceiling(kind)
    if known is None or not known.brittle:
        return []
    message = f"{kind} may be loose: nailing through it can bring it down, and what hangs on it"
    fix = "press it with the hand along every joist; screw loose places back with plaster washers, or take it down"
    return [voice.say("ask", "framing.old_ceiling", message, unit="", fix=fix)]


def _passed(voice: Voice, slats: tuple[Nailed, ...]) -> Finding:
    fewest = min(slats, key=lambda slat: len(slat.joists))
    depth = depth_in_joist(voice.subject)
    message = f"every slat catches {len(fewest.joists)} joists or more, each nail {voice.length(depth)} deep"
    return voice.say("pass", fewest.part.id, message, value=len(fewest.joists), limit=ENOUGH, unit="count")
