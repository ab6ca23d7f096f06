"""How much of the open the ceiling's surfaces see: shade for viewers that bring a light of their own."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

import numpy as np

from lacunar.scene.bake import BURIED, filled, first_hits, smoothed
from lacunar.scene.bodies import Raw
from lacunar.scene.lighting import GAP_LIGHT, surfaces_of
from lacunar.scene.noise import Floats, f32
from lacunar.scene.rays import rays_for
from lacunar.scene.types import Appearance, Layer

HANGING: tuple[Layer, ...] = ("beams", "furring", "slats", "trim", "mouths", "old ceiling", "fixture")
"""What is shown to hang; nothing else hides the open, so that what hangs is bright from below and from above."""

UNHIDING: tuple[Layer, ...] = ("old ceiling", "fixture")
"""What throws no shade on the others: the first is seen through gaps alone, the second is lit by itself."""

RAYS = 64


def with_shade(raws: list[Raw], materials: Mapping[str, Appearance]) -> list[Raw]:
    """Bodies that hang with their shade, and then all the others; even where embree is not installed."""
    hanging = [raw for raw in raws if raw.body.layer in HANGING]
    hanging.sort(key=lambda raw: raw.body.layer in UNHIDING)
    surfaces, points, faces, lit_by = surfaces_of(hanging, materials)
    hiding = sum(len(raw.body.faces) for raw in hanging if raw.body.layer not in UNHIDING)
    rays, open_ = rays_for(points, faces[:hiding]), np.ones((len(surfaces.probes), 1), dtype=np.float32)
    if rays is not None and hiding:
        hits, behind = first_hits(rays, surfaces.facing, surfaces.probes, surfaces.normals, RAYS)
        seen = f32((hits < 0).mean(axis=1) - behind)[:, None]
        open_ = smoothed(surfaces, filled(surfaces, seen, behind > BURIED), 1)
    return [*_shaded(hanging, open_[lit_by, 0].mean(axis=1)), *(raw for raw in raws if raw.body.layer not in HANGING)]


def _shaded(hanging: list[Raw], open_: Floats) -> Iterator[Raw]:
    at = 0
    for raw in hanging:
        n = len(raw.body.points)
        shade = f32(open_[at : at + n] * raw.shape.share)
        at += n
        # Whoever turns the model over sees the backs of boards, which no room ever does.
        shade[raw.body.normals[:, 2] > 0.5] = 1.0
        if raw.body.layer == "old ceiling":
            shade[:] = GAP_LIGHT
        yield replace(raw, body=replace(raw.body, shade=shade))
