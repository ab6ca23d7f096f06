"""Rays against triangles, by embree where it is there."""
# embreex has no types: this one module speaks to it.
# pyright: basic

import numpy as np

from lacunar.scene.noise import Floats
from lacunar.scene.types import Indices


class Rays:
    """Asks a set of triangles about rays; an ImportError where embree is not installed."""

    def __init__(self, points: Floats, faces: Indices) -> None:
        from embreex.mesh_construction import TriangleMesh
        from embreex.rtcore_scene import EmbreeScene

        self._scene = EmbreeScene()
        self._keep = (np.ascontiguousarray(points, np.float32), np.ascontiguousarray(faces, np.int32))
        self._mesh = TriangleMesh(self._scene, *self._keep)

    def hits(self, origins: Floats, directions: Floats) -> Indices:
        """Index of the first triangle along each ray, -1 for none."""
        o, d = (np.ascontiguousarray(a, np.float32) for a in (origins, directions))
        return np.asarray(self._scene.run(o, d, query="INTERSECT"), dtype=np.int32)

    def blocked(self, origins: Floats, steps: Floats) -> np.ndarray:
        """Whether anything lies between an origin and origin + step."""
        o, d = (np.ascontiguousarray(a, np.float32) for a in (origins, steps))
        ends = np.ones(len(o), dtype=np.float32)
        return np.asarray(self._scene.run(o, d, dists=ends, query="OCCLUDED")) != -1


def rays_for(points: Floats, faces: Indices) -> Rays | None:
    """A ray caster for the triangles; None where embree is not installed."""
    try:
        return Rays(points, faces)
    except ImportError:
        return None
