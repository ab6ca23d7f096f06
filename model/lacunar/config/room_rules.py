"""What must hold between the measurements, the openings, the beams and the fixtures."""

import math
from collections.abc import Iterator, Mapping

from lacunar.config.facts import Breach, Facts
from lacunar.config.lengths import Limit
from lacunar.config.lines import KeyPath
from lacunar.config.room_tables import Beam, BeamEnd, Door, Mark, Window
from lacunar.config.words import beam_mark, distance_ends

SHORTEST_WALL = Limit("2 ft", "600 mm")
"""A shorter wall of a four-cornered room is a unit that was forgotten; own judgement."""


def room_rules(facts: Facts) -> Iterator[Breach]:
    """Heights, walls, marks."""
    yield from _heights(facts)
    yield from _two_walls(facts)
    if facts.four():
        yield from _short_walls(facts)
    for name, mark in facts.config.room.marks.items():
        yield from _on_wall(facts, mark, ("room", "marks", name), 0.0)
    yield from _not_up_yet(facts)


def _heights(facts: Facts) -> Iterator[Breach]:
    room = facts.config.room
    if room.height is not None and room.heights:
        yield Breach(
            path=("room", "heights"),
            what="both height and heights are given, must be one of them",
            also=(("room", "height"),),
        )
    if room.height is None and not room.heights:
        yield Breach(
            path=("room", "height"),
            what="missing, must be given",
            fix='height = "8 ft 7 in" from floor to ceiling, or heights at every corner',
            also=(("room", "heights"),),
        )
    missing = [corner for corner in room.corners if corner not in room.heights]
    if room.heights and missing:
        yield Breach(
            path=("room", "heights"),
            what=f"gives no height at {', '.join(missing)}, must give one at every corner",
            also=(("room", "corners"),),
        )


def _two_walls(facts: Facts) -> Iterator[Breach]:
    read = [wall for wall in facts.walls if facts.wall_length(wall) is not None]
    missing = [wall for wall in facts.walls[:2] if wall not in read]
    if missing and not any(facts.neighbours(one, other) for one in read for other in read):
        yield Breach(
            path=("room", "measured"),
            what=f"gives no {' and no '.join(missing)}, must give at least the walls {' and '.join(facts.walls[:2])}",
            fix=f'measure along the wall at any one height: {missing[0]} = "12 ft 2 in"',
            also=(("room", "corners"),),
        )


def _short_walls(facts: Facts) -> Iterator[Breach]:
    units = facts.config.units
    for key, size in facts.config.room.measured.items():
        if any(set(distance_ends(key)) == set(wall) for wall in facts.walls) and size < SHORTEST_WALL.mm(units):
            yield Breach(
                path=("room", "measured", key),
                what=f"got {facts.length(size)}, must be {SHORTEST_WALL.text(units)} or more for a wall",
                fix=f"a bare number is in {'inches' if units == 'in' else 'millimetres'}",
            )


def _not_up_yet(facts: Facts) -> Iterator[Breach]:
    """No distance is taken to a beam that is still to go up: its place is wished for, not read."""
    new = {
        (beam.name, frozenset(end.wall)): (n, beam_mark(beam.name, end.wall))
        for n, beam in enumerate(facts.config.beam)
        for end in beam.ends
        if beam.new
    }
    for key in facts.config.room.measured:
        for end in distance_ends(key):
            name, _, wall = end.rpartition(".")
            if (name, frozenset(wall)) in new:
                n, there = new[name, frozenset(wall)]
                yield Breach(
                    path=("room", "measured", key),
                    what=f"got {there}, where a new beam is to go, must be the end of a beam that hangs there",
                    fix="pencil its place on the wall and give that in room.marks",
                    also=(("beam", n),),
                )


def _on_wall(facts: Facts, thing: Mark | BeamEnd | Window | Door, path: KeyPath, width: float) -> Iterator[Breach]:
    """`from` is an end of the wall, and the thing does not reach past the other end."""
    if thing.from_ not in thing.wall:
        yield Breach(
            path=(*path, "from"),
            what=f'got "{thing.from_}", must be an end of wall {thing.wall}: {thing.wall[0]} or {thing.wall[1]}',
            also=((*path, "wall"),),
        )
    wall = facts.wall_length(thing.wall)
    width = 0.0 if math.isnan(width) else width
    end = thing.at + width
    # a wall and the things on it are read apart: they may disagree by a few marks
    if wall is not None and end > wall + 8.0 * facts.config.read_to:
        reach = facts.length(thing.at) + (f" and {facts.length(width)} wide" if width else "")
        yield Breach(
            path=(*path, "at"),
            what=f"got {reach}, must end within wall {thing.wall} ({facts.length(wall)} long)",
            fix=f"distances are taken from corner {thing.from_}",
            also=((*path, "width"), ("room", "measured", thing.wall), ("room", "measured", thing.wall[::-1])),
        )


def opening_rules(facts: Facts) -> Iterator[Breach]:
    """Windows and doors."""
    for n, window in enumerate(facts.config.window):
        path: KeyPath = ("window", n)
        yield from _on_wall(facts, window, path, window.width)
        if window.head <= window.sill:
            yield Breach(
                path=(*path, "head"),
                what=f"got {facts.length(window.head)}, must be above the sill at {facts.length(window.sill)}",
                also=((*path, "sill"),),
            )
        yield from _below_ceiling(facts, (*path, "head"), window.head)
    for n, door in enumerate(facts.config.door):
        yield from _on_wall(facts, door, ("door", n), door.width)
        yield from _below_ceiling(facts, ("door", n, "height"), door.height)


def _below_ceiling(facts: Facts, path: KeyPath, top: float) -> Iterator[Breach]:
    height = facts.height()
    if height is not None and top > height:
        yield Breach(
            path=path,
            what=f"got {facts.length(top)}, must be below the ceiling at {facts.length(height)}",
            fix="it is taken from the floor",
            also=(("room", "height"), ("room", "heights")),
        )


def beam_rules(facts: Facts) -> Iterator[Breach]:
    """Existing and main beams."""
    config = facts.config
    if config.beams and config.beam:
        yield Breach(
            path=("beam",),
            what="both [beams] and [[beam]] are given, must be one of them",
            fix="[beams] spreads them evenly, [[beam]] has each as measured",
            also=(("beams",),),
        )
    if config.beams:
        yield from _wall_pair(facts, config.beams.between, ("beams", "between"))
        yield from _room_between(facts)
    for n, beam in enumerate(config.beam):
        yield from _beam(facts, beam, ("beam", n))
    yield from _same_direction(facts)
    yield from unique({("beam", n, "name"): beam.name for n, beam in enumerate(config.beam)}, "beam")


def _wall_pair(facts: Facts, walls: tuple[str, ...], path: KeyPath) -> Iterator[Breach]:
    if len(walls) != 2:
        yield Breach(path=path, what=f"got {len(walls)}, must be two, on two walls")
    elif walls[0] == walls[1]:
        yield Breach(path=path, what=f"got {walls[0]} twice, must be two different walls")
    elif facts.four() and facts.neighbours(*walls):
        yield Breach(
            path=path,
            what=f"got {walls[0]} and {walls[1]}, which meet at a corner, must be two walls that face each other",
        )


def _room_between(facts: Facts) -> Iterator[Breach]:
    beams = facts.config.beams
    assert beams is not None
    wood = beams.count * beams.width
    for wall in beams.between:
        size = facts.wall_length(wall)
        if size is not None and wood >= size:
            yield Breach(
                path=("beams", "count"),
                what=f"{beams.count} beams of {facts.length(beams.width)} are {facts.length(wood)}, "
                f"must be less than wall {wall} ({facts.length(size)} long)",
                also=(("beams", "width"), ("room", "measured")),
            )
            return


def _beam(facts: Facts, beam: Beam, path: KeyPath) -> Iterator[Breach]:
    yield from _wall_pair(facts, tuple(end.wall for end in beam.ends), (*path, "ends"))
    for n, end in enumerate(beam.ends):
        yield from _on_wall(facts, end, (*path, "ends", n), beam.width)
    for side in ("width", "depth"):
        if math.isnan(getattr(beam, side)):
            yield Breach(
                path=(*path, side), what="missing, must be given", fix="or give stock", also=((*path, "stock"),)
            )


def _same_direction(facts: Facts) -> Iterator[Breach]:
    pairs = {n: {end.wall for end in beam.ends} for n, beam in enumerate(facts.config.beam)}
    first = pairs.get(0)
    for n, pair in pairs.items():
        if first is not None and facts.four() and len(pair) == len(first) == 2 and pair != first:
            yield Breach(
                path=("beam", n, "ends"),
                what=f"runs between {' and '.join(sorted(pair))}, must run between {' and '.join(sorted(first))} "
                "as the first beam does",
                also=(("beam", 0, "ends"),),
            )


def fixture_rules(facts: Facts) -> Iterator[Breach]:
    """Fixtures and whatever else is placed from two walls."""
    config = facts.config
    for n, fixture in enumerate(config.fixture):
        path: KeyPath = ("fixture", n)
        yield from placed(facts, fixture.at, (*path, "at"))
        if fixture.shape != "rectangle" and fixture.size[0] != fixture.size[1]:
            yield Breach(
                path=(*path, "size"),
                what=f'got two sizes, must be one length for "{fixture.shape}"',
                fix='or shape = "rectangle"',
                also=((*path, "shape"),),
            )
        if fixture.canopy is not None and fixture.canopy < max(fixture.size):
            yield Breach(
                path=(*path, "canopy"),
                what=f"got {facts.length(fixture.canopy)}, must be {facts.length(max(fixture.size))} or more, as size",
                fix="the canopy is the cover that hides the hole",
                also=((*path, "size"),),
            )
    yield from unique({("fixture", n, "name"): one.name for n, one in enumerate(config.fixture)}, "fixture")


def placed(facts: Facts, at: Mapping[str, float], path: KeyPath) -> Iterator[Breach]:
    """Two walls that share a corner, and distances that stay in the room."""
    walls = tuple(at)
    if facts.four() and len(walls) == 2 and not facts.neighbours(*walls):
        yield Breach(
            path=path,
            what=f"got {walls[0]} and {walls[1]}, which face each other, must be two walls that meet at a corner",
        )
    longest = facts.longest()
    for wall, distance in at.items():
        if longest is not None and distance > longest:
            yield Breach(
                path=(*path, wall),
                what=f"got {facts.length(distance)}, must be less than the longest distance measured, "
                f"{facts.length(longest)}",
                also=(("room", "measured"),),
            )


def unique(names: Mapping[KeyPath, str], what: str) -> Iterator[Breach]:
    """No name stands twice, nor with other capitals: files of two such names may be one."""
    seen: dict[str, str] = {}
    for path, name in names.items():
        other = seen.get(name.casefold())
        if other is not None:
            same = "" if other == name else f' ("{other}" differs in capitals only)'
            yield Breach(path=path, what=f'got "{name}", must be a name that no other {what} has{same}')
        seen[name.casefold()] = name
