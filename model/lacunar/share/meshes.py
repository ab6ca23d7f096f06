"""A scene as the page's figure wants it: shapes told once, all else merged with a number at every vertex.

The page reads numbers in the order in which they are packed here; `viewer/decode.js` is the other half.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import numpy as np
import numpy.typing as npt

from lacunar.scene import Body, Layer, Scene
from lacunar.share.groups import apart_by, group_of, present, wall_of
from lacunar.share.packed import Box, Packer
from lacunar.share.shared import Pattern, patterns_of, shared

Doubles = npt.NDArray[np.float64]

LEAST_ALIKE = 2
"""Bodies that a shape must have to be told once for all."""

BRIGHTEST = 4.0
"""Light, after exposure, that is told as such; the film is white from there on."""

BESIDE = frozenset({"above", "room", "furniture"})
"""Layers whose bodies are never alike."""


def lit(scene: Scene, body: Body) -> npt.NDArray[np.uint8]:
    """Light on the vertices, exposed, shape (n, 3): roots, so that dark places keep their steps."""
    light = np.zeros((len(body.points), 3)) if body.light is None else body.light * np.array(scene.exposure)
    return np.round(255.0 * np.sqrt(np.clip(light / BRIGHTEST, 0.0, 1.0))).astype(np.uint8)


def meshes_of(scene: Scene) -> dict[str, Any]:
    """All meshes of a scene and what the page has to know of them, as values of JSON; arrays in `data`."""
    bodies = [body for body in scene.bodies if group_of(body) is not None]
    numbers = {body.name: number for number, body in enumerate(bodies)}
    packer = Packer()
    meshes: list[dict[str, Any]] = []
    for (group, wall, material, layer), members in _alike(scene, bodies).items():
        patterns, rest = ([], members) if layer in BESIDE else shared(patterns_of(members), LEAST_ALIKE)
        about = {"group": group, "wall": wall, "material": material, "above": layer == "above"}
        meshes += [about | _pattern(scene, pattern, numbers, packer) for pattern in patterns]
        if rest:
            meshes.append(about | _merged(scene, rest, numbers, packer))
    return {
        "names": [body.name for body in bodies],
        "groups": [group_of(body) for body in bodies],
        "switches": present(bodies),
        "apart": apart_by(scene),
        "walls": _walls(scene),
        "height": scene.height,
        "meshes": meshes,
        "edges": _edges(scene, bodies, packer),
        "data": packer.text(),
    }


def _alike(scene: Scene, bodies: Iterable[Body]) -> Mapping[tuple[int, int, str, Layer], list[Body]]:
    """Bodies by group, wall (-1 for none), material and layer."""
    out: dict[tuple[int, int, str, Layer], list[Body]] = {}
    for body in bodies:
        wall = wall_of(body, scene)
        key = (group_of(body) or 0, -1 if wall is None else wall, body.material, body.layer)
        out.setdefault(key, []).append(body)
    return out


def _vertices(points: Doubles, fourth: npt.ArrayLike, body_like: tuple[Doubles, Doubles], packer: Packer) -> Any:
    """Places with a fourth number each, normals and places in the image; their boxes."""
    normals, uv = body_like
    box, image = Box.around(points), Box.around(uv)
    packer.add(np.column_stack([box.steps(points), np.asarray(fourth, np.uint16)]))
    packer.add(np.column_stack([np.round(127.0 * normals), np.zeros(len(points))]).astype(np.int8))
    packer.add(image.steps(uv))
    return {"box": box.told, "image": image.told, "n": len(points)}


def _pattern(scene: Scene, pattern: Pattern, numbers: Mapping[str, int], packer: Packer) -> dict[str, Any]:
    first = pattern.first
    about = _vertices(pattern.points, pattern.fixed, (first.normals.astype(float), first.uv.astype(float)), packer)
    packer.add(first.faces.astype(np.uint16))
    packer.add(np.array([placed.rows for placed in pattern.placed], np.float32))
    packer.add(np.array([placed.grain for placed in pattern.placed], np.float32))
    packer.add(np.concatenate([lit(scene, placed.body) for placed in pattern.placed]))
    return about | {"m": len(first.faces), "bodies": [numbers[placed.body.name] for placed in pattern.placed]}


def _merged(scene: Scene, bodies: Sequence[Body], numbers: Mapping[str, int], packer: Packer) -> dict[str, Any]:
    starts = np.cumsum([0, *(len(body.points) for body in bodies)])
    ids = np.concatenate([np.full(len(body.points), numbers[body.name]) for body in bodies])
    faces = np.concatenate([body.faces + starts[i] for i, body in enumerate(bodies)])
    normals, uv = (np.concatenate([getattr(body, name) for body in bodies]).astype(float) for name in ("normals", "uv"))
    points = np.concatenate([body.points for body in bodies]).astype(float)
    about = _vertices(points, ids, (normals, uv), packer)
    packer.add(faces.astype(np.uint32))
    packer.add(np.concatenate([lit(scene, body) for body in bodies]))
    return about | {"m": len(faces)}


def _edges(scene: Scene, bodies: Sequence[Body], packer: Packer) -> dict[str, Any]:
    """Edges of every body that has some, as pairs of places; `of` counts them by body."""
    rows = [np.zeros((0, 2, 3)) if body.edges is None else body.edges.astype(float) for body in bodies]
    every = np.concatenate(rows).reshape(-1, 3)
    box = Box.around(every)
    packer.add(box.steps(every))
    return {"box": box.told, "of": [len(row) for row in rows]}


def _walls(scene: Scene) -> list[list[float]]:
    """The room's outline."""
    return [[float(x), float(y)] for x, y in scene.outline]
