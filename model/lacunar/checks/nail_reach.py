"""Does every nail reach wood, and does every slat hang on enough of it?

What: the joists or strips of furring that each slat's nails really hit, counted anew from the nails' places; the joists
that each strip of furring is screwed to; nails too near an end; what of a nail or a screw is left for what holds it.
Why: a nail that ends in plaster holds until the first dry winter, over somebody's head.
Fix: find the joists and write them in framing.joists; furring across them where slats run along them; longer nails, or
shorter ones where they would come out of the furring.
Source: six diameters, NDS 2018 12.1.6 (nails) and 12.1.4 (screws), both from memory; 3/4 in of a nail in a joist,
1/2 in in furring, 1 in of a screw; two joists or strips to a slat, nails 1 in from its ends: common practice, no
source.
"""

from lacunar.checks.finding import Finding, Level
from lacunar.checks.nail_depth import depths, nail_depth, old_ceiling
from lacunar.checks.nailed import Nailed, Screwed, bearer_spacing, nailed_slats, screwed_strips
from lacunar.checks.subject import Subject
from lacunar.checks.voice import Voice, assumed_joists, coffers_of, gather, settle
from lacunar.layout import ENOUGH
from lacunar.materials import find_old_ceiling
from lacunar.tolerances import CONTACT

NAME = "nail-reach"
SOURCE = (
    "NDS 2018 12.1.6 and 12.1.4, from memory; two joists or strips to a slat, 3/4 in into a joist, 1/2 in into furring,"
    " 1 in of a screw: common practice, no source"
)

FURRING = (
    'nail furring across the joists first (furring.use = true), or let the slats run across them (slats.run = "joists")'
)


def check_nail_reach(subject: Subject) -> tuple[Finding, ...]:
    """Findings on nails and what they reach."""
    voice = Voice(check=NAME, source=SOURCE, subject=subject)
    slats = nailed_slats(subject)
    if not slats:
        return (voice.say("pass", "the ceiling", "there is no slat to nail", unit="count"),)
    coffers, spacing = coffers_of(subject), bearer_spacing(subject)
    missed = [finding for slat in slats if (finding := _caught(voice, slat, spacing)) is not None]
    at_ends = [finding for slat in slats if (finding := _near_end(voice, slat)) is not None]
    loose = [finding for strip in screwed_strips(subject) if (finding := _screwed(voice, strip)) is not None]
    caught = settle(
        [*gather(missed, coffers), *gather(loose, coffers), *gather(at_ends, coffers)],
        _passed(voice, slats),
        assumed_joists(subject),
    )
    found = [*(finding for finding in caught if finding.level != "pass"), *depths(voice), *_brittle(voice)]
    return (*_chosen(voice), *(tuple(found) or caught))


def _caught(voice: Voice, slat: Nailed, spacing: float) -> Finding | None:
    """Too few joists: nothing holds it, or a long end hangs free; on assumed joists a question."""
    count = len(slat.caught)
    if count >= ENOUGH:
        return None
    catches = "catches none" if count == 0 else f"catches one, {voice.length(slat.free)} of it hang free"
    level: Level = "fail" if count == 0 or slat.free > spacing + CONTACT else "warn"
    if voice.subject.layout.furring is not None:
        message = f"of the strips of furring it {catches}"
        fix = "put one more strip of furring where it hangs free, screwed to the joists"
        return voice.say(level, slat.part.id, message, value=count, limit=ENOUGH, unit="count", fix=fix)
    assumed = voice.subject.layout.joists.assumed
    where = "it runs along the joists" if slat.along else "it crosses the joists"
    message = f"{where}{', as they are assumed to lie,' if assumed else ''} and {catches}"
    fix = FURRING
    if assumed:
        level = "ask"
        fix = f"find the joists and write framing.joists; else {FURRING}"
    return voice.say(level, slat.part.id, message, value=count, limit=ENOUGH, unit="count", fix=fix)


def _screwed(voice: Voice, strip: Screwed) -> Finding | None:
    """A strip of furring on too few joists, or on too few screws under its one joist."""
    if strip.holds >= ENOUGH:
        return None
    assumed = voice.subject.layout.joists.assumed
    what = "place under its joist" if strip.under_joist else "joist"
    lie = ", as they are assumed to lie" if assumed and not strip.under_joist else ""
    held = f"it is screwed to {('no', 'one')[strip.holds]} {what}{lie}"
    fix = "fix blocking between the joists above it, or let the slats of this coffer run across the joists"
    if assumed:
        fix = f"find the joists and write framing.joists; else {fix}"
    level: Level = "ask" if assumed else "fail"
    return voice.say(level, strip.part.id, held, value=strip.holds, limit=ENOUGH, unit="count", fix=fix)


def _near_end(voice: Voice, slat: Nailed) -> Finding | None:
    least = voice.subject.layout.nailing.from_end
    if not slat.part.nails or slat.from_end >= least - CONTACT:
        return None
    message = f"a nail stands {voice.length(slat.from_end)} from its end, {voice.length(least)} is the least: it splits"
    fix = "move the nail along the slat, or drill for it"
    return voice.say("warn", slat.part.id, message, value=slat.from_end, limit=least, fix=fix)


def _brittle(voice: Voice) -> list[Finding]:
    kind, _, _ = old_ceiling(voice.subject)
    known = find_old_ceiling(kind)
    if known is None or not known.brittle:
        return []
    message = f"{kind} may be loose: nailing through it can bring it down, and what hangs on it"
    fix = "press it with the hand along every joist; screw loose places back with plaster washers, or take it down"
    return [voice.say("ask", "framing.old_ceiling", message, unit="", fix=fix)]


def _chosen(voice: Voice) -> tuple[Finding, ...]:
    """That there is furring, and why, where nobody asked for it."""
    furring = voice.subject.layout.furring
    if furring is None or not furring.missed:
        return ()
    names = voice.subject.layout.coffers_named(furring.missed)
    message = f'furring in every coffer (furring.use is "auto"): slats of {names} run along the joists and miss them'
    return (voice.say("pass", "furring.use", message, unit=""),)


def _passed(voice: Voice, slats: tuple[Nailed, ...]) -> Finding:
    fewest = min(slats, key=lambda slat: len(slat.caught))
    what = "joists" if voice.subject.layout.furring is None else "strips of furring"
    depth = voice.length(nail_depth(voice.subject))
    message = f"every slat catches {len(fewest.caught)} {what} or more, each nail {depth} deep"
    return voice.say("pass", fewest.part.id, message, value=len(fewest.caught), limit=ENOUGH, unit="count")
