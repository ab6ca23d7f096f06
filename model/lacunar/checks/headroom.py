"""Is there room under the beams for people and doors?

What: the lowest bottom of beams, slats and trim above the floor, against 7 ft; beams within the sweep of a door
that opens into the room, against the door's head; heights that few ceilings have.
Why: a beam under 7 ft is felt, may be too low for the local code, and a door that meets it does not open. A height that
was misread makes every picture wrong.
Fix: shallower beams, or ask the building authority; move a row out of the door's sweep or rehang the door.
Source: IRC R305.1, habitable rooms 7 ft (from memory). That beams at 4 ft centres may hang 6 in lower is in other
and older texts (IBC 1208.2 family) and not in the current residential one: ask, it is no rule here.
"""

import math

import shapely

from lacunar.checks.finding import Finding, Level
from lacunar.checks.overlap import plan_depth
from lacunar.checks.shapes import polygon
from lacunar.checks.subject import NEW_BEAMS, Subject
from lacunar.checks.voice import Voice, settle
from lacunar.config import unusual_height
from lacunar.geometry import Line, Ring
from lacunar.parts import Part
from lacunar.survey import wall_point
from lacunar.tolerances import CONTACT
from lacunar.units import FOOT

NAME = "headroom"
SOURCE = "IRC R305.1, from memory; local code decides"

HABITABLE = 7.0 * FOOT
"""Least ceiling height of a room to live in. Source: IRC R305.1, from memory."""

SWEEP_STEPS = 24


def check_headroom(subject: Subject) -> tuple[Finding, ...]:
    """Findings on heights above the floor."""
    voice = Voice(check=NAME, source=SOURCE, subject=subject)
    if not subject.parts:
        return (voice.say("pass", "the ceiling", "nothing hangs from it"),)
    lowest = min(subject.parts, key=bottom_of)
    height = bottom_of(lowest)
    found = [*_unusual(voice), *_low(voice), *_doors(voice)]
    message = f"the lowest bottom is {voice.length(height)} above the floor"
    return settle(found, voice.say("pass", lowest.id, message, value=height, limit=HABITABLE))


def bottom_of(part: Part) -> float:
    """Height of a part's lowest point above the floor."""
    return min(part.bottom.at(point) for point in part.outline)


def _unusual(voice: Voice) -> list[Finding]:
    """Heights that few ceilings have."""
    room = voice.subject.config.room
    heights = {f"room.heights.{name}": height for name, height in room.heights.items()}
    if room.height is not None:
        heights["room.height"] = room.height
    doubts = {key: unusual_height(height, voice.subject.config.units) for key, height in heights.items()}
    return [
        voice.say("warn", key, doubt, value=heights[key], fix="measure it again")
        for key, doubt in doubts.items()
        if doubt
    ]


def _low(voice: Voice) -> list[Finding]:
    """One finding for what is new and one for what hangs there already."""
    found: list[Finding] = []
    kinds = (("new", [*NEW_BEAMS, "slat", "trim"]), ("existing", ["existing beam", "moulding"]))
    for word, of_kind in kinds:
        low = [part for part in voice.subject.of_kind(*of_kind) if bottom_of(part) < HABITABLE - CONTACT]
        if not low:
            continue
        worst = min(low, key=bottom_of)
        height = bottom_of(worst)
        count = f"{len(low)} {word} parts hang" if len(low) > 1 else f"it is {word} and hangs"
        message = (
            f"{count} lower than {voice.length(HABITABLE)}; the lowest bottom is {voice.length(height)} above the floor"
        )
        fix = "ask the building authority before buying wood, or take shallower beams"
        found.append(voice.say("ask", worst.id, message, value=height, limit=HABITABLE, fix=fix))
    return found


def _doors(voice: Voice) -> list[Finding]:
    subject = voice.subject
    found: list[Finding] = []
    for number, door in enumerate(subject.config.door, start=1):
        if door.swing != "in":
            continue
        sweep = polygon(_sweep(subject, number - 1))
        hit = [p for p in subject.parts if bottom_of(p) < door.height - CONTACT and _meets(subject, p, sweep)]
        if not hit:
            continue
        worst = min(hit, key=bottom_of)
        height = bottom_of(worst)
        level: Level = "fail" if subject.config.is_given("door", number - 1, "height") else "ask"
        message = (
            f"the door in wall {door.wall} is {voice.length(door.height)} high and sweeps under it:"
            f" its bottom is {voice.length(height)} above the floor"
        )
        fix = "move the row out of the sweep, take shallower beams, or hang the door to open outwards"
        found.append(voice.say(level, worst.id, message, value=height, limit=door.height, fix=fix))
    return found


def _meets(subject: Subject, part: Part, sweep: shapely.Polygon) -> bool:
    return plan_depth(subject.polygon(part.id), sweep) > CONTACT


def _sweep(subject: Subject, index: int) -> Ring:
    """Quarter circle that a door opening into the room sweeps; hinge left or right as seen from inside."""
    door, room = subject.config.door[index], subject.room
    jambs = [wall_point(room, door.wall, door.from_, at) for at in (door.at, door.at + door.width)]
    wall = room.wall_line(door.wall)
    first, last = sorted(jambs, key=wall.along)
    # Facing the wall from inside, the start of a wall that runs clockwise is on the left.
    hinge, latch = (first, last) if door.hinge == "left" else (last, first)
    closed = Line.through(hinge, latch)
    inward = -1.0 if door.hinge == "left" else 1.0
    turns = [inward * math.pi / 2.0 * k / SWEEP_STEPS for k in range(SWEEP_STEPS + 1)]
    arc = tuple(closed.at(door.width * math.cos(turn), door.width * math.sin(turn)) for turn in turns)
    return (hinge, *arc)
