"""Even light for the ceiling taken apart: each vertex takes what open sky it sees, brightest from below in front."""

from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from lacunar.scene.bake import first_hits, hemisphere, world
from lacunar.scene.noise import Floats, f32
from lacunar.scene.rays import rays_for
from lacunar.scene.types import Body, Indices

KEY = (-0.40, -0.62, -0.68)
"""Where most of the light comes from. Source: tuned by eye."""

RAYS = 64


def studio_light(bodies: Iterable[Body]) -> tuple[Body, ...]:
    """The bodies, moved to where the exploded view has them, with light of their own."""
    moved = [replace(b, points=b.points + f32(b.explode)) for b in bodies]
    counts = np.cumsum([0, *(len(b.points) for b in moved)])
    points = np.concatenate([b.points for b in moved])
    normals = np.concatenate([b.normals for b in moved])
    faces = np.concatenate([b.faces + counts[i] for i, b in enumerate(moved)]).astype(np.int32)
    light = _light(points, normals, faces)
    out = [replace(b, light=light[counts[i] : counts[i + 1]]) for i, b in enumerate(moved)]
    return tuple(_plain(b) if b.layer == "above" else b for b in out)


def _plain(body: Body) -> Body:
    """What lies above is scenery: it keeps an even light, without the shadow of all that hangs below it."""
    level = f32(0.60) - f32(0.10) * (body.normals @ f32((0.5, 0.6, 0.3)))
    return replace(body, light=np.repeat(level[:, None], 3, axis=1))


def _light(points: Floats, normals: Floats, faces: Indices) -> Floats:
    key = np.round(np.column_stack([points * 500.0, normals * 50.0])).astype(np.int64)
    _, first, place = np.unique(key, axis=0, return_index=True, return_inverse=True)
    n = normals[first]
    rays = rays_for(points, faces)
    if rays is None:
        level = 0.75 + 0.25 * n @ f32(KEY)
        return np.repeat(level[place.reshape(-1), None], 3, axis=1).astype(np.float32)
    hits, _ = first_hits(rays, normals[faces[:, 0]], f32(points[first] + 0.003 * n), n, RAYS)
    sky = np.maximum(0.55 + 0.75 * (world(n, hemisphere(RAYS)) @ f32(KEY)), 0.12)
    level = np.where(hits < 0, sky, 0.16).mean(axis=1)
    return np.repeat(level[place.reshape(-1), None], 3, axis=1).astype(np.float32)
