"""Where to look from: places that exist in every room, however small, long or bent.

From door and seat the picture is level, with its frame shifted as with a view camera, and as narrow as shows what it
must (see `framing`). Up and corner are as wide as their subject needs and say so.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from functools import partial

import numpy as np
import shapely
from shapely.ops import nearest_points

from lacunar.config import CameraTable
from lacunar.geometry import Point
from lacunar.layout import Layout
from lacunar.scene.framing import ASPECT, Frame, Places, best_frame
from lacunar.scene.look import Look, Opening
from lacunar.scene.openings import CASING
from lacunar.scene.shell import wall_frame
from lacunar.scene.sight import COLUMNS
from lacunar.scene.types import Vector, Viewpoint, vector
from lacunar.survey import Room, ceiling_height, point_from_walls

STANDING, SEATED = 1600.0, 1200.0
"""mm, eye heights."""

CLEAR = 320.0
"""mm that a head keeps from the walls where the room allows."""

HELD = 120.0
"""mm that a camera is held from a wall, where shares of the picture ask for it."""

SEATED_CLEAR = 500.0
"""mm from a wall to the eyes of somebody in a chair before it."""

STRIDE, MOST = 300.0, 200
"""mm between chairs, and how many there are, where those along the walls do not do."""

CLOSER = (0.62, 0.5)
"""Tangents of half the narrower angles of view into a corner."""

LAMP_REACH = 0.08
"""Metres that a lamp reaches aside of the line that it hangs on, under its ceiling."""

PENDANT = 500.0
"""mm that a hanging lamp's globe lies below the ceiling, about."""

LAMP_CLEAR, LAMP_AWAY, LAMP_APART = 700.0, 2200.0, 3000.0
"""mm that a standing lamp's middle keeps from walls, from cameras and from the next."""

STEPS_IN = (HELD, 420.0)
"""mm from a door's wall to who stands in it, and a step inside."""


def _metres(x: float, y: float, z: float) -> Vector:
    return vector((x, y, z), 1000.0)


def standing_room(room: Room, clear: float = CLEAR) -> shapely.Polygon:
    """Where an eye may be: the room, so far from the walls or as far as it allows, in one piece."""
    whole = shapely.Polygon(room.points).buffer(0)
    while clear > 1.0:
        inner = whole.buffer(-clear, join_style="mitre")
        if not inner.is_empty:
            parts = [p for p in shapely.get_parts(inner) if isinstance(p, shapely.Polygon)]
            return max(parts, key=lambda p: p.area)
        clear *= 0.6
    return shapely.Polygon(whole.representative_point().buffer(1.0))


def _nearest(area: shapely.Polygon, point: Point) -> Point:
    x, y = nearest_points(area, shapely.Point(point))[0].coords[0]
    return (float(x), float(y))


def _door_places(room: Room, doors: Sequence[Opening], area: shapely.Polygon) -> Places:
    """In the first door, or a step inside; without one, along all walls: nobody knows where it is."""
    if not doors:
        ring = _along_walls(area)
        return Places(eyes=ring, worse=(0.0,) * len(ring), height=STANDING)
    door = doors[0]
    across = np.linspace(door.start - CASING[0], door.start + door.width + CASING[0], 6)
    made = [(_nearest(area, _on_wall(room, door, float(x), inward)), inward) for inward in STEPS_IN for x in across]
    eyes, worse = zip(*made, strict=True)
    # A step inside is where one stops and looks up.
    return Places(eyes=eyes, worse=tuple(0.03 * (inward < STEPS_IN[-1]) for inward in worse), height=STANDING)


def _along_walls(area: shapely.Polygon) -> tuple[Point, ...]:
    """The corners of an area and places between them, a stride or more apart."""
    ring = area.exterior
    n = int(np.clip(ring.length / 900.0, 6, 12))
    between = [ring.interpolate(k / n, normalized=True).coords[0] for k in range(n)]
    return tuple((float(x), float(y)) for x, y in (*ring.simplify(50.0).coords[:-1], *between))


def _on_wall(room: Room, o: Opening, along: float, inward: float) -> Point:
    corner, frame, _ = wall_frame(room, o.wall)
    p = corner + along * frame[0] + inward * frame[2]
    return (float(p[0]), float(p[1]))


def _seat_places(room: Room, door: Frame) -> Places:
    """A chair's depth from the walls, or with its back to one; not in the door's own place or direction."""
    eyes: list[Point] = []
    worse: list[float] = []
    for clear, price in ((SEATED_CLEAR, 0.0), (HELD, 0.05)):
        ring = _along_walls(standing_room(room, clear))
        eyes += ring
        worse += [price] * len(ring)
    return Places(eyes=tuple(eyes), worse=tuple(worse), height=SEATED, other=door)


def _anywhere(room: Room, door: Frame, about: Point | None) -> Places:
    """Chairs all over the floor, or close together about a place, whose pictures are reckoned finer."""
    area = standing_room(room, HELD)
    x0, y0, x1, y1 = area.bounds
    step = max(STRIDE, math.sqrt((x1 - x0) * (y1 - y0) / MOST))
    if about:
        (x0, y0), (x1, y1), step = (about[0] - step, about[1] - step), (about[0] + step, about[1] + step), step / 3
    grid = np.meshgrid(np.arange(x0, x1, step), np.arange(y0, y1, step))
    eyes = [(float(x), float(y)) for x, y in zip(*map(np.ravel, grid), strict=True)]
    inside = tuple(eye for eye in eyes if area.covers(shapely.Point(eye)))
    columns = (2 if about else 1) * COLUMNS
    return Places(eyes=inside, worse=(0.0,) * len(inside), height=SEATED, other=door, columns=columns)


def _up(room: Room) -> Viewpoint:
    """Straight up from the floor in the room's middle; AB lies at the top and A at the right: the plan's mirror.

    As wide as it takes to show the whole ceiling: from the floor of a room that is wider than high that is past 90
    degrees, and harmless, since what lies square to the view keeps its shape at any width.
    """
    x0, y0, x1, y1 = shapely.Polygon(room.points).bounds
    x, y = (x0 + x1) / 2, (y0 + y1) / 2
    inside = shapely.Polygon(room.points)
    if not inside.contains(shapely.Point(x, y)):
        p = inside.representative_point()
        x, y = float(p.x), float(p.y)
    ceiling = ceiling_height(room, (x, y))
    # The farthest wall must be in the frame, its corners' letters too.
    wide = max(x1 - x, x - x0) * 1.13
    high = max(y1 - y, y - y0) * 1.13
    eye = 60.0
    half = max(wide, high * ASPECT) / (ceiling - eye)
    return Viewpoint(
        name="up",
        eye=_metres(x, y, eye),
        towards=_metres(x, y, ceiling),
        up=(0.0, 1.0, 0.0),
        half_width=half,
        letters=True,
    )


def _corner(layout: Layout, room: Room, look: Look, area: shapely.Polygon) -> Viewpoint:
    """Close under one coffer's corner, if there is one where two beams meet.

    76 degrees: from a standing eye a corner is little over a metre off, and a much narrower picture would hold one
    joint but neither of the coffers beside it; 64 or 53 where that keeps a lamp out, which so near would be an egg. It
    tilts: what is upright up there is a hand high.
    """
    walls, middle = set(room.walls), room.centre[:2]
    lamps = {hole.coffer for hole in layout.cut_outs}
    hanging = [
        (*hole.centre, ceiling_height(room, hole.centre) - by) for hole in layout.cut_outs for by in (0, PENDANT)
    ]
    found: list[tuple[tuple[int, bool, bool, float, float], Viewpoint]] = []
    for coffer in layout.coffers:
        inner = shapely.Polygon(coffer.outline).centroid
        for before, after in zip(coffer.sides[-1:] + coffer.sides[:-1], coffer.sides, strict=True):
            wide = _into_corner(room, area, after.start, (float(inner.x), float(inner.y)))
            beams = (before.against not in walls) + (after.against not in walls)
            for view in (wide, *(replace(wide, half_width=closer) for closer in CLOSER)):
                clear = not any(_shows(place, view) for place in hanging)
                rank = (beams, clear, coffer.id not in lamps, view.half_width, -math.dist(after.start, middle))
                found.append((rank, view))
    return max(found, key=lambda pair: pair[0])[1] if found else _into_corner(room, area, room.points[0], middle)


def _into_corner(room: Room, area: shapely.Polygon, spot: Point, inner: Point) -> Viewpoint:
    away = math.dist(inner, spot) or 1.0
    back = min(1250.0, max(700.0, 1.5 * away))
    eye = _nearest(area, (spot[0] + back * (inner[0] - spot[0]) / away, spot[1] + back * (inner[1] - spot[1]) / away))
    aim = (spot[0] + 0.22 * (inner[0] - spot[0]), spot[1] + 0.22 * (inner[1] - spot[1]))
    z = ceiling_height(room, spot) - 110.0
    return Viewpoint(name="corner", eye=_metres(*eye, STANDING), towards=_metres(*aim, z), half_width=0.78)


def _shows(place: tuple[float, float, float], view: Viewpoint) -> bool:
    """Whether some of a lamp may be in a picture."""
    ahead = np.array(view.towards) - np.array(view.eye)
    ahead /= np.linalg.norm(ahead)
    right = np.cross(ahead, view.up)
    right /= np.linalg.norm(right)
    x, y, deep = np.array([right, np.cross(right, ahead), ahead]) @ (np.array(place) / 1000.0 - np.array(view.eye))
    wide = view.half_width * deep + LAMP_REACH
    return bool(deep > 0 and abs(x) < wide and abs(y) < wide / ASPECT + LAMP_REACH)


def _stand(stand: CameraTable, layout: Layout, room: Room, area: shapely.Polygon) -> Viewpoint:
    eye = _nearest(area, point_from_walls(room, stand.at))
    target = _target(stand.look_at, layout, room, stand.eye)
    return Viewpoint(name=stand.name, eye=_metres(*eye, stand.eye), towards=target, half_width=0.9)


def _target(name: str, layout: Layout, room: Room, eye: float) -> Vector:
    parts = (*layout.coffers, *layout.slats, *layout.trim, *layout.beams, *layout.pieces, *layout.half_beams)
    for thing in parts:
        if thing.id == name:
            c = shapely.Polygon(thing.outline).centroid
            return _metres(c.x, c.y, ceiling_height(room, (c.x, c.y)))
    for hole in layout.cut_outs:
        if hole.name == name:
            return _metres(*hole.centre, ceiling_height(room, hole.centre))
    if name in room.walls or name[::-1] in room.walls:
        (ax, ay), (bx, by) = room.wall(name)
        return _metres((ax + bx) / 2, (ay + by) / 2, eye + 400.0)
    if name in room.corners:
        return _metres(*room.corner(name), eye + 400.0)
    return _metres(room.centre[0], room.centre[1], room.centre[2])


def cameras_of(room: Room, layout: Layout, look: Look) -> dict[str, Viewpoint]:
    """Every view's camera, the config's own among them."""
    area, windows = standing_room(room), look.of_kind("window")
    door = best_frame(room, layout, windows, _door_places(room, look.of_kind("door"), standing_room(room, HELD)))
    seat = best_frame(room, layout, windows, _seat_places(room, door), partial(_anywhere, room, door))
    made: Iterable[Viewpoint] = (
        door.viewpoint("door", STANDING),
        seat.viewpoint("seat", SEATED),
        _up(room),
        _corner(layout, room, look, area),
        *(_stand(stand, layout, room, area) for stand in look.stands),
    )
    return {camera.name: camera for camera in made}


def lamp_places(room: Room, cameras: Mapping[str, Viewpoint]) -> tuple[Point, ...]:
    """Where lamps stand in a room that none hangs in: one to fifteen square metres, along the walls, well apart.

    Out of the way of who looks from door and seat: neither close by nor near a picture's edge, where a ball is an egg.
    """
    views = [cameras[name] for name in ("door", "seat")]
    odd = {at: max(_odd(at, view) for view in views) for at in _along_walls(standing_room(room, LAMP_CLEAR))}
    places = sorted(odd, key=lambda at: odd[at])
    chosen = places[:1]
    for at in (place for place in places if odd[place] < 1.5):
        if all(math.dist(at, other) > LAMP_APART for other in chosen):
            chosen.append(at)
    return tuple(chosen[: max(1, round(shapely.Polygon(room.points).area / 15e6))])


def _odd(at: Point, view: Viewpoint) -> float:
    """How odd a lamp looks: more than 1 at a picture's edge or close to the eye; not at all where it is not seen."""
    dx, dy = view.towards[0] - view.eye[0], view.towards[1] - view.eye[1]
    x, y = at[0] / 1000.0 - view.eye[0], at[1] / 1000.0 - view.eye[1]
    ahead, aside = (x * dx + y * dy) / math.hypot(dx, dy), abs(x * dy - y * dx) / math.hypot(dx, dy)
    if ahead <= 0.0 or aside > 1.2 * view.half_width * ahead:
        return 0.0
    return max(1.6 * aside / (view.half_width * ahead), LAMP_AWAY / (1000.0 * ahead))
