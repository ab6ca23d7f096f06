"""Is the old ceiling level and flat, and what does it do to beams, furring and slats?

What: from the highest to the lowest height; twist of four corners; how far the middle hangs below or stands above
the corners; at both ends and half way of each beam that goes up, the gap above its bought section or what is scribed
off it; the largest shim behind furring; without furring, how far a slat follows the ceiling's belly.
Why: beams and slats are straight and an old ceiling is not. What is known before the wood is cut is planed, shimmed
or hidden; what is found on the ladder shows.
Fix: measure heights at every corner, in the middle and at marks along long walls; scribe or shim what is named; fur
the ceiling to one plane.
Source: triangles between the measured heights, best-fit plane by least squares; 1/8 in over the room: common
practice, no source.
"""

from lacunar.checks.finding import Finding
from lacunar.checks.subject import Subject
from lacunar.checks.voice import Assumption, Voice, settle, tell_once
from lacunar.layout import Bar
from lacunar.parts import Part
from lacunar.survey import Heights, Run, ceiling_height, ceiling_run, describe_heights
from lacunar.units import INCH

NAME = "ceiling-level"
SOURCE = "triangles between the measured heights; common practice, no source"

FLAT = INCH / 8.0
"""A ceiling is level, flat and straight within so much over the room. Source: common practice, no source."""

FUR = "fur the ceiling to one plane, or let the slats follow it"


def check_ceiling_level(subject: Subject) -> tuple[Finding, ...]:
    """Findings on the measured heights."""
    voice = Voice(check=NAME, source=SOURCE, subject=subject)
    if not subject.config.room.heights:
        return (_asked(voice),)
    heights = describe_heights(subject.room)
    found = [
        *_out_of_level(voice, heights),
        *_twisted(voice, heights),
        *_sagging(voice, heights),
        *tell_once(_beams(voice), "beams and pieces"),
        *(_shims(voice, heights) if subject.layout.furring is not None else _slats(voice)),
    ]
    return settle(found, _passed(voice, heights), _no_centre(subject))


def _asked(voice: Voice) -> Finding:
    height = voice.length(voice.subject.room.centre[2])
    message = f"one height was given, {height}: the ceiling is taken as level and flat"
    fix = "measure from the floor to the ceiling at every corner and in the middle, and write room.heights"
    return voice.say("ask", "room.height", message, limit=FLAT, fix=fix)


def _no_centre(subject: Subject) -> tuple[Assumption, ...]:
    if "centre" in subject.config.room.heights:
        return ()
    return (Assumption(taken="the middle does not sag", fix="measure the height in the middle: heights.centre"),)


def _out_of_level(voice: Voice, heights: Heights) -> list[Finding]:
    if heights.fall <= FLAT:
        return []
    towards = f"; on the whole it falls towards {heights.falls}" if heights.falls else ""
    message = f"it is {voice.length(heights.fall)} lower at {heights.lowest} than at {heights.highest}{towards}"
    fix = "set out from the ceiling, not from a level line, or fur it level"
    return [voice.say("warn", heights.lowest, message, value=heights.fall, limit=FLAT, fix=fix)]


def _twisted(voice: Voice, heights: Heights) -> list[Finding]:
    twist = heights.twist
    if twist is None or abs(twist) <= FLAT:
        return []
    a, b, c, d = voice.subject.room.corners
    over, under = (a + c, b + d) if twist > 0.0 else (b + d, a + c)
    message = f"it is twisted: the middle of {over} lies {voice.length(abs(twist))} above that of {under}"
    return [voice.say("warn", "the ceiling", message, value=abs(twist), limit=FLAT, fix=FUR)]


def _sagging(voice: Voice, heights: Heights) -> list[Finding]:
    if abs(heights.sag) <= FLAT:
        return []
    how = "sags: its middle hangs" if heights.sag > 0.0 else "arches: its middle stands"
    side = "below" if heights.sag > 0.0 else "above"
    message = f"it {how} {voice.length(abs(heights.sag))} {side} the mean of the corners"
    return [voice.say("warn", "centre", message, value=abs(heights.sag), limit=FLAT, fix=FUR)]


def _beams(voice: Voice) -> list[Finding]:
    """One finding for each beam that goes up and does not meet the ceiling within the limit."""
    layout = voice.subject.layout
    bars = (*layout.beams, *layout.half_beams, *layout.pieces)
    return [finding for bar in bars if bar.kind != "existing beam" for finding in _beam(voice, bar)]


def _beam(voice: Voice, bar: Bar) -> list[Finding]:
    room = room_above(voice.subject, bar)
    most = max(room, key=abs)
    if abs(most) <= FLAT:
        return []
    first, middle, last = (_room_words(voice, over) for over in room)
    message = f"above its section: {first} at {bar.meets[0]}, {middle} half way, {last} at {bar.meets[1]}"
    scribe = "scribe its top to the ceiling, or plane it"
    fix = "hide the gap with the trim, or shim between beam and ceiling" if most > 0.0 else scribe
    return [voice.say("warn", bar.id, message, value=abs(most), limit=FLAT, fix=fix)]


def room_above(subject: Subject, bar: Bar) -> tuple[float, float, float]:
    """Ceiling less the top of the bought section at one end, half way and at the other; negative: to be scribed off."""
    (ax, ay), (bx, by) = bar.axis
    places = ((ax, ay), ((ax + bx) / 2.0, (ay + by) / 2.0), (bx, by))
    first, middle, last = (ceiling_height(subject.room, p) - bar.bottom.at(p) - bar.stock_depth for p in places)
    return first, middle, last


def _room_words(voice: Voice, over: float) -> str:
    if abs(over) < voice.mark / 2.0:
        return "tight"
    return f"{voice.length(abs(over))} {'gap' if over > 0.0 else 'to scribe off'}"


def _shims(voice: Voice, heights: Heights) -> list[Finding]:
    if heights.shim <= FLAT:
        return []
    thick, thin = (pick(heights.points, key=lambda point: point.shim) for pick in (max, min))
    message = f"furring that touches it at {thin.name} takes shims of up to {voice.length(thick.shim)}, at {thick.name}"
    fix = "set the furring to a string line from its lowest place and shim the rest"
    return [voice.say("warn", thick.name, message, value=heights.shim, limit=FLAT, fix=fix)]


def _slats(voice: Voice) -> list[Finding]:
    runs = [(part, ceiling_run(voice.subject.room, *part.axis)) for part in voice.subject.of_kind("slat")]
    if not runs:
        return []
    worst, run = max(runs, key=_off)
    off = max(run.belly, run.gap)
    if off <= FLAT:
        return []
    way = "down" if run.belly >= run.gap else "up"
    message = f"slats nailed straight to it follow it: this one bends {voice.length(off)} {way} between its ends"
    return [voice.say("warn", worst.id, message, value=off, limit=FLAT, fix=FUR)]


def _off(one: tuple[Part, Run]) -> float:
    return max(one[1].belly, one[1].gap)


def _passed(voice: Voice, heights: Heights) -> Finding:
    count = len(heights.points) - ("centre" not in voice.subject.config.room.heights)
    message = (
        f"level within {voice.length(heights.fall)} and flat within {voice.length(heights.shim)} at {count} places"
    )
    return voice.say("pass", "the ceiling", message, value=max(heights.fall, heights.shim), limit=FLAT)
