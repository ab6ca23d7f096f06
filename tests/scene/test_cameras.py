"""Cameras stand inside whatever room there is."""

import math
from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from lacunar.geometry import Plane, Point
from lacunar.scene.cameras import cameras_of
from lacunar.scene.look import Look, Opening
from lacunar.scene.types import Viewpoint
from lacunar.survey import Room
from scene.sample_room import box_room, box_scene

VIEWS = {"door", "seat", "up", "corner"}


def room_of(points: tuple[Point, ...], height: float = 2500.0) -> Room:
    """A room of these corners, clockwise."""
    x, y = (sum(c) / len(points) for c in zip(*points, strict=True))
    return replace(
        box_room().room,
        corners=tuple("ABCDEFGH"[: len(points)]),
        points=points,
        heights=(height,) * len(points),
        centre=(x, y, height),
        ceiling=Plane(z0=height),
        marks={},
    )


def cameras_in(room: Room, look: Look | None = None) -> dict[str, Viewpoint]:
    layout = replace(box_room().layout, coffers=(), cut_outs=())
    return cameras_of(room, layout, look or Look())


def check_inside(room: Room, cameras: dict[str, Viewpoint]) -> None:
    whole = shapely.Polygon(room.points)
    for camera in cameras.values():
        eye = shapely.Point(1000.0 * camera.eye[0], 1000.0 * camera.eye[1])
        assert whole.contains(eye), camera.name
        assert 0 < camera.eye[2] < 0.001 * min(room.heights), camera.name
        assert math.dist(camera.eye, camera.towards) > 0.01


@settings(max_examples=40, deadline=None)
@given(
    st.floats(900, 14000),
    st.floats(900, 9000),
    st.lists(st.floats(-150, 150), min_size=8, max_size=8),
    st.floats(1900, 4500),
)
def test_in_out_of_square_rooms(length: float, width: float, shifts: list[float], height: float) -> None:
    square = ((0.0, width), (length, width), (length, 0.0), (0.0, 0.0))
    points = tuple((x + shifts[2 * i], y + shifts[2 * i + 1]) for i, (x, y) in enumerate(square))
    room = room_of(points, height)
    door = Opening(kind="door", wall="DA", start=80.0, width=700.0, sill=0.0, head=1800.0)
    cameras = cameras_in(room, Look(openings=(door,)))
    assert set(cameras) == VIEWS
    check_inside(room, cameras)


L_ROOM = ((0.0, 3000.0), (1800.0, 3000.0), (1800.0, 1500.0), (4000.0, 1500.0), (4000.0, 0.0), (0.0, 0.0))
CORRIDOR = ((0.0, 700.0), (8000.0, 700.0), (8000.0, 0.0), (0.0, 0.0))


@pytest.mark.parametrize("points", [L_ROOM, CORRIDOR])
def test_in_bent_and_narrow_rooms(points: tuple[Point, ...]) -> None:
    room = room_of(points)
    cameras = cameras_in(room)
    check_inside(room, cameras)
    door, seat = cameras["door"], cameras["seat"]
    assert math.dist(door.eye[:2], seat.eye[:2]) > 0.3 or door.towards != seat.towards


def test_eyes_are_at_people_s_heights() -> None:
    cameras = box_scene().cameras
    assert cameras["door"].eye[2] == pytest.approx(1.6)
    assert cameras["seat"].eye[2] == pytest.approx(1.2)


def test_the_door_view_starts_at_the_door() -> None:
    """The door is 300 to 1100 mm from D along DA: its middle is 700 mm above CD, at the left."""
    eye = box_scene().cameras["door"].eye
    assert eye[0] < 0.6
    assert eye[1] == pytest.approx(0.7, abs=0.1)


def test_up_looks_straight_up_with_ab_at_the_top() -> None:
    up = box_scene().cameras["up"]
    assert up.letters
    assert up.eye[:2] == up.towards[:2]
    assert up.up == (0.0, 1.0, 0.0)


def test_the_config_s_own_camera() -> None:
    """600 mm from BC and 500 mm from CD, looking at the middle of C1."""
    camera = box_scene().cameras["shelf"]
    room = box_room().room
    eye = (1000 * camera.eye[0], 1000 * camera.eye[1])
    assert -room.wall_line("BC").offset(eye) == pytest.approx(600.0, abs=0.01)
    assert -room.wall_line("CD").offset(eye) == pytest.approx(500.0, abs=0.01)
    c1 = shapely.Polygon(box_room().layout.coffers[0].outline)
    assert c1.contains(shapely.Point(1000 * camera.towards[0], 1000 * camera.towards[1]))
