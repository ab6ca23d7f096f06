"""A small room's ceiling as viewers are shown it."""

from functools import lru_cache

from lacunar.exports import Model, model_of
from lacunar.scene import Scene, make_scene
from scene.sample_room import box_room


@lru_cache(maxsize=1)
def shaded() -> Scene:
    room = box_room()
    made = (room.parts, room.room, room.config, room.layout)
    return make_scene(*made, quality="draft", light=False, evening=False, shade=True)


@lru_cache(maxsize=1)
def box_model() -> Model:
    return model_of(shaded(), box_room().parts)
