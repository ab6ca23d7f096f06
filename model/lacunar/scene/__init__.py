"""The ceiling in its room, ready to be looked at: meshes, materials, lights and cameras; no renderer."""

from lacunar.scene.colour import decode, encode, wood_colour
from lacunar.scene.cut import Cut, CutFace, Measure
from lacunar.scene.make import make_scene
from lacunar.scene.studio import studio_light
from lacunar.scene.types import (
    Body,
    Camera,
    Lamp,
    Letter,
    Lights,
    Material,
    Quality,
    Scene,
    Sun,
    Vector,
    Window,
    vector,
)

__all__ = [
    "Body",
    "Camera",
    "Cut",
    "CutFace",
    "Lamp",
    "Letter",
    "Lights",
    "Material",
    "Measure",
    "Quality",
    "Scene",
    "Sun",
    "Vector",
    "Window",
    "decode",
    "encode",
    "make_scene",
    "studio_light",
    "vector",
    "wood_colour",
]
