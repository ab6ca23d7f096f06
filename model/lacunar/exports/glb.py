"""GLB (glTF 2.0, binary) in metres with y up: one node per thing, alike ones share points, normals and faces."""

import json
import math
import struct
from dataclasses import dataclass, field
from itertools import groupby
from pathlib import Path
from typing import Any

import numpy as np

from lacunar.exports.model import Bytes, Mesh, Model, Surface, Thing
from lacunar.exports.tree import ROOT

_METRE = 1000.0
"""mm."""

_Y_UP = (-math.sqrt(0.5), 0.0, 0.0, math.sqrt(0.5))
"""Quaternion (x, y, z, w) of a quarter turn that lays z up onto y up."""

_KINDS: dict[type, dict[str, Any]] = {
    np.float32: {"componentType": 5126},
    np.uint32: {"componentType": 5125},
    np.uint16: {"componentType": 5123},
    np.uint8: {"componentType": 5121, "normalized": True},
}
_ARRAY_BUFFER, _ELEMENT_BUFFER = 34962, 34963
_JSON, _BIN = 0x4E4F534A, 0x004E4942
"""Source of these: glTF 2.0, sections 3.6.2 and 4.4, from memory."""

Table = list[dict[str, Any]]


def write_glb(model: Model, path: Path) -> None:
    """Write a model as a scene: ceiling > coffer > thing; a part's node bears its id, and kind and length as extras."""
    data = _Data()
    shapes = [data.shape(mesh) for mesh in model.meshes]
    meshes = [{"name": thing.name, "primitives": [_primitive(thing, shapes, data)]} for thing in model.things]
    images = [data.image(surface.picture) for surface in model.surfaces if surface.picture]
    document = _tree(model) | {"meshes": meshes, "materials": _materials(model.surfaces)}
    if images:
        document |= {"images": images, "samplers": [{}], "textures": _textures(len(images))}
    document |= {"accessors": data.accessors, "bufferViews": data.views, "buffers": [{"byteLength": len(data.chunk)}]}
    path.write_bytes(_binary(document, bytes(data.chunk)))


def _tree(model: Model) -> dict[str, Any]:
    root: dict[str, Any] = {"name": ROOT, "rotation": _Y_UP, "children": []}
    nodes: Table = [root]
    for name, members in groupby(enumerate(model.things), key=lambda pair: pair[1].group):
        made = [_node(thing, number) for number, thing in members]
        root["children"].append(len(nodes))
        nodes.append({"name": name, "children": list(range(len(nodes) + 1, len(nodes) + 1 + len(made)))})
        nodes += made
    asset = {"version": "2.0", "generator": "lacunar"}
    return {"asset": asset, "scene": 0, "scenes": [{"name": model.title or ROOT, "nodes": [0]}], "nodes": nodes}


def _node(thing: Thing, mesh: int) -> dict[str, Any]:
    node: dict[str, Any] = {"name": thing.name, "mesh": mesh}
    if thing.placement:
        half = math.atan2(thing.placement.direction[1], thing.placement.direction[0]) / 2.0
        node["translation"] = [number / _METRE for number in thing.placement.origin]
        node["rotation"] = [0.0, 0.0, math.sin(half), math.cos(half)]
    if thing.part:
        node["extras"] = {"id": thing.part.id, "kind": thing.part.kind, "length": thing.part.length}
    return node


def _primitive(thing: Thing, shapes: list[dict[str, int]], data: "_Data") -> dict[str, Any]:
    shape = shapes[thing.mesh]
    attributes = {name: number for name, number in shape.items() if name != "indices"}
    if thing.shade is not None:
        attributes["COLOR_0"] = data.add(_grey(thing.shade))
    if thing.uv is not None:
        attributes["TEXCOORD_0"] = data.add(thing.uv)
    return {"attributes": attributes, "indices": shape["indices"], "material": thing.surface}


def _grey(shade: Bytes) -> Bytes:
    """Shade as a colour that the surface's own is multiplied by."""
    return np.column_stack([shade, shade, shade, np.full_like(shade, 255)])


def _materials(surfaces: tuple[Surface, ...]) -> Table:
    out: Table = []
    pictures = 0
    for surface in surfaces:
        look: dict[str, Any] = {"metallicFactor": 0.0, "roughnessFactor": surface.rough}
        if surface.picture:
            look["baseColorTexture"] = {"index": pictures}
            pictures += 1
        else:
            look["baseColorFactor"] = [*surface.colour, 1.0]
        out.append(
            {"name": surface.name, "pbrMetallicRoughness": look} | ({"doubleSided": True} if surface.both else {})
        )
    return out


def _textures(n: int) -> Table:
    return [{"sampler": 0, "source": number} for number in range(n)]


@dataclass(slots=True)
class _Data:
    """The binary chunk and what describes it."""

    chunk: bytearray = field(default_factory=bytearray)
    accessors: Table = field(default_factory=list[dict[str, Any]])
    views: Table = field(default_factory=list[dict[str, Any]])

    def shape(self, mesh: Mesh) -> dict[str, int]:
        """Numbers of a shape's accessors."""
        bounds = {"min": mesh.points.min(axis=0).tolist(), "max": mesh.points.max(axis=0).tolist()}
        corners = mesh.faces.astype(np.uint16 if len(mesh.points) < 65535 else np.uint32).reshape(-1, 1)
        return {
            "POSITION": self.add(mesh.points, **bounds),
            "NORMAL": self.add(mesh.normals),
            "indices": self.add(corners, _ELEMENT_BUFFER),
        }

    def add(self, rows: np.ndarray[Any, Any], target: int = _ARRAY_BUFFER, **bounds: list[float]) -> int:
        """Number of an accessor for an array, shape (n, 1 to 4). Bytes are colours: shares of 255."""
        kind = _KINDS[rows.dtype.type]
        self.accessors.append({"bufferView": self._view(rows.tobytes(), target=target), **kind, **bounds})
        self.accessors[-1] |= {"count": len(rows), "type": ("SCALAR", "VEC2", "VEC3", "VEC4")[rows.shape[1] - 1]}
        return len(self.accessors) - 1

    def image(self, picture: bytes) -> dict[str, Any]:
        """A picture, as the table of images has it."""
        return {"bufferView": self._view(picture), "mimeType": "image/jpeg"}

    def _view(self, data: bytes, **more: int) -> int:
        self.views.append({"buffer": 0, "byteOffset": len(self.chunk), "byteLength": len(data), **more})
        self.chunk += data + bytes(-len(data) % 4)
        return len(self.views) - 1


def _binary(document: dict[str, Any], data: bytes) -> bytes:
    text = json.dumps(document, separators=(",", ":")).encode()
    chunks = (_chunk(_JSON, text, b" "), _chunk(_BIN, data, b"\0"))
    return struct.pack("<4sII", b"glTF", 2, 12 + sum(map(len, chunks))) + b"".join(chunks)


def _chunk(kind: int, data: bytes, fill: bytes) -> bytes:
    padded = data + fill * (-len(data) % 4)
    return struct.pack("<II", len(padded), kind) + padded
