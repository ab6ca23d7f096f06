"""Views that should look like photographs: from the door, from a seat, up, into a corner."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np
from PIL import Image, ImageFilter

from lacunar.pictures.captions import Canvas, Pixels
from lacunar.pictures.projection import project
from lacunar.pictures.shader import fragment
from lacunar.scene import Scene, Viewpoint

if TYPE_CHECKING:
    from lacunar.pictures.stage import Stage


UNSEEN = ("above", "pockets")
"""Layers: what lies above shares its faces with the old ceiling, which breaks up behind the gaps."""


def photos(stage: "Stage", scene: Scene, cameras: list[Viewpoint]) -> Iterator[tuple[Viewpoint, Pixels]]:
    """One picture a camera."""
    stage.clear("black")
    stage.scene = scene
    shown = [body for body in scene.bodies if body.layer not in UNSEEN]
    stage.dress(shown, lambda _body, material: fragment(scene, material))
    for camera in cameras:
        picture = with_bloom(stage.picture(camera))
        yield camera, lettered(picture, scene, camera) if camera.letters else picture


def with_bloom(image: Pixels, strength: float = 0.22) -> Pixels:
    """Bright windows spill a little light into the lens."""
    height, width = image.shape[:2]
    small = Image.fromarray(image).resize((max(1, width // 4), max(1, height // 4)), Image.Resampling.BOX)
    bright = small.point([max(0, v - 205) * 5 for v in range(256)] * 3)
    spread = bright.filter(ImageFilter.GaussianBlur(width / 4 / 70)).resize((width, height), Image.Resampling.BILINEAR)
    # Screen: light adds and never passes white.
    dark = (255 - image).astype(np.uint16)
    kept = 255 - (np.asarray(spread, dtype=np.float32) * strength).astype(np.uint16)
    return (255 - dark * kept // 255).astype(np.uint8)


def lettered(image: Pixels, scene: Scene, camera: Viewpoint) -> Pixels:
    """The corners' letters, written where the room's corners are."""
    sheet = Canvas(image)
    height, width = image.shape[:2]
    places = project(camera, [letter.at for letter in scene.letters], (width, height))
    edge = 1.6 * sheet.size
    for letter, (x, y, ahead) in zip(scene.letters, places, strict=True):
        if ahead > 0:
            at = (float(np.clip(x, edge, width - edge)), float(np.clip(y, edge, height - edge)))
            sheet.text(at, letter.text, bold=True, scale=1.7)
    return sheet.pixels
