"""What one sees of pockets: mouths that stay open, and plugs in the low ones, their grain along the piece."""

import zlib
from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from lacunar.geometry import Line
from lacunar.parts import Part, Pocket
from lacunar.scene.prism import sheet_of
from lacunar.scene.shape import Doubles, Shape, surface

STEPS = 20

PROUD = 0.12
"""mm that a mouth lies before its face in the picture, so that the two do not fight for a pixel."""

GLUE = 0.9
"""mm, the line round a plug that was sanded flush: as wide as a picture can show. Source: chosen for the pictures."""


def mouth_ring(pocket: Pocket, wider: float = 0.0) -> Doubles:
    """The oval in which the bore leaves the side face, shape (STEPS, 3), mm, clockwise seen from outside the wood.

    Args:
        pocket: gives axis and face.
        wider: added to the bore's radius, mm.
    """
    axis, face = np.array(pocket.direction), np.array((*pocket.normal, 0.0))
    aside = np.cross(axis, (0.0, 0.0, 1.0))
    aside /= np.linalg.norm(aside)
    turn = np.arange(STEPS) * (2 * np.pi / STEPS)
    disc = np.cos(turn)[:, None] * aside + np.sin(turn)[:, None] * np.cross(aside, axis)
    disc *= pocket.bore / 2 + wider
    # Each point slides along the axis until it lies in the face.
    return np.array(pocket.mouth) + disc - (disc @ face / (axis @ face))[:, None] * axis


def mouth_shapes(part: Part) -> Iterator[tuple[int, str, Shape]]:
    """Of each pocket, by number, "mouth" where it is open, else "joint" and in it "plug"."""
    for number, pocket in enumerate(part.pockets, start=1):
        plugged = pocket.level == "low"
        yield number, "joint" if plugged else "mouth", _evenly_lit(_disc(pocket, mouth_ring(pocket), PROUD))
        if plugged:
            yield number, "plug", _grained(part, pocket, number, _disc(pocket, mouth_ring(pocket, -GLUE), 2 * PROUD))


def _disc(pocket: Pocket, ring: Doubles, proud: float) -> Shape:
    face = np.array((*pocket.normal, 0.0))
    points = np.concatenate([ring, [np.array(pocket.mouth)]]) + proud * face
    order = np.arange(STEPS)
    faces = np.stack([order, np.roll(order, -1), np.full(STEPS, STEPS)], 1)
    across = np.cross(points[1] - points[0], points[STEPS] - points[0])
    return surface(points, faces if across @ face > 0 else faces[:, ::-1], np.broadcast_to(face, points.shape))


def _evenly_lit(shape: Shape) -> Shape:
    """What is dark anyway takes the light of its middle."""
    one = slice(STEPS, STEPS + 1)
    probes, normals = shape.probes[one], shape.probe_normals[one]
    return replace(shape, probes=probes, probe_normals=normals, lit_by=np.zeros_like(shape.lit_by))


def _grained(part: Part, pocket: Pocket, number: int, shape: Shape) -> Shape:
    """With wood from another place than the piece's own, its grain along the piece."""
    sheet, line = sheet_of(part), Line.through(*part.axis)
    along = (shape.points[:, :2] - np.array(pocket.mouth[:2])) @ np.array(line.direction)
    up = shape.points[:, 2] - pocket.mouth[2]
    board, across, start = np.random.default_rng(zlib.crc32(f"{part.id} {number}".encode())).random(3)
    u = (int(board * (sheet.boards - 1)) + 0.2 + 0.6 * across + up / sheet.width) / sheet.boards
    return replace(shape, uv=np.column_stack([u, start + along / sheet.length]))
