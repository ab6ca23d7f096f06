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

from collections.abc import Iterable, Iterator

from lacunar.analysis import Subject, way_out
from lacunar.checks.finding import Finding
from lacunar.checks.voice import Found, Voice, check, grouped, least_each, settle
from lacunar.config import first_of
from lacunar.geometry import Line, Point
from lacunar.layout import Bar
from lacunar.materials import LEAST_PENETRATION, POCKET_SCREW, screw_diameter
from lacunar.parts import Part, Pocket
from lacunar.tolerances import ARITHMETIC, CONTACT
from lacunar.units import INCH

SOURCE = "NDS 2018 12.1.5 and Table 12.5.1C, from memory; blocking, bottoms in line: common practice, no source"

IN_LINE = INCH / 32.0
"""Bottoms further apart than this are seen to be. Source: common practice, no source."""

LEAST_EDGE = 4.0
"""Screw from the edge that its load is towards, in diameters. Source: NDS 2018, Table 12.5.1C, from memory."""


@check("beam-ends", SOURCE, __doc__)
def check_beam_ends(voice: Voice) -> Found:
    """Findings on the ends of beams that still go up."""
    ends = _ends_by_owner(voice.subject)
    if not ends:
        return (voice.say("pass", "the ceiling", "no beam goes up"),)
    return settle([*_bars(voice, ends), *_walls(voice, ends), *_out_of_line(voice)], _passed(voice, ends))


def _ends_by_owner(subject: Subject) -> dict[str, list[Part]]:
    """For each beam or wall, the parts whose ends it takes, once for each end."""
    ends = grouped(((part, owner) for part in subject.new_beams for owner in part.meets), lambda end: end[1])
    return {owner: [part for part, _ in taken] for owner, taken in ends.items()}


def _named(parts: Iterable[Part]) -> str:
    return first_of(list(dict.fromkeys(part.id for part in parts)), 6)


def _bars(voice: Voice, ends: dict[str, list[Part]]) -> Iterator[Finding]:
    layout = voice.subject.layout
    for bar in (*layout.beams, *layout.half_beams, *layout.pieces, *layout.mouldings):
        if bar.id in ends:
            yield from _bar(voice, bar, ends[bar.id])


def _bar(voice: Voice, bar: Bar, parts: list[Part]) -> Iterator[Finding]:
    """What is not good about what ends screw into: new beams and solid ones are."""
    into = f"{len(parts)} ends ({_named(parts)}) screw" if len(parts) > 1 else f"the end of {parts[0].id} screws"
    if bar.kind == "moulding":
        fix = "cut the moulding back, or fix a ledger behind it"
        yield voice.say("ask", bar.id, f"{into} into a moulding", unit="", fix=fix)
    elif bar.kind == "existing beam" and bar.made == "hollow":
        yield _shell(voice, bar, parts, f"{into} into a shell of {voice.length(bar.shell)} only")
    elif bar.kind == "existing beam" and bar.made != "solid":
        fix = 'knock on it or drill a thin hole where none will show, and write made = "solid" or "hollow 3/4 in"'
        message = f"{into} into a beam of which nobody knows whether it is solid"
        yield voice.say("ask", bar.id, message, unit="", fix=fix)


def _shell(voice: Voice, bar: Bar, parts: list[Part], message: str) -> Finding:
    """Never good: what holds the box itself is unknown."""
    key = "beams.made" if voice.config.beams is not None else f"beam.{bar.id}.made"
    fix = (
        "a licensed carpenter or an engineer decides: take a board off the box, fix solid blocking to the joists inside"
        f' it at every joint and close it, then write {key} = "solid"; or hang the rows from the joists above'
    )
    screw = screw_diameter(POCKET_SCREW)
    bite, edge = least_bite(voice.subject, bar, parts)
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


def least_bite(subject: Subject, bar: Bar, parts: Iterable[Part]) -> tuple[float, float]:
    """How much of a screw bites in a hollow beam's side, and how far from its top or bottom it stands, at the worst.

    Where an end has no pockets nothing bites.
    """
    side, cross = Line.through(*bar.axis).left, subject.config.cross_beams
    bites: list[float] = []
    edges: list[float] = []
    for part in parts:
        # Half the clearance is left open at each end of a piece.
        gap = cross.joint.clearance / 2.0 if cross is not None and part.kind == "cross beam" else 0.0
        for end in (end for end, owner in enumerate(part.meets) if owner == bar.id):
            pockets = [pocket for pocket in part.pockets if pocket.end == end]
            bites += [_bite(pocket, side, bar.shell, gap) for pocket in pockets] or [0.0]
            for x, y, z in map(way_out, pockets):
                edges.append(min(bar.top.at((x, y)) - z, z - bar.bottom.at((x, y))))
    return min(bites), min(edges, default=0.0)


def _bite(pocket: Pocket, side: Point, shell: float, gap: float) -> float:
    """Along the screw: what of it is past the end grain and the joint, as far as the shell is thick."""
    square = max(abs(pocket.direction[0] * side[0] + pocket.direction[1] * side[1]), ARITHMETIC)
    return max(0.0, min(pocket.screw - pocket.pilot_length - gap / square, shell / square))


def _walls(voice: Voice, ends: dict[str, list[Part]]) -> Iterator[Finding]:
    """One finding for all walls: what is behind them is one key of the config."""
    walls = [name for name in ends if name in voice.subject.room.walls]
    cross = voice.config.cross_beams
    behind = cross.wall_end if cross is not None else "unknown"
    if walls and behind == "unknown":
        parts = [part for wall in walls for part in ends[wall]]
        screw = "ends screw" if len(parts) > 1 else "end screws"
        message = f"{len(parts)} {screw} into what is in the wall, which is unknown ({_named(parts)})"
        fix = "find the studs or fix a ledger to them, then write cross_beams.wall_end"
        yield voice.say("ask", f"wall {', '.join(walls)}", message, value=len(parts), unit="count", fix=fix)


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


def _out_of_line(voice: Voice) -> Iterator[Finding]:
    steps = [step for step in _steps(voice.subject) if abs(step[2]) > IN_LINE]
    for part, owner, off in least_each(steps, lambda step: step[0].id, lambda step: -abs(step[2])):
        by, way, back = voice.length(abs(off)), *(("higher", "lower") if off > 0.0 else ("lower", "higher"))
        message, fix = f"its bottom is {by} {way} at {owner} than it should be", f"hang the end at {owner} {by} {back}"
        yield voice.say("warn", part.id, message, value=off, limit=IN_LINE, fix=fix)


def _passed(voice: Voice, ends: dict[str, list[Part]]) -> Finding:
    count = sum(len(parts) for parts in ends.values())
    steps = _steps(voice.subject)
    message = f"all {count} ends screw into solid wood, a ledger or a stud"
    if not steps:
        return voice.say("pass", "the ceiling", message, value=count, unit="count")
    part, owner, off = max(steps, key=lambda item: abs(item[2]))
    message += f"; bottoms meet within {voice.length(abs(off))}" if abs(off) > 1e-3 else "; bottoms meet in line"
    return voice.say("pass", f"{part.id}, {owner}", message, value=abs(off), limit=IN_LINE)
