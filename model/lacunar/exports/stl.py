"""Binary STL in mm, in the room's own coordinates."""

from collections.abc import Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from lacunar.parts import Part, mesh

_RECORD = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("colour", "<u2")])
"""Source: the binary STL layout, from memory."""


def write_stl_whole(parts: Sequence[Part], path: Path) -> None:
    """Write all parts as one file of closed bodies.

    Readers join points that coincide, and would weld parts that touch along an edge into one leaky body. So where two
    parts share a point, the later one's is raised by the least step that the format has, 0.0002 mm at 2 to 4 m.
    """
    meshes = [mesh(part) for part in parts]
    points = _told_apart(np.concatenate([one.vertices for one in meshes]))
    firsts = np.cumsum([0, *(len(one.vertices) for one in meshes)])
    faces = np.concatenate([one.faces + first for one, first in zip(meshes, firsts, strict=False)])
    path.write_bytes(_bytes(points, faces))


def write_stl_parts(parts: Sequence[Part], folder: Path) -> None:
    """Write each part to `folder`/`id`.stl, where it stands in the room; the folder must be there."""
    for part in parts:
        one = mesh(part)
        (folder / f"{part.id}.stl").write_bytes(_bytes(_told_apart(one.vertices), one.faces))


def _told_apart(vertices: NDArray[np.float64]) -> NDArray[np.float32]:
    """Points in the format's precision, those that equal an earlier one raised by the least step until none do."""
    points = vertices.astype(np.float32)
    while True:
        order = np.lexsort((np.arange(len(points)), points[:, 2], points[:, 1], points[:, 0]))
        again = np.zeros(len(points), dtype=bool)
        again[order[1:]] = (points[order[1:]] == points[order[:-1]]).all(axis=1)
        if not again.any():
            return points
        points[again, 2] = np.nextafter(points[again, 2], np.float32(np.inf))


def _bytes(points: NDArray[np.float32], faces: NDArray[np.int64]) -> bytes:
    corners = points[faces]
    records = np.zeros(len(faces), dtype=_RECORD)
    records["corners"] = corners
    a, b, c = corners.astype(np.float64).transpose(1, 0, 2)
    across = np.cross(b - a, c - a)
    # Zero where a triangle has no area.
    records["normal"] = across / np.maximum(np.linalg.norm(across, axis=1, keepdims=True), np.finfo(float).tiny)
    return b"lacunar, mm".ljust(80) + np.uint32(len(faces)).tobytes() + records.tobytes()
