"""GLB (glTF 2.0, binary) in metres with y up: one node per part, alike parts share one mesh."""

import json
import math
import struct
from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lacunar.exports.colours import colour_of, linear
from lacunar.exports.tree import ROOT, groups, pattern_names
from lacunar.parts import Part, mesh
from lacunar.solids import Placed, Sharing, share_shapes

_METRE = 1000.0
"""mm."""

_Y_UP = (-math.sqrt(0.5), 0.0, 0.0, math.sqrt(0.5))
"""Quaternion (x, y, z, w) of a quarter turn that lays z up onto y up."""

_FLOAT, _ARRAY_BUFFER = 5126, 34962
_JSON, _BIN = 0x4E4F534A, 0x004E4942
"""Source: glTF 2.0, sections 3.6.2 and 4.4, from memory."""

_ROUGHNESS = 0.75
"""Planed, unfinished wood. Chosen by eye, no source."""

Table = list[dict[str, Any]]


def write_glb(parts: Sequence[Part], path: Path, title: str = "") -> None:
    """Write parts as a scene: ceiling > coffer > part; a part's node bears its id, and kind and length as extras.

    Args:
        parts: in the order of the tree.
        path: of the file.
        title: of the ceiling, for the scene.
    """
    sharing = share_shapes(parts)
    document = _tree(parts, sharing, title) | _shapes(sharing)
    soups = [_soup(pattern) for pattern in sharing.patterns]
    document["accessors"], document["bufferViews"] = _accessors(soups)
    data = b"".join(soup.tobytes() for soup in soups)
    document["buffers"] = [{"byteLength": len(data)}]
    path.write_bytes(_binary(document, data))


def _tree(parts: Sequence[Part], sharing: Sharing, title: str) -> dict[str, Any]:
    root: dict[str, Any] = {"name": ROOT, "rotation": _Y_UP, "children": []}
    nodes: Table = [root]
    for name, members in groups(parts).items():
        root["children"].append(len(nodes))
        first = len(nodes) + 1
        nodes.append({"name": name, "children": list(range(first, first + len(members)))})
        nodes += [_node(part, sharing.placed[part.id]) for part in members]
    asset = {"version": "2.0", "generator": "lacunar"}
    return {"asset": asset, "scene": 0, "scenes": [{"name": title or ROOT, "nodes": [0]}], "nodes": nodes}


def _node(part: Part, placed: Placed) -> dict[str, Any]:
    half = math.atan2(placed.placement.direction[1], placed.placement.direction[0]) / 2.0
    return {
        "name": part.id,
        "mesh": placed.pattern,
        "translation": [number / _METRE for number in placed.placement.origin],
        "rotation": [0.0, 0.0, math.sin(half), math.cos(half)],
        "extras": {"id": part.id, "kind": part.kind, "length": part.length},
    }


def _shapes(sharing: Sharing) -> dict[str, Any]:
    """Meshes and materials; the mesh of a pattern has the pattern's number."""
    counts = Counter(placed.pattern for placed in sharing.placed.values())
    names = pattern_names(sharing.patterns, (counts[number] for number in range(len(sharing.patterns))))
    kinds: dict[tuple[str, str], int] = {}
    materials: Table = []
    meshes: Table = []
    for number, (part, name) in enumerate(zip(sharing.patterns, names, strict=True)):
        look = (part.kind, part.species)
        if look not in kinds:
            kinds[look] = len(materials)
            colour = [*linear(colour_of(part)), 1.0]
            surface = {"baseColorFactor": colour, "metallicFactor": 0.0, "roughnessFactor": _ROUGHNESS}
            materials.append({"name": ", ".join(filter(None, look)), "pbrMetallicRoughness": surface})
        attributes = {"POSITION": 2 * number, "NORMAL": 2 * number + 1}
        meshes.append({"name": name, "primitives": [{"attributes": attributes, "material": kinds[look]}]})
    return {"meshes": meshes, "materials": materials}


def _soup(pattern: Part) -> NDArray[np.float32]:
    """Corners in metres and their face's normal, (2, corners, 3): flat shading shares no corner between faces."""
    one = mesh(pattern)
    corners = one.vertices[one.faces] / _METRE
    across = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.linalg.norm(across, axis=1)
    keep = size > 0.0
    normals = np.repeat(across[keep] / size[keep, None], 3, axis=0)
    return np.stack((corners[keep].reshape(-1, 3), normals)).astype("<f4")


def _accessors(soups: Sequence[NDArray[np.float32]]) -> tuple[Table, Table]:
    accessors: Table = []
    views: Table = []
    start = 0
    for soup in soups:
        for rows in soup:
            entry = {"bufferView": len(views), "componentType": _FLOAT, "count": len(rows), "type": "VEC3"}
            if len(accessors) % 2 == 0:
                entry |= {"min": rows.min(axis=0).tolist(), "max": rows.max(axis=0).tolist()}
            accessors.append(entry)
            views.append({"buffer": 0, "byteOffset": start, "byteLength": rows.nbytes, "target": _ARRAY_BUFFER})
            start += rows.nbytes
    return accessors, views


def _binary(document: dict[str, Any], data: bytes) -> bytes:
    text = json.dumps(document, separators=(",", ":")).encode()
    chunks = (_chunk(_JSON, text, b" "), _chunk(_BIN, data, b"\0"))
    return struct.pack("<4sII", b"glTF", 2, 12 + sum(map(len, chunks))) + b"".join(chunks)


def _chunk(kind: int, data: bytes, fill: bytes) -> bytes:
    padded = data + fill * (-len(data) % 4)
    return struct.pack("<II", len(padded), kind) + padded
