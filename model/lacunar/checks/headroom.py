"""Is there room under the beams for people and doors?

What: the lowest bottom of beams, slats and trim above the floor, against 7 ft; beams within the sweep of a door
that opens into the room, against the door's head; heights that few ceilings have.
Why: a beam under 7 ft is felt, may be too low for the local code, and a door that meets it does not open. A height that
was misread makes every picture wrong.
Fix: shallower beams, or ask the building authority; move a row out of the door's sweep or rehang the door.
Source: IRC R305.1, habitable rooms 7 ft (from memory). That beams at 4 ft centres may hang 6 in lower is in other
and older texts (IBC 1208.2 family) and not in the current residential one: ask, it is no rule here.
"""

from collections.abc import Iterator

from lacunar.analysis import NEW_BEAMS
from lacunar.checks.finding import Finding, Level
from lacunar.checks.voice import Found, Voice, check, settle
from lacunar.config import unusual_height
from lacunar.parts import Part
from lacunar.tolerances import CONTACT
from lacunar.units import FOOT

HABITABLE = 7.0 * FOOT
"""Least ceiling height of a room to live in. Source: IRC R305.1, from memory."""


@check("headroom", "IRC R305.1, from memory; local code decides", __doc__)
def check_headroom(voice: Voice) -> Found:
    """Findings on heights above the floor."""
    if not voice.subject.parts:
        return (voice.say("pass", "the ceiling", "nothing hangs from it"),)
    height, lowest = min(_bottoms(voice), key=lambda one: one[0])
    found = [*_unusual(voice), *_low(voice), *_doors(voice)]
    message = f"the lowest bottom is {voice.length(height)} above the floor"
    return settle(found, voice.say("pass", lowest.id, message, value=height, limit=HABITABLE))


def _bottoms(voice: Voice) -> Iterator[tuple[float, Part]]:
    return zip(voice.analysis.lowest, voice.subject.parts, strict=True)


def _unusual(voice: Voice) -> Iterator[Finding]:
    """Heights that few ceilings have."""
    room = voice.config.room
    heights = {f"room.heights.{name}": height for name, height in room.heights.items()}
    if room.height is not None:
        heights["room.height"] = room.height
    for key, height in heights.items():
        if doubt := unusual_height(height, voice.config.units):
            yield voice.say("warn", key, doubt, value=height, fix="measure it again")


def _low(voice: Voice) -> Iterator[Finding]:
    """One finding for what is new and one for what hangs there already."""
    kinds = (("new", [*NEW_BEAMS, "slat", "trim"]), ("existing", ["existing beam", "moulding"]))
    for word, of_kind in kinds:
        low = [one for one in _bottoms(voice) if one[1].kind in of_kind and one[0] < HABITABLE - CONTACT]
        if not low:
            continue
        height, worst = min(low, key=lambda one: one[0])
        count = f"{len(low)} {word} parts hang" if len(low) > 1 else f"it is {word} and hangs"
        message = (
            f"{count} lower than {voice.length(HABITABLE)}; the lowest bottom is {voice.length(height)} above the floor"
        )
        fix = "ask the building authority before buying wood, or take shallower beams"
        yield voice.say("ask", worst.id, message, value=height, limit=HABITABLE, fix=fix)


def _doors(voice: Voice) -> Iterator[Finding]:
    for sweep in voice.analysis.doors:
        if not sweep.parts:
            continue
        door = voice.config.door[sweep.door - 1]
        height, worst = min((one for one in _bottoms(voice) if one[1].id in sweep.parts), key=lambda one: one[0])
        level: Level = "fail" if voice.config.is_given("door", sweep.door - 1, "height") else "ask"
        message = (
            f"the door in wall {door.wall} is {voice.length(door.height)} high and sweeps under it:"
            f" its bottom is {voice.length(height)} above the floor"
        )
        fix = "move the row out of the sweep, take shallower beams, or hang the door to open outwards"
        yield voice.say(level, worst.id, message, value=height, limit=door.height, fix=fix)
