"""The ceiling in its room, ready to be looked at: meshes, materials, lights and cameras; no renderer."""

from lacunar.scene.colour import decode, encode, wood_colour
from lacunar.scene.flat import flat_of
from lacunar.scene.hours import by_lamplight, set_alike
from lacunar.scene.look import look_of
from lacunar.scene.make import make_scene
from lacunar.scene.section import sections_of
from lacunar.scene.studio import studio_light
from lacunar.scene.types import (
    Appearance,
    Body,
    CutFace,
    CutView,
    Evening,
    FaceKind,
    Flat,
    FlatShape,
    GapMark,
    Hiding,
    Lamp,
    Letter,
    Lights,
    Measure,
    PocketMark,
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
    "Evening",
    "FaceKind",
    "Flat",
    "FlatShape",
    "GapMark",
    "Hiding",
    "Lamp",
    "Letter",
    "Lights",
    "Measure",
    "PocketMark",
    "Quality",
    "Scene",
    "Sun",
    "Vector",
    "Viewpoint",
    "WindowLight",
    "by_lamplight",
    "clear_share",
    "decode",
    "encode",
    "flat_of",
    "look_of",
    "make_scene",
    "sections_of",
    "set_alike",
    "studio_light",
    "vector",
    "window_groups",
    "wood_colour",
]
