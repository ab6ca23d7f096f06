"""The ceiling taken apart: joists and old ceiling, furring, beams, slats and trim, one clear below the other."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import numpy as np
import shapely

from lacunar.pictures.captions import INK, Canvas, Pixels
from lacunar.pictures.projection import framed, project
from lacunar.pictures.shader import neutral
from lacunar.pictures.stage import Stage
from lacunar.scene import Body, Scene, Viewpoint, studio_light

LOOK: Final = (0.26, 0.90, 0.25)
"""Looked along: upwards from in front, past B and A, as one stands in the room. Source: tuned by eye."""

LAYERS: Final = ("above", "furring", "beams", "slats", "trim")
"""From the top down."""

BETWEEN: Final = 0.02
"""Of the room's width on the picture: from one layer to the next."""

LEFT: Final = 0.19
"""Share of the picture for the words."""

COUNTED: Final = {
    "existing beam": "existing beams",
    "main beam": "new main beams",
    "cross beam": "cross beam pieces",
    "half beam": "half beams",
    "moulding": "pieces of moulding",
    "furring": "strips of furring",
    "slat": "slats",
    "trim": "strips of trim",
    "joist": "joists",
    "joist (assumed)": "joists, assumed",
}
"""Kinds of bodies in words, many of them."""


def exploded(stage: Stage, scene: Scene) -> Pixels:
    """The picture."""
    bodies = studio_light(apart(scene.bodies))
    points = np.concatenate([b.points for b in bodies])
    camera = framed(points, LOOK, stage.size[0] / stage.size[1], (LEFT, 0.03, 0.03, 0.03))
    stage.clear("#f7f6f2")
    stage.dress(bodies, lambda _body, _material: neutral(lit=True))
    edges = [b.edges + np.array(b.explode, np.float32) for b in bodies if b.edges is not None]
    stage.lines(edges, (0.10, 0.07, 0.05), 0.8, 0.7)
    return _labelled(stage.picture(camera), bodies, camera)


def apart(bodies: Sequence[Body]) -> list[Body]:
    """The bodies that are shown, each with how far it goes so that its layer is clear of the one over it."""
    camera = framed(np.concatenate([b.points for b in bodies]), LOOK, 1.0, (0.0, 0.0, 0.0, 0.0))
    rise = project(camera, [(0.0, 0.0, 0.0), (0.0, 0.0, 1.0)], (1000, 1000))[:, 1]
    out: list[Body] = []
    by, foot = 0.0, np.empty(0)
    for layer in LAYERS:
        group = [b for b in bodies if b.layer == layer]
        if not group:
            continue
        top, low = _reach(project(camera, np.concatenate([b.points for b in group]), (1000, 1000))[:, :2])
        if len(foot):
            # Pixels run down the page.
            by = float(np.nanmax(foot - top)) + 1000.0 * BETWEEN
        out += [replace(b, explode=(0.0, 0.0, -by / float(rise[0] - rise[1]))) for b in group]
        foot = low + by
    return out


def _reach(places: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Highest and lowest of the hull of places in each of many upright strips of a picture of 1000 pixels."""
    ring = shapely.get_coordinates(shapely.convex_hull(shapely.multipoints(places)))
    pairs = np.stack([ring, np.roll(ring, -1, axis=0)], axis=1)
    xs = np.linspace(0.0, 1000.0, 201)
    (x0, y0), (x1, y1) = pairs[:, 0].T, pairs[:, 1].T
    flat = np.abs(x1 - x0) < 1e-9
    share = (xs[:, None] - x0) / np.where(flat, 1.0, x1 - x0)
    y = np.where((share >= 0.0) & (share <= 1.0) & ~flat, y0 + share * (y1 - y0), np.nan)
    # Beyond its ends a layer is in nobody's way.
    hit = np.isfinite(y).any(axis=1)
    high, low = np.full(len(xs), np.nan), np.full(len(xs), np.nan)
    high[hit], low[hit] = np.nanmin(y[hit], axis=1), np.nanmax(y[hit], axis=1)
    return high, low


def counted(group: Sequence[Body]) -> list[str]:
    """What a layer is made of, one line a kind; things in several pieces, like a joist round a corner, count once."""
    kinds = Counter(kind for kind, _ in {(b.kind, b.name): None for b in group} if kind in COUNTED)
    lines = [f"{n} {COUNTED[kind]}" if n > 1 else f"1 {kind}" for kind, n in kinds.items()]
    return ["old ceiling", *lines] if any(b.name == "old ceiling" for b in group) else lines


def _labelled(image: Pixels, bodies: Sequence[Body], camera: Viewpoint) -> Pixels:
    sheet = Canvas(image)
    s, size = sheet.size, (image.shape[1], image.shape[0])
    for layer in LAYERS:
        group = [b for b in bodies if b.layer == layer]
        if not group:
            continue
        moved = np.concatenate([b.points for b in group])
        places = project(camera, moved, size)
        left = places[np.argmin(places[:, 0])]
        lines = counted(group)
        y = float(left[1]) - 0.7 * s * (len(lines) - 1)
        for k, line in enumerate(lines):
            wide = sheet.extent(line)[0]
            sheet.place(line, [(wide / 2 + 1.2 * s, y + (k + d) * 1.4 * s) for d in (0, 0.5, -0.5, 1, -1, 2, -2)])
        start = max(sheet.extent(line)[0] for line in lines) + 1.2 * s + 8
        if start < left[0] - 8:
            sheet.draw.line((start, left[1], float(left[0]) - 4, left[1]), fill=INK, width=max(1, s // 12))
    return sheet.pixels
