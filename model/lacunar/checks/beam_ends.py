"""What do a beam's ends screw into, and do the bottoms meet in line?

What: what each end of a new beam or piece comes up to: a solid beam, a hollow one, a wall with or without a ledger
or stud behind it; how much of a pocket screw bites in a hollow beam's shell, and how far from the shell's edges; and
the height of its bottom against that of the beam it meets, less the step that is wanted.
Why: a pocket screw in 3/4 in boards or in plaster holds a fraction of what it holds in solid wood, and nobody has seen
what holds the box itself; a step of a sixteenth catches the light along the whole beam.
Fix: knock on the beam or drill a thin hole where none will show, and write `made`; find studs at the wall or fix a
ledger, and write cross_beams.wall_end; take a board off a hollow beam and fix solid blocking inside it to the joists,
or hang the rows from the joists: a licensed carpenter or an engineer decides.
Source: six screw diameters of wood behind the joint, NDS 2018 12.1.5, and four from the edge that the load is towards,
NDS 2018 Table 12.5.1C (both from memory); blocking in a box, and bottoms within 1/32 in: common practice, no source.
"""

from collections.abc import Iterator, Mapping, Sequence

from lacunar.analysis import BeamEnd
from lacunar.checks.finding import Finding
from lacunar.checks.voice import Found, Voice, check, grouped, least_each, settle
from lacunar.config import first_of
from lacunar.layout import Bar
from lacunar.materials import LEAST_PENETRATION, POCKET_SCREW, screw_diameter
from lacunar.told import count
from lacunar.tolerances import CONTACT
from lacunar.units import INCH

SOURCE = "NDS 2018 12.1.5 and Table 12.5.1C, from memory; blocking, bottoms in line: common practice, no source"

IN_LINE = INCH / 32.0
"""Bottoms further apart than this are seen to be. Source: common practice, no source."""

LEAST_EDGE = 4.0
"""Screw from the edge that its load is towards, in diameters. Source: NDS 2018, Table 12.5.1C, from memory."""


@check("beam-ends", SOURCE, __doc__)
def check_beam_ends(voice: Voice) -> Found:
    """Findings on the ends of beams that still go up."""
    ends = grouped(voice.analysis.beam_ends, lambda end: end.against)
    if not ends:
        return (voice.say("pass", "the ceiling", "no beam goes up"),)
    return settle([*_bars(voice, ends), *_walls(voice, ends), *_out_of_line(voice)], _passed(voice))


def _named(ends: Sequence[BeamEnd]) -> str:
    return first_of(list(dict.fromkeys(end.part for end in ends)), 6, count)


def _bars(voice: Voice, ends: Mapping[str, Sequence[BeamEnd]]) -> Iterator[Finding]:
    """What is not good about what ends screw into: new beams and solid ones are."""
    layout = voice.subject.layout
    for bar in (*layout.beams, *layout.mouldings):
        if bar.id in ends:
            yield from _bar(voice, bar, ends[bar.id])


def _bar(voice: Voice, bar: Bar, ends: Sequence[BeamEnd]) -> Iterator[Finding]:
    into = f"{count(len(ends))} ends ({_named(ends)}) screw" if len(ends) > 1 else f"the end of {ends[0].part} screws"
    if bar.kind == "moulding":
        fix = "cut the moulding back, or fix a ledger behind it"
        yield voice.say("ask", bar.id, f"{into} into a moulding", unit="", fix=fix)
    elif bar.kind == "existing beam" and bar.made == "hollow":
        yield _shell(voice, bar, ends, f"{into} into a shell of {voice.length(bar.shell)} only")
    elif bar.kind == "existing beam" and bar.made != "solid":
        fix = 'knock on it or drill a thin hole where none will show, and write made = "solid" or "hollow 3/4 in"'
        message = f"{into} into a beam of which nobody knows whether it is solid"
        yield voice.say("ask", bar.id, message, unit="", fix=fix)


def _shell(voice: Voice, bar: Bar, ends: Sequence[BeamEnd], message: str) -> Finding:
    """Never good: what holds the box itself is unknown."""
    key = "beams.made" if voice.config.beams is not None else f"beam.{bar.id}.made"
    fix = (
        "a licensed carpenter or an engineer decides: take a board off the box, fix solid blocking to the joists inside"
        f' it at every joint and close it, then write {key} = "solid"; or hang the rows from the joists above'
    )
    screw = screw_diameter(POCKET_SCREW)
    bite = min(end.bite for end in ends if end.bite is not None)
    edge = min((end.edge for end in ends if end.edge is not None), default=0.0)
    least_in, least_off = LEAST_PENETRATION * screw, LEAST_EDGE * screw
    if bite < least_in - CONTACT:
        message += f": {voice.length(bite)} of a screw bite in it, {voice.length(least_in)} is the least"
        return voice.say("fail", bar.id, message, value=bite, limit=least_in, fix=fix)
    if edge < least_off - CONTACT:
        stands = f"stands {voice.length(edge)} from its edge" if edge > 0.0 else f"misses it by {voice.length(-edge)}"
        message += f": a screw {stands}, {voice.length(least_off)} from the edge is the least"
        return voice.say("fail", bar.id, message, value=edge, limit=least_off, fix=fix)
    message += ": screws bite enough in it, but nobody has seen what holds the box"
    return voice.say("ask", bar.id, message, value=bar.shell, fix=fix)


def _walls(voice: Voice, ends: Mapping[str, Sequence[BeamEnd]]) -> Iterator[Finding]:
    """One finding for all walls: what is behind them is one key of the config."""
    walls = [name for name in ends if name in voice.subject.room.walls]
    cross = voice.config.cross_beams
    behind = cross.wall_end if cross is not None else "unknown"
    if walls and behind == "unknown":
        taken = [end for wall in walls for end in ends[wall]]
        screw = "ends screw" if len(taken) > 1 else "end screws"
        message = f"{count(len(taken))} {screw} into what is in the wall, which is unknown ({_named(taken)})"
        fix = "find the studs or fix a ledger to them, then write cross_beams.wall_end"
        yield voice.say("ask", f"wall {', '.join(walls)}", message, value=len(taken), unit="count", fix=fix)


def _steps(voice: Voice) -> list[tuple[float, BeamEnd]]:
    """Each end at a beam, and how much higher its bottom is than wished."""
    return [(end.off, end) for end in voice.analysis.beam_ends if end.off is not None]


def _out_of_line(voice: Voice) -> Iterator[Finding]:
    steps = [step for step in _steps(voice) if abs(step[0]) > IN_LINE]
    for off, end in least_each(steps, lambda step: step[1].part, lambda step: -abs(step[0])):
        owner, by = end.against, voice.length(abs(off))
        way, back = ("higher", "lower") if off > 0.0 else ("lower", "higher")
        message, fix = f"its bottom is {by} {way} at {owner} than it should be", f"hang the end at {owner} {by} {back}"
        yield voice.say("warn", end.part, message, value=off, limit=IN_LINE, fix=fix)


def _passed(voice: Voice) -> Finding:
    count, steps = len(voice.analysis.beam_ends), _steps(voice)
    message = f"all {count} ends screw into solid wood, a ledger or a stud"
    if not steps:
        return voice.say("pass", "the ceiling", message, value=count, unit="count")
    off, end = max(steps, key=lambda step: abs(step[0]))
    message += f"; bottoms meet within {voice.length(abs(off))}" if abs(off) > 1e-3 else "; bottoms meet in line"
    return voice.say("pass", f"{end.part}, {end.against}", message, value=abs(off), limit=IN_LINE)
