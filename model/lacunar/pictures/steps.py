"""How a ceiling comes to be: six pictures from one place, from the bare room to the finished one."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import numpy as np
from PIL import Image

from lacunar.pictures.captions import INK, PAPER, Canvas, Pixels, font
from lacunar.pictures.photo import photos
from lacunar.pictures.projection import project
from lacunar.pictures.shader import neutral
from lacunar.pictures.stage import Stage
from lacunar.scene import Body, Scene, Viewpoint

COLUMNS, ROWS = 3, 2

THERE: Final = ("existing beam", "moulding")
"""Kinds that hang before any work begins."""

PAINT: Final = np.array([0.0, 0.0, -0.002], np.float32)
"""m. So far below the old ceiling its paint is drawn, or the two would fight for the same pixels."""


def steps(scene: Scene, size: tuple[int, int], samples: int) -> Pixels:
    """The sheet; the last picture has the room's own light, the others an even one."""
    sheet = Canvas(np.full((size[1], size[0], 3), PAPER, dtype=np.uint8))
    s = sheet.size
    gap, words = round(0.8 * s), round(2.0 * s)
    tile = (size[0] - gap * (COLUMNS + 1)) // COLUMNS, (size[1] - gap * (ROWS + 1)) // ROWS - words
    camera = scene.cameras["door"]
    coffer = _first(scene, camera, tile)
    for k, (name, image) in enumerate(_pictures(scene, camera, coffer, tile, samples)):
        x, y = gap + k % COLUMNS * (tile[0] + gap), gap + k // COLUMNS * (tile[1] + words + gap)
        sheet.image.paste(Image.fromarray(image), (x, y))
        sheet.draw.text((x, y + tile[1] + words / 2), f"{k + 1}  {name}", font=font(s, True), fill=INK, anchor="lm")
    return sheet.pixels


def _first(scene: Scene, camera: Viewpoint, size: tuple[int, int]) -> str:
    """Of the coffers whose middle is in view, the one that takes most of the picture."""
    worth: dict[str, float] = {}
    for body in (b for b in scene.bodies if b.layer == "old ceiling" and b.coffer):
        spots = project(camera, [*body.points, body.points.mean(axis=0)], size)
        x, y, ahead = spots[-1]
        in_view = spots[:, 2].min() > 0.1 and 0.1 * size[0] < x < 0.9 * size[0] and 0.05 * size[1] < y < 0.95 * size[1]
        area = float(np.ptp(spots[:, 0]) * np.ptp(spots[:, 1]))
        worth[body.coffer or ""] = area if in_view else 1e-6 / max(ahead, 1e-3)
    return max(worth, key=lambda name: worth[name], default="")


def stages(bodies: Sequence[Body], coffer: str) -> list[tuple[str, list[Body]]]:
    """What is there after each step; the last one is the room as it is lived in."""
    room = [b for b in bodies if b.layer == "room" or b.name == "old ceiling"]
    bare = [*room, *(b for b in bodies if b.kind in THERE)]
    beams = [*room, *(b for b in bodies if b.layer == "beams")]
    covering = [b for b in bodies if b.layer in ("furring", "slats", "old ceiling") and b.coffer]
    covering = [replace(b, points=b.points + PAINT) if b.layer == "old ceiling" else b for b in covering]
    slats = [*beams, *covering]
    return [
        ("bare", bare),
        ("beams", beams),
        (
            f"first coffer, {coffer}",
            [*beams, *(b for b in covering if b.coffer == coffer)],
        ),
        ("all slats", slats),
        ("trim", [*slats, *(b for b in bodies if b.layer == "trim")]),
    ]


def _pictures(
    scene: Scene, camera: Viewpoint, coffer: str, size: tuple[int, int], samples: int
) -> list[tuple[str, Pixels]]:
    stage = Stage(scene, size, samples)
    out: list[tuple[str, Pixels]] = []
    try:
        for name, bodies in stages(scene.bodies, coffer):
            stage.clear("#dfe7ee")
            stage.dress(bodies, lambda _body, _material: neutral())
            edges = [b.edges for b in bodies if b.edges is not None and b.layer != "above"]
            stage.lines(edges, (0.10, 0.07, 0.05), 0.8, 0.5)
            out.append((name, stage.picture(camera)))
        out += [("finished", image) for _, image in photos(stage, scene, [replace(camera, letters=False)])]
    finally:
        stage.close()
    return out
