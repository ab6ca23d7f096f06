"""What must hold between the measurements, the openings, the beams and the fixtures."""

import math

from lacunar.config.judge import Breach, Breaches, Judge, below, unique
from lacunar.config.lengths import Limit, bare_number_advice
from lacunar.config.lines import KeyPath
from lacunar.config.names import beam_mark, distance_ends
from lacunar.config.room_tables import Beam, BeamEnd, Door, Mark, WindowTable

SHORTEST_WALL = Limit("2 ft", "600 mm")
"""A shorter wall of a four-cornered room is a unit that was forgotten; own judgement."""


def room_rules(judge: Judge) -> Breaches:
    """Heights, walls, marks."""
    yield from _heights(judge)
    yield from _two_walls(judge)
    if judge.four():
        yield from _short_walls(judge)
    for name, mark in judge.config.room.marks.items():
        yield from _on_wall(judge, mark, ("room", "marks", name), 0.0)
    yield from _not_up_yet(judge)


def _heights(judge: Judge) -> Breaches:
    room = judge.config.room
    path, also = ("room", "heights"), below("room", "height")
    if room.height is not None and room.heights:
        yield Breach(path, "both height and heights are given, must be one of them", also=also)
    if room.height is None and not room.heights:
        fix = 'height = "8 ft 7 in" from floor to ceiling, or heights at every corner'
        yield Breach(also[0], "missing, must be given", fix, (path,))
    missing = [corner for corner in room.corners if corner not in room.heights]
    if room.heights and missing:
        what = f"gives no height at {', '.join(missing)}, must give one at every corner"
        yield Breach(path, what, also=below("room", "corners"))


def _two_walls(judge: Judge) -> Breaches:
    room = judge.config.room
    read = [wall for wall in room.walls if room.wall_length(wall) is not None]
    missing = [wall for wall in room.walls[:2] if wall not in read]
    if missing and not any(judge.neighbours(one, other) for one in read for other in read):
        what = f"gives no {' and no '.join(missing)}, must give at least the walls {' and '.join(room.walls[:2])}"
        fix = f'measure along the wall at any one height: {missing[0]} = "12 ft 2 in"'
        yield Breach(("room", "measured"), what, fix, below("room", "corners"))


def _short_walls(judge: Judge) -> Breaches:
    units, room = judge.config.units, judge.config.room
    walls = [set(wall) for wall in room.walls]
    for key, size in room.measured.items():
        if set(distance_ends(key)) in walls and size < SHORTEST_WALL.mm(units):
            must = f"{SHORTEST_WALL.text(units)} or more for a wall"
            yield judge.size(("room", "measured", key), size, must, size, bare_number_advice(units))


def _not_up_yet(judge: Judge) -> Breaches:
    """No distance is taken to a beam that is still to go up: its place is wished for, not read."""
    new = {
        (beam.name, frozenset(end.wall)): (n, beam_mark(beam.name, end.wall))
        for n, beam in enumerate(judge.config.beam)
        for end in beam.ends
        if beam.new
    }
    for key in judge.config.room.measured:
        for end in distance_ends(key):
            name, _, wall = end.rpartition(".")
            if (name, frozenset(wall)) in new:
                n, there = new[name, frozenset(wall)]
                what = f"got {there}, where a new beam is to go, must be the end of a beam that hangs there"
                fix = "pencil its place on the wall and give that in room.marks"
                yield Breach(("room", "measured", key), what, fix, (("beam", n),))


def _on_wall(judge: Judge, thing: Mark | BeamEnd | WindowTable | Door, path: KeyPath, width: float) -> Breaches:
    """`from` is an end of the wall, and the thing does not reach past the other end."""
    if thing.from_ not in thing.wall:
        what = f'got "{thing.from_}", must be an end of wall {thing.wall}: {thing.wall[0]} or {thing.wall[1]}'
        yield Breach((*path, "from"), what, also=below(path, "wall"))
    wall = judge.config.room.wall_length(thing.wall)
    width = 0.0 if math.isnan(width) else width
    # a wall and the things on it are read apart: they may disagree by a few marks
    if wall is not None and thing.at + width > wall + 8.0 * judge.config.read_to:
        reach = judge.length(thing.at) + (f" and {judge.length(width)} wide" if width else "")
        what = f"got {reach}, must end within wall {thing.wall} ({judge.length(wall)} long)"
        walls = below(("room", "measured"), thing.wall, thing.wall[::-1])
        fix = f"distances are taken from corner {thing.from_}"
        yield Breach((*path, "at"), what, fix, (*below(path, "width"), *walls))


def opening_rules(judge: Judge) -> Breaches:
    """Windows and doors."""
    fix = "it is taken from the floor"
    for n, window in enumerate(judge.config.window):
        path, head = ("window", n), window.head
        yield from _on_wall(judge, window, path, window.width)
        if head <= window.sill:
            yield judge.size((*path, "head"), head, "above the sill at {}", window.sill, also=below(path, "sill"))
        yield from judge.below_ceiling((*path, "head"), head, fix, touching=True)
    for n, door in enumerate(judge.config.door):
        yield from _on_wall(judge, door, ("door", n), door.width)
        yield from judge.below_ceiling(("door", n, "height"), door.height, fix, touching=True)


def beam_rules(judge: Judge) -> Breaches:
    """Existing and main beams."""
    config = judge.config
    if config.beams and config.beam:
        fix = "[beams] spreads them evenly, [[beam]] has each as measured"
        yield Breach(("beam",), "both [beams] and [[beam]] are given, must be one of them", fix, (("beams",),))
    if config.beams:
        yield from _wall_pair(judge, config.beams.between, ("beams", "between"))
        yield from _room_between(judge)
    for n, beam in enumerate(config.beam):
        yield from _beam(judge, beam, ("beam", n))
    yield from _same_direction(judge)
    yield from unique({("beam", n, "name"): beam.name for n, beam in enumerate(config.beam)}, "beam")


def _wall_pair(judge: Judge, walls: tuple[str, ...], path: KeyPath) -> Breaches:
    if len(walls) != 2:
        yield Breach(path, f"got {len(walls)}, must be two, on two walls")
    elif walls[0] == walls[1]:
        yield Breach(path, f"got {walls[0]} twice, must be two different walls")
    elif judge.four() and judge.neighbours(*walls):
        met = f"got {walls[0]} and {walls[1]}, which meet at a corner"
        yield Breach(path, f"{met}, must be two walls that face each other")


def _room_between(judge: Judge) -> Breaches:
    beams = judge.config.beams
    assert beams is not None
    wood = beams.count * beams.width
    for wall in beams.between:
        size = judge.config.room.wall_length(wall)
        if size is not None and wood >= size:
            told = f"{beams.count} beams of {judge.length(beams.width)} are {judge.length(wood)}"
            what = f"{told}, must be less than wall {wall} ({judge.length(size)} long)"
            yield Breach(("beams", "count"), what, also=(("beams", "width"), ("room", "measured")))
            return


def _beam(judge: Judge, beam: Beam, path: KeyPath) -> Breaches:
    yield from _wall_pair(judge, tuple(end.wall for end in beam.ends), (*path, "ends"))
    for n, end in enumerate(beam.ends):
        yield from _on_wall(judge, end, (*path, "ends", n), beam.width)
    for side, size in (("width", beam.width), ("depth", beam.depth)):
        if math.isnan(size):
            yield Breach((*path, side), "missing, must be given", "or give stock", below(path, "stock"))


def _same_direction(judge: Judge) -> Breaches:
    pairs = {n: {end.wall for end in beam.ends} for n, beam in enumerate(judge.config.beam)}
    first = pairs.get(0)
    for n, pair in pairs.items():
        if first is not None and judge.four() and len(pair) == len(first) == 2 and pair != first:
            one, other = (" and ".join(sorted(walls)) for walls in (pair, first))
            what = f"runs between {one}, must run between {other} as the first beam does"
            yield Breach(("beam", n, "ends"), what, also=(("beam", 0, "ends"),))


def fixture_rules(judge: Judge) -> Breaches:
    """Fixtures and whatever else is placed from two walls."""
    fixtures = judge.config.fixture
    for n, fixture in enumerate(fixtures):
        path, size = ("fixture", n), max(fixture.size)
        yield from judge.placed(fixture.at, (*path, "at"))
        if fixture.shape != "rectangle" and fixture.size[0] != fixture.size[1]:
            what = f'got two sizes, must be one length for "{fixture.shape}"'
            yield Breach((*path, "size"), what, 'or shape = "rectangle"', below(path, "shape"))
        if fixture.canopy is not None and fixture.canopy < size:
            fix = "the canopy is the cover that hides the hole"
            also = below(path, "size")
            yield judge.size((*path, "canopy"), fixture.canopy, "{} or more, as size", size, fix, also)
    yield from unique({("fixture", n, "name"): one.name for n, one in enumerate(fixtures)}, "fixture")
