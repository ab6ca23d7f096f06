"""Beams that cannot hang where they were measured: across each other, or askew. Which end was misread?"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shapely import Polygon

from lacunar.config import Beam, BeamEnd
from lacunar.errors import LayoutError
from lacunar.geometry import Line, Point
from lacunar.layout.polygons import common
from lacunar.layout.saying import refusal
from lacunar.layout.types import Bar
from lacunar.survey import Room, usual_slips, wall_point
from lacunar.tape import Tape
from lacunar.tolerances import CONTACT
from lacunar.units import Units

ASKEW = math.radians(12.0)
"""A beam that leans so much to every other beam and wall was misread at one end. Source: own choice; rooms lean 3."""

ALONGSIDE = math.radians(3.0)
"""A beam that leans less runs alongside: half a foot over ten. Source: own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Guess:
    """Where one end of a beam may be: `value` from its corner; `how` it was misread, "" where not in a usual way."""

    beam: str
    end: BeamEnd
    value: float
    how: str
    lean: float


def refuse_astray(room: Room, beams: Sequence[Beam], bars: Sequence[Bar], tape: Tape) -> None:
    """Look at every beam as measured, and at every two.

    Raises:
        LayoutError: one leans to everything else, or two overlap; tells which ends may have been misread.
    """
    for i, one in enumerate(bars):
        for other in bars[i + 1 :]:
            shared = common(Polygon(one.outline), Polygon(other.outline))
            if not shared.buffer(-CONTACT).is_empty:
                raise _astray(room, beams, bars, (one, other), f"it runs through beam {other.id}", tape)
    for beam in beams:
        bar = next(bar for bar in bars if bar.id == beam.name)
        lean = min(Line.through(*bar.axis).lean_to(line) for line in _others(room, beam, bars))
        if lean > ASKEW:
            what = f"it leans {math.degrees(lean):.0f} degrees to every wall and beam beside it"
            raise _astray(room, beams, bars, (bar,), what, tape)


def _others(room: Room, beam: Beam, bars: Sequence[Bar]) -> list[Line]:
    """The walls that a beam does not end on, and the other beams."""
    walls = [room.wall_line(wall) for wall in room.walls if all(set(wall) != set(end.wall) for end in beam.ends)]
    return walls + [Line.through(*bar.axis) for bar in bars if bar.id != beam.name]


def _astray(
    room: Room, beams: Sequence[Beam], bars: Sequence[Bar], odd: Sequence[Bar], what: str, tape: Tape
) -> LayoutError:
    say = tape.text
    beams = [beam for beam in beams if beam.name in {bar.id for bar in odd}]
    found = [guess for beam in beams for guess in _guesses(room, beam, bars, tape.units)]
    found = sorted([guess for guess in found if guess.how] or found, key=_rank)
    likeliest = {(guess.beam, guess.end.wall): guess for guess in reversed(found)}
    told = [
        f"{guess.beam} on {guess.end.wall}, which may be {say(guess.value)} from {guess.end.from_}"
        + (f", {guess.how}" if guess.how else "")
        for guess in sorted(likeliest.values(), key=_rank)
    ]
    ends = ", ".join(f"{beam.name} on {end.wall} {say(end.at)} from {end.from_}" for beam in beams for end in beam.ends)
    fix = "measure its ends again" + (f", first {'; or '.join(told)}" if told else "")
    return refusal(f"beam {odd[0].id}", f"{what}: {ends}" if ends else what, fix)


def _rank(guess: _Guess) -> tuple[float, str, str]:
    """The straightest first; guesses that rounding alone tells apart in the order of their names."""
    return round(guess.lean, 6), guess.beam, guess.end.wall


def _guesses(room: Room, beam: Beam, bars: Sequence[Bar], units: Units) -> Iterator[_Guess]:
    """Places of one end, the other as measured, where the beam runs alongside the others and clear of them."""
    others = _others(room, beam, bars)
    usual = min(others, key=lambda line: math.fsum(line.lean_to(other) for other in others))
    axes = [Line.through(*bar.axis) for bar in bars if bar.id != beam.name]
    for end, fixed in zip(beam.ends, beam.ends[::-1], strict=True):
        stays = wall_point(room, fixed.wall, fixed.from_, fixed.at)
        wall = Line.through(room.corner(end.from_), room.corner(end.wall.replace(end.from_, "", 1)))
        most = math.dist(*room.wall(end.wall)) - beam.width
        values = list(usual_slips(end.at, units))
        if wall.lean_to(usual) > ASKEW:
            values.append((wall.along(wall.crossing(Line(stays, usual.direction))), ""))
        for value, how in values:
            moved = wall.at(value)
            if math.dist(moved, stays) < beam.width:
                continue
            lean = Line.through(moved, stays).lean_to(usual)
            is_elsewhere = beam.width <= value <= most and abs(value - end.at) > beam.width
            if is_elsewhere and lean < ALONGSIDE and all(_is_clear(axis, moved, stays, beam.width) for axis in axes):
                yield _Guess(beam=beam.name, end=end, value=value, how=how, lean=lean)


def _is_clear(axis: Line, moved: Point, stays: Point, width: float) -> bool:
    """Both ends lie on one side of another beam."""
    off = (axis.offset(moved), axis.offset(stays))
    return off[0] * off[1] > 0.0 and min(abs(off[0]), abs(off[1])) > width
