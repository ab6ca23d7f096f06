"""What will be seen that nobody meant to show?

What: the narrowest strip of a ripped slat that the trim leaves in view; how much a tapered one tapers and how much
gaps open along their length; places wider than a gap that nothing covers; the old ceiling's colour, and bare
furring, in the gaps; plugged pockets; joints at walls.
Why: a strip under half a board, a taper beside a straight line and a pale gap are what the eye goes to first.
Fix: start from another side or centre the slats, fan instead of taper, paint the old ceiling flat black before the
slats go up, plug and stain pockets, scribe ends to the wall.
Source: taper and fan of 1/8 in, half a board, joints of 1/32 in: common practice, no source.
"""

from lacunar.checks.finding import Finding
from lacunar.checks.openings import side_fits
from lacunar.checks.slat_gaps import Gap, Strip, bare_places, reach_of, seen_strip, slat_gaps
from lacunar.checks.subject import Subject
from lacunar.checks.voice import Voice, assumed_shape, coffers_of, gather, settle
from lacunar.layout import Coffer
from lacunar.parts import Part
from lacunar.tolerances import CONTACT
from lacunar.units import INCH

NAME = "what-shows"
SOURCE = "common practice, no source"

TAPER_SHOWS = INCH / 8.0
"""A slat or gap whose width changes by more along its length is seen to. Source: common practice, no source."""

JOINT_SHOWS = INCH / 32.0
"""A piece's end may stand so far off a wall. Source: common practice, no source."""


def check_what_shows(subject: Subject) -> tuple[Finding, ...]:
    """Findings on what is seen from the floor."""
    voice = Voice(check=NAME, source=SOURCE, subject=subject)
    strips = [strip for part in _ripped(subject) if (strip := seen_strip(subject, part)) is not None]
    gaps = slat_gaps(subject)
    coffers = coffers_of(subject)
    found = [
        *gather(_narrow(voice, strips), coffers),
        *gather(_tapered(voice, strips), coffers),
        *_fanned(voice, gaps),
        *_bare(voice),
        *_colour(voice, gaps),
        *_plugs(voice),
        *_wall_joints(voice),
    ]
    return settle(found, _passed(voice, strips, gaps), assumed_shape(subject))


def _ripped(subject: Subject) -> list[Part]:
    return [part for part in subject.of_kind("slat") if part.ripped]


def _narrow_limit(subject: Subject) -> float:
    """What is left in view of the narrowest rip that the config allows, beside its edge gap and behind the trim."""
    slats, trim = subject.config.slats, subject.config.trim
    return slats.narrowest_rip - max(trim.width - slats.edge_gap, 0.0)


def _narrow(voice: Voice, strips: list[Strip]) -> list[Finding]:
    limit = _narrow_limit(voice.subject)
    found: list[Finding] = []
    angled = {coffer.id for coffer in voice.subject.layout.coffers if coffer.cut_to_shape}
    for strip in strips:
        shown = strip.widest if strip.part.coffer in angled else min(strip.widths)
        if shown < limit - CONTACT:
            message = f"only {voice.length(shown)} of it shows beside the trim"
            fix = 'start from another side (slats.from), or "centre" for two equal rips'
            found.append(voice.say("warn", strip.part.id, message, value=shown, limit=limit, fix=fix))
    return found


def _tapered(voice: Voice, strips: list[Strip]) -> list[Finding]:
    found: list[Finding] = []
    for strip in strips:
        if strip.part.width_end is None:
            continue
        change = abs(strip.widths[1] - strip.widths[0])
        if change > TAPER_SHOWS:
            message = (
                f"it shows {voice.length(strip.widths[0])} at {strip.part.meets[0]} and {voice.length(strip.widths[1])}"
                f" at {strip.part.meets[1]}"
            )
            fix = 'fan the gaps (slats.wedge = "fan"), or start from the other side so that the taper lies in the shade'
            found.append(voice.say("warn", strip.part.id, message, value=change, limit=TAPER_SHOWS, fix=fix))
    return found


def _fanned(voice: Voice, gaps: tuple[Gap, ...]) -> list[Finding]:
    """One finding a coffer: the gap that opens most along its length."""
    worst: dict[str, Gap] = {}
    for gap in gaps:
        if _opens(gap) > TAPER_SHOWS and _opens(gap) > _opens(worst.get(gap.coffer)):
            worst[gap.coffer] = gap
    found: list[Finding] = []
    for coffer, gap in worst.items():
        message = (
            f"gaps open from {voice.length(min(gap.widths))} to {voice.length(max(gap.widths))} along the slats"
            f" ({gap.first.id}, {gap.second.id})"
        )
        fix = 'taper the last slat instead (slats.wedge = "taper")'
        found.append(voice.say("warn", coffer, message, value=_opens(gap), limit=TAPER_SHOWS, fix=fix))
    return found


def _opens(gap: Gap | None) -> float:
    return abs(gap.widths[1] - gap.widths[0]) if gap is not None else 0.0


def _widest(coffer: Coffer) -> float:
    """The widest gap that is meant in a coffer, and as much more as nobody sees."""
    return max(coffer.gap, coffer.gap_end) + TAPER_SHOWS


def _bare(voice: Voice) -> list[Finding]:
    subject = voice.subject
    found: list[Finding] = []
    for coffer in subject.layout.coffers:
        widest = _widest(coffer)
        cores = bare_places(subject, coffer, widest)
        if not cores:
            continue
        width = max(reach_of(core, widest) for core in cores)
        places = "a bare place" if len(cores) == 1 else f"{len(cores)} bare places"
        message = f"it has {places} up to {voice.length(width)} wide that no slat covers"
        fix = "close it with a short slat, wider trim or a larger canopy"
        found.append(voice.say("warn", coffer.id, message, value=width, limit=widest, fix=fix))
    return found


def _colour(voice: Voice, gaps: tuple[Gap, ...]) -> list[Finding]:
    config = voice.subject.config
    if not gaps or (config.finish is not None and config.finish.behind):
        return []
    gap = max(max(gap.widths) for gap in gaps)
    if gap <= CONTACT:
        return []
    message = (
        f"nothing is painted behind the slats, so the old ceiling's colour shows in every gap of {voice.length(gap)}"
    )
    fix = 'paint it flat black before the slats go up: finish.behind = "flat black"'
    if voice.subject.layout.furring is not None:
        message += ", and the bare furring across it"
        fix = 'paint ceiling and furring flat black before the slats go up: finish.behind = "flat black"'
    level = "warn" if config.finish is not None else "ask"
    return [voice.say(level, "finish.behind", message, value=gap, limit=0.0, fix=fix)]


def _plugs(voice: Voice) -> list[Finding]:
    low = [(part, pocket) for part in voice.subject.parts for pocket in part.pockets if pocket.level == "low"]
    if not low:
        return []
    bore = low[0][1].bore
    pieces = len({part.id for part, _ in low})
    message = (
        f"the mouths of {len(low)} low pockets in {pieces} pieces show below the trim, each {voice.length(bore)} wide"
    )
    fix = "glue in plugs, grain along the piece, and stain them, or do without (cross_beams.joint.low = 0)"
    return [voice.say("warn", "cross_beams.joint.low", message, value=len(low), limit=0, unit="count", fix=fix)]


def _wall_joints(voice: Voice) -> list[Finding]:
    walls = voice.subject.room.walls
    worst: dict[str, Finding] = {}
    for fit in side_fits(voice.subject):
        for end, gap in enumerate(fit.gaps):
            owner = fit.part.meets[end] if len(fit.part.meets) > end else ""
            if owner not in walls or gap <= JOINT_SHOWS + CONTACT:
                continue
            before = worst.get(fit.part.id)
            if before is None or gap > (before.value or 0.0):
                message = f"its end at {owner} stands {voice.length(gap)} off the wall"
                fix = "scribe the end to the wall, or fill the joint"
                worst[fit.part.id] = voice.say("warn", fit.part.id, message, value=gap, limit=JOINT_SHOWS, fix=fix)
    return list(worst.values())


def _passed(voice: Voice, strips: list[Strip], gaps: tuple[Gap, ...]) -> Finding:
    opens = max((_opens(gap) for gap in gaps), default=0.0)
    tail = f"gaps open by {voice.length(opens)} at most along the slats"
    if not strips:
        return voice.say("pass", "the ceiling", f"no slat is ripped; {tail}", value=opens, limit=TAPER_SHOWS)
    narrow = min(strips, key=lambda strip: min(strip.widths))
    message = f"the narrowest of {len(strips)} ripped slats shows {voice.length(min(narrow.widths))}; {tail}"
    return voice.say("pass", narrow.part.id, message, value=min(narrow.widths), limit=_narrow_limit(voice.subject))
