"""Overlap of parts by another library's booleans on their meshes: a referee for every other way to find it."""

from collections.abc import Sequence

import manifold3d
import numpy as np
import shapely

from lacunar.parts import Part, mesh

NOISE = 1e-6
"""mm3. Parts that only touch give up to 1e-8 mm3 in double precision; 0.05 mm over a hand's breadth gives hundreds."""


def manifold(part: Part) -> manifold3d.Manifold:
    """A part as the referee holds it, pockets and all."""
    found = mesh(part)
    body = manifold3d.Manifold(manifold3d.Mesh64(found.vertices, found.faces.astype(np.uint64)))
    assert body.status() == manifold3d.Error.NoError, part.id
    return body


def overlap(one: Part, other: Part) -> float:
    """Volume in mm3 that both parts fill."""
    return float((manifold(one) ^ manifold(other)).volume())


def overlaps(parts: Sequence[Part]) -> dict[tuple[str, str], float]:
    """Every pair of parts that fill some space together, and how much in mm3."""
    plans = [shapely.Polygon(part.outline, part.holes) for part in parts]
    bodies = [manifold(part) for part in parts]
    found: dict[tuple[str, str], float] = {}
    first, second = shapely.STRtree(plans).query(plans)
    for i, j in zip(map(int, first), map(int, second), strict=True):
        volume = (bodies[i] ^ bodies[j]).volume() if i < j else 0.0
        if volume > NOISE:
            found[parts[i].id, parts[j].id] = volume
    return found
