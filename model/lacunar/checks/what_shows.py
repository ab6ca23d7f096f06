"""What will be seen that nobody meant to show?

What: the narrowest strip of a ripped slat that the trim leaves in view; how much a tapered one tapers and how much
gaps open along their length; places wider than a gap that nothing covers; the old ceiling's colour, and bare
furring, in the gaps; plugged pockets; joints at walls.
Why: a strip under half a board, a taper beside a straight line and a pale gap are what the eye goes to first.
Fix: start from another side or centre the slats, fan instead of taper, paint the old ceiling flat black before the
slats go up, plug and stain pockets, scribe ends to the wall.
Source: taper and fan of 1/8 in, half a board, joints of 1/32 in: common practice, no source.
"""

from collections.abc import Iterator, Sequence

from lacunar.analysis import WIDER_SHOWS, RipView, SlatGap
from lacunar.checks.finding import Finding
from lacunar.checks.voice import Found, Voice, assumed_shape, check, least_each, settle
from lacunar.told import count
from lacunar.tolerances import CONTACT
from lacunar.units import INCH

JOINT_SHOWS = INCH / 32.0
"""A piece's end may stand so far off a wall. Source: common practice, no source."""


@check("what-shows", "common practice, no source", __doc__)
def check_what_shows(voice: Voice) -> Found:
    """Findings on what is seen from the floor."""
    rips, gaps = voice.analysis.rips, voice.analysis.slat_gaps
    found = [
        *voice.gather(_narrow(voice, rips)),
        *voice.gather(_tapered(voice, rips)),
        *_fanned(voice, gaps),
        *_bare(voice),
        *_colour(voice, gaps),
        *_plugs(voice),
        *_wall_joints(voice),
    ]
    return settle(found, _passed(voice, rips, gaps), assumed_shape(voice.subject))


def _narrow_limit(voice: Voice) -> float:
    """What is left in view of the narrowest rip that the config allows, beside its edge gap and behind the trim."""
    slats, trim = voice.config.slats, voice.config.trim
    return slats.narrowest_rip - max(trim.width - slats.edge_gap, 0.0)


def _narrow(voice: Voice, rips: Sequence[RipView]) -> Iterator[Finding]:
    limit = _narrow_limit(voice)
    for rip in rips:
        if rip.shown < limit - CONTACT:
            message = f"only {voice.length(rip.shown)} of it shows beside the trim"
            fix = 'start from another side (slats.from), or "centre" for two equal rips'
            yield voice.say("warn", rip.part, message, value=rip.shown, limit=limit, fix=fix)


def _tapered(voice: Voice, rips: Sequence[RipView]) -> Iterator[Finding]:
    fix = 'fan the gaps (slats.wedge = "fan"), or start from the other side so that the taper lies in the shade'
    for rip in rips:
        part, change = voice.part(rip.part), abs(rip.widths[1] - rip.widths[0])
        if part.width_end is not None and change > WIDER_SHOWS:
            ends = zip(map(voice.length, rip.widths), part.meets, strict=False)
            message = f"it shows {' and '.join(f'{width} at {owner}' for width, owner in ends)}"
            yield voice.say("warn", part.id, message, value=change, limit=WIDER_SHOWS, fix=fix)


def _fanned(voice: Voice, gaps: Sequence[SlatGap]) -> Iterator[Finding]:
    """One finding a coffer: the gap that opens most along its length."""
    open_gaps = (gap for gap in gaps if gap.opens > WIDER_SHOWS)
    for gap in least_each(open_gaps, lambda gap: gap.coffer, lambda gap: -gap.opens):
        low, high = voice.length(min(gap.widths)), voice.length(max(gap.widths))
        message = f"gaps open from {low} to {high} along the slats ({', '.join(gap.slats)})"
        fix = 'taper the last slat instead (slats.wedge = "taper")'
        yield voice.say("warn", gap.coffer, message, value=gap.opens, limit=WIDER_SHOWS, fix=fix)


def _bare(voice: Voice) -> Iterator[Finding]:
    for bare in voice.analysis.bare:
        places = "a bare place" if bare.count == 1 else f"{count(bare.count)} bare places"
        message = f"it has {places} up to {voice.length(bare.width)} wide that no slat covers"
        fix = "close it with a short slat, wider trim or a larger canopy"
        yield voice.say("warn", bare.coffer, message, value=bare.width, limit=bare.limit, fix=fix)


def _colour(voice: Voice, gaps: Sequence[SlatGap]) -> Iterator[Finding]:
    finish, gap = voice.config.finish, max((max(gap.widths) for gap in gaps), default=0.0)
    if gap <= CONTACT or (finish is not None and finish.behind):
        return
    shows = f"the old ceiling's colour shows in every gap of {voice.length(gap)}"
    message, paint = f"nothing is painted behind the slats, so {shows}", "it"
    if voice.subject.layout.furring is not None:
        message, paint = f"{message}, and the bare furring across it", "ceiling and furring"
    fix = f'paint {paint} flat black before the slats go up: finish.behind = "flat black"'
    level = "warn" if finish is not None else "ask"
    yield voice.say(level, "finish.behind", message, value=gap, limit=0.0, fix=fix)


def _plugs(voice: Voice) -> Iterator[Finding]:
    low = [pocket for pocket in voice.analysis.pockets if pocket.fate == "plugged"]
    if low:
        bore = voice.length(voice.part(low[0].part).pockets[low[0].index].bore)
        pieces = len({pocket.part for pocket in low})
        message = f"the mouths of {len(low)} low pockets in {pieces} pieces show below the trim, each {bore} wide"
        fix = "glue in plugs, grain along the piece, and stain them, or do without (cross_beams.joint.low = 0)"
        yield voice.say("warn", "cross_beams.joint.low", message, value=len(low), limit=0, unit="count", fix=fix)


def _wall_joints(voice: Voice) -> Iterator[Finding]:
    open_joints = [
        (beam.part, owner, gap)
        for beam in voice.analysis.beams
        for side in beam.sides
        for owner, gap in zip(voice.part(beam.part).meets, side.gaps, strict=False)
        if owner in voice.subject.room.walls and gap > JOINT_SHOWS + CONTACT
    ]
    for part, owner, gap in least_each(open_joints, lambda joint: joint[0], lambda joint: -joint[2]):
        message = f"its end at {owner} stands {voice.length(gap)} off the wall"
        fix = "scribe the end to the wall, or fill the joint"
        yield voice.say("warn", part, message, value=gap, limit=JOINT_SHOWS, fix=fix)


def _passed(voice: Voice, rips: Sequence[RipView], gaps: Sequence[SlatGap]) -> Finding:
    opens = max((gap.opens for gap in gaps), default=0.0)
    tail = f"gaps open by {voice.length(opens)} at most along the slats"
    if not rips:
        return voice.say("pass", "the ceiling", f"no slat is ripped; {tail}", value=opens, limit=WIDER_SHOWS)
    narrow = min(rips, key=lambda rip: min(rip.widths))
    shown = min(narrow.widths)
    message = f"the narrowest of {len(rips)} ripped slats shows {voice.length(shown)}; {tail}"
    return voice.say("pass", narrow.part, message, value=shown, limit=_narrow_limit(voice))
