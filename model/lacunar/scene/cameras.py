"""Where to look from: places that exist in every room, however small, long or bent.

A room's own eye heights, and a frame moved up as with a view camera: walls stay upright and the ceiling fills
most of the picture.
"""

import math
from collections.abc import Iterable, Sequence

import numpy as np
import shapely
from shapely.ops import nearest_points

from lacunar.config import CameraTable
from lacunar.geometry import Point
from lacunar.layout import Layout
from lacunar.scene.look import Look, Opening
from lacunar.scene.shell import wall_frame
from lacunar.scene.types import Vector, Viewpoint, vector
from lacunar.survey import Room, ceiling_height, point_from_walls

STANDING, SEATED = 1600.0, 1200.0
"""mm, eye heights."""

CLEAR = 320.0
"""mm that an eye keeps from the walls where the room allows."""

ASPECT = 1.6
"""Width over height of every picture."""


def _metres(x: float, y: float, z: float) -> Vector:
    return vector((x, y, z), 1000.0)


def standing_room(room: Room) -> shapely.Polygon:
    """Where an eye may be: the room, as far from the walls as it allows, in one piece."""
    whole = shapely.Polygon(room.points).buffer(0)
    clear = CLEAR
    while clear > 1.0:
        inner = whole.buffer(-clear)
        if not inner.is_empty:
            parts = [p for p in shapely.get_parts(inner) if isinstance(p, shapely.Polygon)]
            return max(parts, key=lambda p: p.area)
        clear *= 0.6
    return shapely.Polygon(whole.representative_point().buffer(1.0))


def _nearest(area: shapely.Polygon, point: Point) -> Point:
    x, y = nearest_points(area, shapely.Point(point))[0].coords[0]
    return (float(x), float(y))


def _reach(room: Room, eye: Point, towards: float) -> float:
    """How far one sees from a place in a direction before a wall."""
    far = 1e5
    ray = shapely.LineString([eye, (eye[0] + far * math.cos(towards), eye[1] + far * math.sin(towards))])
    seen = ray.intersection(shapely.Polygon(room.points))
    pieces = [p for p in shapely.get_parts(seen) if p.distance(shapely.Point(eye)) < 1.0]
    return max((float(p.length) for p in pieces), default=0.0)


def _longest_view(room: Room, eye: Point) -> float:
    """The direction in which most of the room lies: reaches are averaged over a hand's breadth of angle."""
    turns = np.linspace(0, 2 * math.pi, 120, endpoint=False)
    reach = np.array([_reach(room, eye, t) for t in turns])
    window = np.array([0.25, 0.5, 0.75, 1.0, 1.0, 1.0, 0.75, 0.5, 0.25])
    padded = np.concatenate([reach[-4:], reach, reach[:4]])
    return float(turns[int(np.argmax(np.convolve(padded, window, "valid")))])


def _level(name: str, room: Room, eye: Point, height: float, towards: float, half_width: float = 0.98) -> Viewpoint:
    """A level view with its frame moved up until the ceiling fills the upper part.

    The frame's foot is set just under the far wall's foot or a third of the way down to it, whichever is higher, and
    in a small room so high that the far wall does not fill half of the picture.
    """
    half_height = half_width / ASPECT
    reach = max(_reach(room, eye, towards), 300.0)
    over = (min(room.heights) - height) / reach
    foot = max(-height / reach - 0.05, -0.36, over - 0.85 * half_height)
    x, y = eye[0] + 1000.0 * math.cos(towards), eye[1] + 1000.0 * math.sin(towards)
    return Viewpoint(
        name=name,
        eye=_metres(*eye, height),
        towards=_metres(x, y, height),
        half_width=half_width,
        shift=(0.0, (foot + half_height) / half_height),
    )


def _door_place(room: Room, doors: Sequence[Opening], windows: Sequence[Opening], area: shapely.Polygon) -> Point:
    """Just inside the first door; without one, the corner farthest from the windows."""
    if doors:
        return _nearest(area, _middle(room, doors[0], 420.0))
    corners = [_nearest(area, p) for p in room.points]
    if not windows:
        return corners[len(corners) // 2]
    lights = [_middle(room, w) for w in windows]
    return max(corners, key=lambda c: min(math.dist(c, w) for w in lights))


def _middle(room: Room, o: Opening, inward: float = 0.0) -> Point:
    corner, frame, _ = wall_frame(room, o.wall)
    p = corner + (o.start + o.width / 2) * frame[0] + inward * frame[2]
    return (float(p[0]), float(p[1]))


def _seat_place(room: Room, area: shapely.Polygon, door: Point, door_view: float) -> tuple[Point, float]:
    """A corner a chair's depth from the walls that looks another way than the door's view."""
    seats = area.buffer(-350.0)
    seats = area if seats.is_empty else max(shapely.get_parts(seats), key=lambda p: p.area)
    places = [_nearest(seats, corner) for corner in room.points]

    def worth(seat: tuple[Point, float]) -> float:
        place, view = seat
        turn = abs(math.remainder(view - door_view, 2 * math.pi))
        return min(turn, 2.0) * _reach(room, place, view) * (1.0 if math.dist(place, door) > 800.0 else 0.5)

    return max(((place, _longest_view(room, place)) for place in places), key=worth)


def _up(room: Room) -> Viewpoint:
    """Straight up from the floor in the room's middle; AB lies at the top and A at the right: the plan's mirror."""
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


def _corner(layout: Layout, room: Room, area: shapely.Polygon) -> Viewpoint:
    """Close under one coffer's corner, if there is one where two beams meet."""
    spots: list[tuple[bool, int, float, Point, Point]] = []
    walls = set(room.walls)
    middle = room.centre[:2]
    lamps = {hole.coffer for hole in layout.cut_outs}
    for coffer in layout.coffers:
        sides = coffer.sides
        inner = shapely.Polygon(coffer.outline).centroid
        for before, after in zip(sides[-1:] + sides[:-1], sides, strict=True):
            beams = (before.against not in walls) + (after.against not in walls)
            centre, away = (float(inner.x), float(inner.y)), math.dist(after.start, middle)
            spots.append((coffer.id not in lamps, beams, -away, after.start, centre))
    if not spots:
        spots = [(True, 0, 0.0, room.points[0], room.centre[:2])]
    _, _, _, spot, inner = max(spots)
    away = math.hypot(inner[0] - spot[0], inner[1] - spot[1]) or 1.0
    back = min(1250.0, max(700.0, 1.5 * away))
    eye = _nearest(area, (spot[0] + back * (inner[0] - spot[0]) / away, spot[1] + back * (inner[1] - spot[1]) / away))
    aim = (spot[0] + 0.22 * (inner[0] - spot[0]), spot[1] + 0.22 * (inner[1] - spot[1]))
    z = ceiling_height(room, spot) - 110.0
    return Viewpoint(name="corner", eye=_metres(*eye, STANDING), towards=_metres(*aim, z), half_width=0.78)


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
    area = standing_room(room)
    door = _door_place(room, look.of_kind("door"), look.of_kind("window"), area)
    view = _longest_view(room, door)
    seat, other = _seat_place(room, area, door, view)
    made: Iterable[Viewpoint] = (
        _level("door", room, door, STANDING, view),
        _level("seat", room, seat, SEATED, other, 0.92),
        _up(room),
        _corner(layout, room, area),
        *(_stand(stand, layout, room, area) for stand in look.stands),
    )
    return {camera.name: camera for camera in made}
