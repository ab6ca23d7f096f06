"""Is the old ceiling level and flat, and what does it do to beams, furring and slats?

What: from the highest to the lowest height; twist of four corners; how far the middle hangs below or stands above
the corners; at both ends and half way of each beam that goes up, the gap above its bought section or what is scribed
off it; for each coffer the gap that stays open above its slats or furring, which hang on a plane of their own, and the
shims that it takes; for each beam how much lower slats and trim hang on one side of it than on the other.
Why: beams and slats are straight and an old ceiling is not. What is known before the wood is cut is planed, shimmed
or hidden; what is found on the ladder shows.
Fix: measure heights at every corner, in the middle and at marks along long walls; scribe or shim what is named.
Source: triangles between the measured heights, the highest plane under them over each coffer; 1/8 in over the room:
common practice, no source.
"""

from collections.abc import Iterator, Sequence

from lacunar.checks.finding import Finding
from lacunar.checks.voice import Assumption, Found, Voice, check, settle, tell_once
from lacunar.survey import Heights, describe_heights
from lacunar.units import INCH

FLAT = INCH / 8.0
"""A ceiling is level, flat and straight within so much over the room. Source: common practice, no source."""

SHIM = "hang the slats, or the furring, of each coffer on the plane of its own, with shims where it stays open above"


@check("ceiling-level", "triangles between the measured heights; common practice, no source", __doc__)
def check_ceiling_level(voice: Voice) -> Found:
    """Findings on the measured heights."""
    room, given = voice.subject.room, voice.config.room.heights
    if not given:
        message = f"one height was given, {voice.length(room.centre[2])}: the ceiling is taken as level and flat"
        fix = "measure from the floor to the ceiling at every corner and in the middle, and write room.heights"
        return (voice.say("ask", "room.height", message, limit=FLAT, fix=fix),)
    heights = describe_heights(room)
    found = [
        *_heights(voice, heights),
        *tell_once(_beams(voice), "beams and pieces"),
        *tell_once(_gaps(voice), "coffers"),
        *tell_once(_steps(voice), "pairs of coffers"),
    ]
    centre = Assumption(taken="the middle does not sag", fix="measure the height in the middle: heights.centre")
    return settle(found, _passed(voice, heights), [] if "centre" in given else [centre])


def _heights(voice: Voice, heights: Heights) -> Iterator[Finding]:
    """The ceiling as a whole: level, twist and sag."""
    if heights.fall > FLAT:
        towards = f"; on the whole it falls towards {heights.falls}" if heights.falls else ""
        message = f"it is {voice.length(heights.fall)} lower at {heights.lowest} than at {heights.highest}{towards}"
        fix = "set out from the ceiling, not from a level line, or fur it level"
        yield voice.say("warn", heights.lowest, message, value=heights.fall, limit=FLAT, fix=fix)
    twist = heights.twist or 0.0
    if abs(twist) > FLAT:
        a, b, c, d = voice.subject.room.corners
        over, under = (a + c, b + d) if twist > 0.0 else (b + d, a + c)
        message = f"it is twisted: the middle of {over} lies {voice.length(abs(twist))} above that of {under}"
        yield voice.say("warn", "the ceiling", message, value=abs(twist), limit=FLAT, fix=SHIM)
    if abs(heights.sag) > FLAT:
        how, side = ("sags: its middle hangs", "below") if heights.sag > 0.0 else ("arches: its middle stands", "above")
        message = f"it {how} {voice.length(abs(heights.sag))} {side} the mean of the corners"
        yield voice.say("warn", "the ceiling", message, value=abs(heights.sag), limit=FLAT, fix=SHIM)


def _beams(voice: Voice) -> Iterator[Finding]:
    """One finding for each beam that goes up and does not meet the ceiling within the limit."""
    for beam in voice.analysis.beams:
        most, meets = max(beam.above, key=abs, default=0.0), voice.part(beam.part).meets
        if abs(most) > FLAT:
            first, middle, last = (_room_words(voice, over) for over in beam.above)
            message = f"above its section: {first} at {meets[0]}, {middle} half way, {last} at {meets[1]}"
            scribe = "scribe its top to the ceiling, or plane it"
            fix = "hide the gap with the trim, or shim between beam and ceiling" if most > 0.0 else scribe
            yield voice.say("warn", beam.part, message, value=abs(most), limit=FLAT, fix=fix)


def _room_words(voice: Voice, over: float) -> str:
    if abs(over) < voice.mark / 2.0:
        return "tight"
    return f"{voice.length(abs(over))} {'gap' if over > 0.0 else 'to scribe off'}"


def _gaps(voice: Voice) -> Iterator[Finding]:
    """One finding for each coffer whose slats or furring do not lie against the ceiling within the limit."""
    hang, fixed = ("slats hang", "they are") if voice.subject.layout.furring is None else ("furring hangs", "it is")
    for gap, place in zip(voice.analysis.gaps, voice.analysis.gap_places, strict=True):
        if gap.largest > FLAT:
            message = (
                f"its {hang} on one plane, up to {voice.length(gap.largest)} under the old ceiling"
                f" {_place(place.beside)}, {voice.length(gap.mean)} on average"
            )
            fix = f"put shims of up to {voice.length(gap.shim)} behind its {hang.split()[0]} where {fixed} fixed"
            yield voice.say("warn", gap.coffer, message, value=gap.largest, limit=FLAT, fix=fix)


def _place(beside: Sequence[str]) -> str:
    """Where in a coffer that is, in words."""
    if len(beside) > 1:
        return f"in the corner of {beside[0]} and {beside[1]}"
    return f"beside {beside[0]}" if beside else "in its middle"


def _steps(voice: Voice) -> Iterator[Finding]:
    """One finding for each pair of coffers that hang at different heights on both sides of a beam."""
    for step in voice.analysis.steps:
        if step.size > FLAT:
            size = voice.length(step.size)
            message = f"slats and trim hang {size} lower beside it in {step.lower} than in {step.higher}"
            fix = f"leave it, since the beam stands between them, or hang {step.higher} lower on thicker shims"
            yield voice.say("warn", step.bar, message, value=step.size, limit=FLAT, fix=fix)


def _passed(voice: Voice, heights: Heights) -> Finding:
    count = len(heights.points) - ("centre" not in voice.config.room.heights)
    message = (
        f"level within {voice.length(heights.fall)} and flat within {voice.length(heights.shim)} at {count} places"
    )
    return voice.say("pass", "the ceiling", message, value=max(heights.fall, heights.shim), limit=FLAT)
