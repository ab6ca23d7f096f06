"""Does every nail reach wood, and does every slat hang on enough of it?

What: the joists or strips of furring that each slat's nails really hit, counted anew from the nails' places; how far
apart nails are along a slat, and how far it reaches past the last; the same of the screws of each strip of furring;
nails too near an end; what of a nail or a screw is left for what holds it.
Why: a nail that ends in plaster holds until the first dry winter, over somebody's head; a long end that hangs free sags
and bangs.
Limits: two neighbouring nails along a board up to 25 in apart pass (joists 24 in or 625 mm apart are common), up to
32 in are a warning (one joist of 16 in spacing is missed), more fails. An end that reaches past the last nail passes up
to 18 in (joists 16 in apart, the next too near the end to be nailed into), is a warning up to 26 in (joists 24 in
apart), and fails beyond. On one joist alone a slat passes with two nails and ends of up to 8 in, is a warning with one
nail or ends of up to 12 in, and fails beyond; on none it fails. Strips of furring have the same limits, times their
thickness over 3/4 in where they are thicker, and need two joists.
Fix: find the joists and write them in framing.joists; furring across them where slats run along them; longer nails, or
shorter ones where they would come out of the furring.
Source: six diameters, NDS 2018 12.1.6 (nails) and 12.1.4 (screws), both from memory; boards of 3/4 in on joists up to
24 in apart, IRC Table R503.1, from memory; a beam sags alike for its span where its span goes with its thickness;
3/4 in of a nail in a joist, 1/2 in in furring, 1 in of a screw; nails 1 in from a slat's ends; all other distances:
common practice, no source.
"""

from collections.abc import Iterator

from lacunar.analysis import NailedSlat, ScrewedStrip
from lacunar.checks.finding import Finding
from lacunar.checks.nail_depth import depths, old_ceiling
from lacunar.checks.nail_fixes import hold_fix
from lacunar.checks.nail_grip import Weak, weak_slat, weak_strip
from lacunar.checks.voice import Assumption, Found, Voice, check, grouped, settle
from lacunar.layout import ENOUGH
from lacunar.materials import find_old_ceiling
from lacunar.parts import end_name
from lacunar.tolerances import CONTACT

SOURCE = (
    "NDS 2018 12.1.6 and 12.1.4, IRC Table R503.1, from memory; two joists or strips to a slat, nails and ends as far"
    " apart, 3/4 in into a joist, 1/2 in into furring, 1 in of a screw: common practice, no source"
)


@check("nail-reach", SOURCE, __doc__)
def check_nail_reach(voice: Voice) -> Found:
    """Findings on nails and what they reach."""
    slats = voice.analysis.nailed
    if not slats:
        return (voice.say("pass", "the ceiling", "there is no slat to nail", unit="count"),)
    bad = [*_held(voice, slats), *voice.gather(_near_ends(voice, slats))]
    joists = Assumption(taken="where the joists are", fix="find the joists and write framing.joists")
    caught = settle(bad, _passed(voice, slats), [joists] if voice.subject.layout.joists.assumed else [])
    found = [*(finding for finding in caught if finding.level != "pass"), *depths(voice), *_brittle(voice)]
    return (*_chosen(voice), *(tuple(found) or caught))


def _held(voice: Voice, slats: tuple[NailedSlat, ...]) -> Iterator[Finding]:
    """Slats and strips that too little holds, like beside like."""
    strips, assumed = voice.analysis.screwed, voice.subject.layout.joists.assumed
    # Strips across the joists lie where they are put; all else lies where the joists do.
    asked = assumed and not (strips and not any(strip.under_joist for strip in strips))
    weak = [(asked, s.part, one, _slat_words(voice, s, one)) for s in slats for one in weak_slat(s)]
    weak += [(assumed, s.part, one, _strip_words(voice, s, one)) for s in strips for one in weak_strip(s)]
    fix = hold_fix(voice) if weak else ""
    alike = grouped(weak, lambda item: (voice.part(item[1]).kind, item[2].kind))
    for group in alike.values():
        yield from voice.gather([_said(voice, *item, fix) for item in group])


def _said(voice: Voice, asked: bool, part: str, weak: Weak, message: str, fix: str) -> Finding:
    return voice.say(
        "ask" if asked else weak.level,
        part,
        message,
        value=weak.value,
        limit=weak.limit,
        unit="count" if weak.kind == "hold" else "mm",
        fix=f"find the joists and write framing.joists; else {fix}" if asked else fix,
    )


def _slat_words(voice: Voice, slat: NailedSlat, weak: Weak) -> str:
    if voice.subject.layout.furring is not None:
        where, what = "", "strip of furring"
    else:
        assumed = ", as they are assumed to lie," if voice.subject.layout.joists.assumed else ""
        where, what = f"it runs {'along' if slat.along else 'across'} the joists{assumed} and ", "joist"
    if weak.kind == "hold":
        return f"{where}catches {f'one {what} with one nail: it can turn' if weak.value else f'no {what}'}"
    alone = f" on one {what} alone" if len(slat.caught) == 1 else ""
    return f"{where}{_too_far(voice, weak, 'nail', alone)}"


def _strip_words(voice: Voice, strip: ScrewedStrip, weak: Weak) -> str:
    if weak.kind != "hold":
        return _too_far(voice, weak, "screw", "")
    assumed = voice.subject.layout.joists.assumed and not strip.under_joist
    what = "place under its joist" if strip.under_joist else "joist"
    lie = ", as they are assumed to lie" if assumed else ""
    return f"it is screwed to {('no', 'one')[strip.holds]} {what}{lie}"


def _too_far(voice: Voice, weak: Weak, what: str, alone: str) -> str:
    found, limit = voice.length(weak.value), voice.length(weak.limit)
    most = f"{limit} {'is the most' if weak.level == 'fail' else 'is usual'}{alone}"
    if weak.kind == "apart":
        return f"two {what}s stand {found} apart along it: {most}"
    return f"{found} of it hang free past its last {what}: {most}"


def _near_ends(voice: Voice, slats: tuple[NailedSlat, ...]) -> Iterator[Finding]:
    least = voice.subject.layout.nailing.from_end
    for slat in slats:
        off, part = slat.from_end, voice.part(slat.part)
        if off is None or off >= least - CONTACT:
            continue
        stands = f"a nail stands {voice.length(off)} from the {end_name(part, slat.nearest_end or 0)}"
        message = f"{stands}, {voice.length(least)} is the least: it splits"
        fix = "drill for it: what it goes into is not wide enough to move it"
        yield voice.say("warn", part.id, message, value=off, limit=least, fix=fix)


def _brittle(voice: Voice) -> Iterator[Finding]:
    kind, _ = old_ceiling(voice.config)
    known = find_old_ceiling(kind)
    if known is not None and known.brittle:
        message = f"{kind} may be loose: nailing through it can bring it down, and what hangs on it"
        fix = "press it with the hand along every joist; screw loose places back with plaster washers, or take it down"
        yield voice.say("ask", "framing.old_ceiling", message, unit="", fix=fix)


def _chosen(voice: Voice) -> Iterator[Finding]:
    """That there is furring, and why, where nobody asked for it."""
    layout = voice.subject.layout
    if layout.furring is not None and layout.furring.missed:
        names = layout.coffers_named(layout.furring.missed)
        message = (
            f'furring in every coffer (furring.use is "auto"): slats of {names} run along the joists and miss them'
        )
        yield voice.say("pass", "furring.use", message, unit="")


def _passed(voice: Voice, slats: tuple[NailedSlat, ...]) -> Finding:
    """The slat that the fewest hold, and of those the one that reaches farthest past its nails."""
    least = min(slats, key=lambda slat: (len(slat.caught), -slat.grip.free))
    what = "joists" if voice.subject.layout.furring is None else "strips of furring"
    depth = voice.length(voice.analysis.depths[0].depth)
    apart, free = (max(getattr(slat.grip, way) for slat in slats) for way in ("apart", "free"))
    message = (
        f"every slat catches {len(least.caught)} {what} or more, each nail {depth} deep; nails stand up to"
        f" {voice.length(apart)} apart, ends reach up to {voice.length(free)} past them"
    )
    return voice.say("pass", least.part, message, value=len(least.caught), limit=ENOUGH, unit="count")
