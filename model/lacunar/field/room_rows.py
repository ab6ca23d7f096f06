"""Stage room: distances that tell a misreading, heights, beams at both ends, the light from two walls."""

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from lacunar.config import RoomTable, distance_ends
from lacunar.field.above_slats import LIGHT, above_rows
from lacunar.field.beams import BEAM_END, SECTION, beam_ends, beam_rows
from lacunar.field.sheet_row import Row
from lacunar.field.sketch import Sketch
from lacunar.geometry import Line, Point
from lacunar.survey import Advice, point_from_walls

AFRESH = "again, the other way"
"""Read by itself from the other end, not copied."""

HEIGHT = re.compile(r"height (?P<place>\S+)")
FROM_WALL = re.compile(r"(?P<fixture>.+) from (?P<wall>[A-Z]{2})")


def room_rows(sketch: Sketch, advice: Sequence[Advice]) -> Iterator[Row]:
    """Everything that the room's shape, its ceiling, its beams and its light hang on, and what is above it."""
    yield from _distances(sketch.given, advice)
    yield from _middles(sketch, advice)
    yield from _heights(sketch)
    yield from beam_rows(sketch)
    yield from _fixtures(sketch)
    yield from above_rows(sketch)


def _row(name: str, design: float, ends: tuple[Point, Point], card: str, note: str, optional: bool = False) -> Row:
    note = f"optional: {note}" if optional else note
    return Row(stage="room", card=card, short=name, design=design, ends=ends, note=note, optional=optional)


def _distances(given: RoomTable, advice: Sequence[Advice]) -> Iterator[Row]:
    for one in sorted(advice, key=lambda one: one.again):
        read = given.measured.get(one.between)
        note = f"from the mark on {one.wall}" if one.wall else ""
        if one.kind == "mark":
            mark = given.marks.get(distance_ends(one.between)[1])
            read = mark.at if mark is not None else None
            note = "to the mark" if mark is not None else "pencil the mark there"
        if one.again:
            note = AFRESH
        design = read if read is not None else one.expected
        yield _row(one.between, design, (one.start, one.end), "across" if one.kind == "across" else "wall", note)


def _middles(sketch: Sketch, advice: Sequence[Advice]) -> Iterator[Row]:
    """Marks half way along walls that only a height is wanted at."""
    known = {*sketch.given.marks, *(end for one in advice for end in distance_ends(one.between))}
    for wall, mark in sketch.middles.items():
        if mark not in known:
            ends = (sketch.places[wall[0]], sketch.places[mark])
            yield _row(f"{wall[0]}-{mark}", math.dist(*ends), ends, "wall", "for a height", optional=True)


def _heights(sketch: Sketch) -> Iterator[Row]:
    for place, height in sketch.heights.items():
        point = sketch.centre if place == "centre" else sketch.places[place]
        optional = place in sketch.middles.values() and place not in sketch.given.heights
        note = "at the mark" if optional else "floor to ceiling"
        yield _row(f"height {place}", height, (point, point), "height", note, optional)


def _fixtures(sketch: Sketch) -> Iterator[Row]:
    for fixture in sketch.fixtures or ():
        yield from _from_walls(fixture.name, fixture.at, sketch)
    if sketch.fixtures is None and sketch.room is not None:
        walls = (sketch.walls[0], sketch.walls[-1])
        lines = [Line.through(sketch.places[wall[0]], sketch.places[wall[1]]) for wall in walls]
        at = {wall: -line.offset(sketch.centre) for wall, line in zip(walls, lines, strict=True)}
        yield from _from_walls(LIGHT, at, sketch)


def _from_walls(name: str, at: Mapping[str, float], sketch: Sketch) -> Iterator[Row]:
    if sketch.room is None:
        return
    centre = point_from_walls(sketch.room, at)
    for wall, distance in at.items():
        line = sketch.room.wall_line(wall)
        foot = line.at(line.along(centre))
        yield _row(f"{name} from {wall}", distance, (foot, centre), "light", "square, to its centre")


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """Where in the config a measure of the room belongs.

    Attributes:
        kind: of table.
        keys: distance: its two ends; mark: name, wall, corner; height: place; beam: name, wall; section: beam; fixture:
            name, wall; above: nothing.
        needs: marks that must be there first.
    """

    kind: Literal["distance", "mark", "height", "beam", "section", "fixture", "above"]
    keys: tuple[str, ...]
    needs: tuple[str, ...] = ()


def target(sketch: Sketch, name: str) -> Target | None:
    """Where a row's value goes; None where this room has no such thing."""
    if any(row.name == name for row in above_rows(sketch)):
        return Target(kind="above", keys=())
    if match := HEIGHT.fullmatch(name):
        place = match["place"]
        needs = (place,) if place in sketch.marks else ()
        return Target(kind="height", keys=(place,), needs=needs) if place in sketch.heights else None
    if match := BEAM_END.fullmatch(name):
        ends = beam_ends(sketch).get(match["beam"], ())
        known = any((wall, corner) == (match["wall"], match["corner"]) for wall, corner, _ in ends)
        return Target(kind="beam", keys=(match["beam"], match["wall"])) if known else None
    if match := SECTION.fullmatch(name):
        beam = match["beam"] or match["bowed"]
        walls = [wall for wall, _, _ in beam_ends(sketch).get(beam, ())]
        known = bool(walls) and (match["wall"] is None or match["wall"] in walls)
        return Target(kind="section", keys=(beam,)) if known else None
    if match := FROM_WALL.fullmatch(name):
        names = {*(fixture.name for fixture in sketch.fixtures or ()), LIGHT}
        known = match["fixture"] in names and sketch.fixtures != ()
        return Target(kind="fixture", keys=(match["fixture"], match["wall"])) if known else None
    return _distance_target(sketch, name)


def _distance_target(sketch: Sketch, name: str) -> Target | None:
    if not re.fullmatch(r"[A-Z]{2}|[A-Za-z0-9_]+-[A-Za-z0-9_]+", name):
        return None
    first, second = distance_ends(name)
    if first == second or not {first, second} <= {*sketch.corners, *sketch.marks}:
        return None
    if second in sketch.marks and sketch.marks[second][1] == first:
        return Target(kind="mark", keys=(second, *sketch.marks[second]))
    return Target(
        kind="distance", keys=(first, second), needs=tuple(end for end in (first, second) if end in sketch.marks)
    )


def expected(sketch: Sketch, found: Target) -> float | None:
    """About what a distance is that is on no row of today's sheet; None where nobody knows."""
    if found.kind not in ("distance", "mark") or not set(found.keys[:2]) <= set(sketch.places):
        return None
    return math.dist(*(sketch.places[end] for end in found.keys[:2]))
