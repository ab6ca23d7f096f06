"""What do a beam's ends screw into, and do the bottoms meet in line?

What: what each end of a new beam or piece comes up to: a solid beam, a hollow one, a wall with or without a ledger
or stud behind it; and the height of its bottom against that of the beam it meets, less the step that is wanted.
Why: a pocket screw in 3/4 in boards or in plaster holds a fraction of what it holds in solid wood, and a step of a
sixteenth catches the light along the whole beam.
Fix: knock on the beam or drill a thin hole where none will show, and write `made`; find studs at the wall or fix a
ledger, and write cross_beams.wall_end; in a hollow beam glue a block behind the shell or screw through it with
washers.
Source: six screw diameters of wood behind the joint, NDS 2018 12.1.5 (from memory); bottoms within 1/32 in: common
practice, no source.
"""

from collections.abc import Iterable

from lacunar.checks.finding import Finding, Level
from lacunar.checks.subject import Subject
from lacunar.checks.voice import Voice, settle
from lacunar.layout import Bar
from lacunar.parts import Part
from lacunar.units import INCH

NAME = "beam-ends"
SOURCE = "NDS 2018 12.1.5, from memory; bottoms in line: common practice, no source"

IN_LINE = INCH / 32.0
"""Bottoms further apart than this are seen to be. Source: common practice, no source."""

WALL_ENDS = {
    "ledger": ("pass", "a ledger", ""),
    "stud": ("pass", "a stud", ""),
    "unknown": (
        "ask",
        "what is in the wall, which is unknown",
        "find the studs or fix a ledger to them, then write cross_beams.wall_end",
    ),
}


def check_beam_ends(subject: Subject) -> tuple[Finding, ...]:
    """Findings on the ends of beams that still go up."""
    voice = Voice(check=NAME, source=SOURCE, subject=subject)
    ends = _ends_by_owner(subject)
    if not ends:
        return (voice.say("pass", "the ceiling", "no beam goes up"),)
    found = [*_bars(voice, ends), *_walls(voice, ends), *_out_of_line(voice)]
    return settle([finding for finding in found if finding.level != "pass"], _passed(voice, ends))


def _ends_by_owner(subject: Subject) -> dict[str, list[Part]]:
    """For each beam or wall, the parts whose ends it takes, once for each end."""
    found: dict[str, list[Part]] = {}
    for part in subject.new_beams:
        for owner in part.meets:
            found.setdefault(owner, []).append(part)
    return found


def _named(parts: Iterable[Part]) -> str:
    names = list(dict.fromkeys(part.id for part in parts))
    return ", ".join(names) if len(names) <= 6 else f"{', '.join(names[:6])} and {len(names) - 6} more"


def _bars(voice: Voice, ends: dict[str, list[Part]]) -> list[Finding]:
    layout = voice.subject.layout
    bars = (*layout.beams, *layout.half_beams, *layout.pieces, *layout.mouldings)
    return [_bar(voice, bar, ends[bar.id]) for bar in bars if bar.id in ends]


def _bar(voice: Voice, bar: Bar, parts: list[Part]) -> Finding:
    into = f"{len(parts)} ends ({_named(parts)})" if len(parts) > 1 else f"the end of {parts[0].id}"
    verb = "screw" if len(parts) > 1 else "screws"
    if bar.kind == "moulding":
        message, fix = f"{into} {verb} into a moulding", "cut the moulding back, or fix a ledger behind it"
        return voice.say("ask", bar.id, message, unit="", fix=fix)
    if bar.kind != "existing beam":
        return voice.say("pass", bar.id, f"{into} {verb} into solid {bar.species}", unit="")
    level, what, fix = _made(voice, bar)
    value = bar.shell if bar.made == "hollow" else None
    return voice.say(level, bar.id, f"{into} {verb} into {what}", value=value, unit="mm" if value else "", fix=fix)


def _made(voice: Voice, bar: Bar) -> tuple[Level, str, str]:
    if bar.made == "solid":
        return "pass", "solid wood", ""
    if bar.made == "hollow":
        fix = "glue a block behind the shell at each joint, or fix a ledger block below slat and trim"
        return "warn", f"a shell of {voice.length(bar.shell)} only", fix
    fix = 'knock on it or drill a thin hole where none will show, and write made = "solid" or "hollow 3/4 in"'
    return "ask", "a beam of which nobody knows whether it is solid", fix


def _walls(voice: Voice, ends: dict[str, list[Part]]) -> list[Finding]:
    """One finding for all walls: what is behind them is one key of the config."""
    walls = [name for name in ends if name in voice.subject.room.walls]
    if not walls:
        return []
    parts = [part for wall in walls for part in ends[wall]]
    cross = voice.subject.config.cross_beams
    level, what, fix = WALL_ENDS[cross.wall_end if cross is not None else "unknown"]
    screw = "ends screw" if len(parts) > 1 else "end screws"
    message = f"{len(parts)} {screw} into {what} ({_named(parts)})"
    asked: Level = "pass" if level == "pass" else "ask"
    return [voice.say(asked, f"wall {', '.join(walls)}", message, value=len(parts), unit="count", fix=fix)]


def _steps(subject: Subject) -> list[tuple[Part, str, float]]:
    """Each end at a beam: the part, the beam, and how far the bottom misses the height that is wanted."""
    cross = subject.config.cross_beams
    found: list[tuple[Part, str, float]] = []
    for part in subject.new_beams:
        step = cross.bottom if cross is not None and part.kind == "cross beam" else 0.0
        for point, owner in zip(part.axis, part.meets, strict=False):
            met = subject.part(owner)
            if met is not None and met.kind != "moulding":
                found.append((part, owner, part.bottom.at(point) - met.bottom.at(point) - step))
    return found


def _out_of_line(voice: Voice) -> list[Finding]:
    worst: dict[str, Finding] = {}
    for part, owner, off in _steps(voice.subject):
        if abs(off) <= IN_LINE or abs(off) <= abs((worst[part.id].value if part.id in worst else 0.0) or 0.0):
            continue
        way = "higher" if off > 0.0 else "lower"
        message = f"its bottom is {voice.length(abs(off))} {way} at {owner} than it should be"
        fix = f"hang that end {voice.length(abs(off))} {'lower' if off > 0.0 else 'higher'}"
        worst[part.id] = voice.say("warn", part.id, message, value=off, limit=IN_LINE, fix=fix)
    return list(worst.values())


def _passed(voice: Voice, ends: dict[str, list[Part]]) -> Finding:
    count = sum(len(parts) for parts in ends.values())
    steps = _steps(voice.subject)
    message = f"all {count} ends screw into solid wood, a ledger or a stud"
    if not steps:
        return voice.say("pass", "the ceiling", message, value=count, unit="count")
    part, owner, off = max(steps, key=lambda item: abs(item[2]))
    message += f"; bottoms meet within {voice.length(abs(off))}" if abs(off) > 1e-3 else "; bottoms meet in line"
    return voice.say("pass", f"{part.id}, {owner}", message, value=abs(off), limit=IN_LINE)
