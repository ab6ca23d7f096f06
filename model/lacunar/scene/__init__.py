"""The ceiling in its room, ready to be looked at: meshes, materials, lights and cameras; no renderer."""

from lacunar.scene.colour import decode, encode, wood_colour
from lacunar.scene.make import make_scene
from lacunar.scene.studio import studio_light
from lacunar.scene.types import (
    Appearance,
    Body,
    CutFace,
    CutView,
    Lamp,
    Letter,
    Lights,
    Measure,
    Quality,
    Scene,
    Sun,
    Vector,
    Viewpoint,
    WindowLight,
    clear_share,
    vector,
    window_groups,
)

__all__ = [
    "Appearance",
    "Body",
    "CutFace",
    "CutView",
    "Lamp",
    "Letter",
    "Lights",
    "Measure",
    "Quality",
    "Scene",
    "Sun",
    "Vector",
    "Viewpoint",
    "WindowLight",
    "clear_share",
    "decode",
    "encode",
    "make_scene",
    "studio_light",
    "vector",
    "window_groups",
    "wood_colour",
]
