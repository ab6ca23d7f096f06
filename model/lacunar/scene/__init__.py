"""The ceiling in its room, ready to be looked at: meshes, materials, lights and cameras; no renderer."""

from lacunar.scene.colour import decode, encode, wood_colour
from lacunar.scene.flat import flat_of
from lacunar.scene.make import make_scene
from lacunar.scene.studio import studio_light
from lacunar.scene.types import (
    Appearance,
    Body,
    CutFace,
    CutView,
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
    vector,
)

__all__ = [
    "Appearance",
    "Body",
    "CutFace",
    "CutView",
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
    "decode",
    "encode",
    "flat_of",
    "make_scene",
    "studio_light",
    "vector",
    "wood_colour",
]
