"""Things for scale stand in the room, apart, and out of the cameras' way."""

import itertools
import math

import pytest
import shapely

from lacunar.pictures import can_render, pictures_of
from lacunar.scene.cameras import cameras_of
from lacunar.scene.furniture import AISLE, FROM_EYES, furniture
from lacunar.scene.look import Look, Opening
from scene.sample_room import TEXT, box_room, box_scene, sample
from scene.test_cameras import CORRIDOR, L_ROOM, room_of

ROOMS = (L_ROOM, CORRIDOR, ((0.0, 4300.0), (6200.0, 4100.0), (6100.0, 0.0), (0.0, 0.0)), ((0.0, 900.0), *CORRIDOR[2:]))


@pytest.mark.parametrize("points", ROOMS)
def test_things_stand_apart_inside_and_away_from_cameras_and_doors(points: tuple[tuple[float, float], ...]) -> None:
    room = room_of(points)
    door = Opening(kind="door", wall=room.walls[-1], start=80.0, width=400.0, sill=0.0, head=1800.0)
    look = Look(openings=(door,))
    cameras = cameras_of(room, box_room().layout, look)
    eyes = [(1000.0 * cameras[view].eye[0], 1000.0 * cameras[view].eye[1]) for view in ("door", "seat")]
    things = furniture(room, look.openings, eyes)
    for thing in things:
        assert shapely.Polygon(room.points).covers(thing.ground), thing.name
        assert min(thing.ground.distance(shapely.Point(eye)) for eye in eyes) >= FROM_EYES[thing.name] - 1.0
        low, high = thing.shape.points.min(axis=0), thing.shape.points.max(axis=0)
        assert (low[:2] >= [b - 1.0 for b in thing.ground.bounds[:2]]).all()
        assert (high[:2] <= [b + 1.0 for b in thing.ground.bounds[2:]]).all()
        assert low[2] == pytest.approx(0.0)
    for one, other in itertools.combinations(things, 2):
        assert one.ground.distance(other.ground) >= AISLE - 1.0


def test_a_usual_room_gets_all_three_and_a_cupboard_nothing() -> None:
    assert [thing.name for thing in furniture(room_of(ROOMS[2]), (), [(100.0, 100.0)])] == ["sofa", "person", "table"]
    assert furniture(room_of(((0.0, 900.0), (900.0, 900.0), (900.0, 0.0), (0.0, 0.0))), (), [(100.0, 100.0)]) == ()


def test_a_sofa_stands_with_its_back_to_a_wall() -> None:
    room = room_of(ROOMS[2])
    sofa = furniture(room, (), [(100.0, 100.0)])[0]
    back = (sofa.at[0] - math.sin(sofa.turn) * 425.0, sofa.at[1] + math.cos(sofa.turn) * 425.0)
    assert shapely.Polygon(room.points).exterior.distance(shapely.Point(back)) < 80.0


def test_a_room_is_furnished_where_that_is_asked_for_and_never_from_below() -> None:
    text = TEXT[: TEXT.index("[[camera]]")]
    furnished = sample(text.replace("height = 2600", "height = 2600\nfurnished = true")).scene(light=False, today=True)
    names = {b.name for b in furnished.bodies if b.layer == "furniture"}
    assert names
    assert len(names) == 3 or any("no room for" in note for note in furnished.notes)
    assert furnished.today is not None
    assert {b.name for b in furnished.today.bodies if b.layer == "furniture"} == names
    assert not any(b.layer == "furniture" for b in box_scene().bodies)
    if not can_render():
        bare = box_room().scene(light=False)
        for view, alike in (("up", True), ("door", False)):
            ((_, one),), ((_, other),) = (pictures_of(s, [view], "draft", (240, 160)) for s in (furnished, bare))
            assert (one == other).all() == alike, view
