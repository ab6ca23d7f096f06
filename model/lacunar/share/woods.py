"""Surfaces of a scene for a page: small pictures of woods, and even colours."""

import io
from base64 import b64encode
from typing import Any, Final

import numpy as np
from PIL import Image

from lacunar.scene import Appearance, Scene

BOARDS_PIXELS: Final = 1_000_000
OTHER_PIXELS: Final = 200_000
"""Of a picture of boards that one looks at, and of any other: a board 10 cm wide then has some 60 pixels across."""

QUALITY: Final = 75
"""Of JPEG. Source: tuned by eye; the grain of a board a metre off."""


def surfaces(scene: Scene, pictures: dict[str, int]) -> dict[str, Any]:
    """Of each material that is used its colour or the number of its picture, as values of JSON.

    Args:
        scene: of the materials.
        pictures: data: addresses with their numbers; new ones are added.
    """
    told: dict[str, Any] = {}
    known: dict[int, int] = {}
    for name in sorted({body.material for body in scene.bodies}):
        one = scene.materials[name]
        if one.pane:
            told[name] = {"pane": (np.array(scene.lights.outdoors) * np.array(scene.exposure)).tolist()}
        elif one.albedo.shape[:2] == (1, 1):
            told[name] = {"colour": one.albedo[0, 0].tolist()}
        else:
            # Woods that look alike share their image, so it is made small once.
            if id(one.albedo) not in known:
                known[id(one.albedo)] = pictures.setdefault(picture(one), len(pictures))
            told[name] = {"picture": known[id(one.albedo)]}
    return told


def picture(one: Appearance) -> str:
    """As a data: address."""
    image = Image.fromarray(one.albedo)
    most = BOARDS_PIXELS if one.boards > 1 else OTHER_PIXELS
    scale = min(1.0, (most / (image.width * image.height)) ** 0.5)
    small = image.resize((round(image.width * scale), round(image.height * scale)), Image.Resampling.BOX)
    file = io.BytesIO()
    small.save(file, "JPEG", quality=QUALITY)
    return f"data:image/jpeg;base64,{b64encode(file.getvalue()).decode()}"
