"""The ceiling taken apart: joists and old ceiling, furring, beams, slats and trim, one above the other."""

import numpy as np

from lacunar.pictures.captions import INK, Canvas, Pixels
from lacunar.pictures.projection import framed, project
from lacunar.pictures.shader import neutral
from lacunar.pictures.stage import Stage
from lacunar.scene import Body, Scene, Viewpoint, studio_light

LOOK = (0.30, 0.88, 0.33)
"""Looked along: upwards from in front, past B and A, as one stands in the room."""

NAMES = {"above": "old ceiling", "furring": "furring", "beams": "beams", "slats": "slats", "trim": "trim"}


def exploded(stage: Stage, scene: Scene) -> Pixels:
    """The picture."""
    bodies = studio_light(b for b in scene.bodies if b.layer in NAMES)
    points = np.concatenate([b.points for b in bodies])
    camera = framed(points, LOOK, stage.size[0] / stage.size[1], (0.17, 0.03, 0.03, 0.03))
    stage.clear("#f7f6f2")
    stage.dress(bodies, lambda _body, _material: neutral(lit=True))
    edges = [b.edges + np.array(b.explode, np.float32) for b in bodies if b.edges is not None]
    stage.lines(edges, (0.10, 0.07, 0.05), 0.8, 0.7)
    return _labelled(stage.picture(camera), bodies, camera)


def _text(layer: str, group: list[Body]) -> str:
    joists = [b for b in group if b.kind.startswith("joist")]
    if layer == "above":
        known = f", {len(joists)} {joists[0].kind.replace('joist', 'joists')}" if joists else ""
        return NAMES[layer] + known
    return f"{NAMES[layer]} ({len(group)})"


def _labelled(image: Pixels, bodies: tuple[Body, ...], camera: Viewpoint) -> Pixels:
    sheet = Canvas(image)
    height, width = image.shape[:2]
    for layer in NAMES:
        group = [b for b in bodies if b.layer == layer]
        if not group:
            continue
        places = project(camera, np.concatenate([b.points for b in group]), (width, height))
        left = places[np.argmin(places[:, 0])]
        lines = _text(layer, group).split(", ")
        wide = max(sheet.extent(line)[0] for line in lines)
        x, y = wide / 2 + 1.2 * sheet.size, float(left[1])
        for k, line in enumerate(lines):
            sheet.place(line, [(x, y + (k + d) * 1.4 * sheet.size) for d in (0, 1, -1, 2, -2, 3, -3)])
        sheet.draw.line((x + wide / 2 + 6, y, float(left[0]) - 4, y), fill=INK, width=max(1, sheet.size // 12))
    return sheet.pixels
