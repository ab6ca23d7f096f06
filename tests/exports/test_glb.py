"""GLB files: by the format's own validator, as trimesh reads them, and by their bytes."""

import json
import math
import os
import shutil
import struct
import subprocess
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import trimesh

from exports.test_stl import expected_volume
from lacunar.exports import linear, write_glb
from lacunar.parts import Part, mesh
from solids.sample_parts import every_shape, slat, trim

VALIDATE = Path(__file__).with_name("validate.mjs")
FOLDER = "LACUNAR_GLTF_VALIDATOR"
"""A folder in which `npm install gltf-validator` was run."""


def sample_parts() -> list[Part]:
    return [
        *every_shape(),
        slat("C1-S06", origin=(5000.0, 2000.0), angle=1.0),
        slat("C2-S03", origin=(5000.0, 3000.0), angle=2.5),
        trim("C2-T3", origin=(800.0, 5000.0), angle=-2.0),
    ]


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("glb") / "ceiling.glb"
    write_glb(sample_parts(), path, "Café")
    return path


@pytest.fixture(scope="module")
def document(path: Path) -> dict[str, Any]:
    """The JSON in the file, read by its bytes."""
    data = path.read_bytes()
    magic, version, size = struct.unpack_from("<4sII", data)
    assert (magic, version, size) == (b"glTF", 2, len(data))
    length, kind = struct.unpack_from("<I4s", data, 12)
    assert kind == b"JSON"
    return json.loads(data[20 : 20 + length])


def validated(path: Path) -> dict[str, Any]:
    folder, node = os.environ.get(FOLDER), shutil.which("node")
    if node is None:
        pytest.skip("node is not on this machine")
    if not folder or not (Path(folder) / "node_modules" / "gltf-validator").is_dir():
        pytest.skip(f"{FOLDER} names no folder with node_modules/gltf-validator: npm install gltf-validator there")
    command = [node, str(VALIDATE), folder, str(path)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=True)
    return json.loads(done.stdout)


def test_the_validator_finds_nothing(path: Path) -> None:
    report = validated(path)
    assert report["issues"]["messages"] == []
    assert report["issues"]["numErrors"] == report["issues"]["numWarnings"] == 0
    assert report["info"]["drawCallCount"] == len(every_shape())


def test_the_validator_can_find_something(path: Path, tmp_path: Path) -> None:
    """One normal made longer."""
    data = bytearray(path.read_bytes())
    length = struct.unpack_from("<I", data, 12)[0]
    first = json.loads(data[20 : 20 + length])["bufferViews"][1]["byteOffset"]
    struct.pack_into("<f", data, 20 + length + 8 + first, 3.0)
    broken = tmp_path / "broken.glb"
    broken.write_bytes(data)
    assert validated(broken)["issues"]["numErrors"] > 0


def test_one_node_per_part_under_its_coffer(document: dict[str, Any]) -> None:
    nodes = document["nodes"]
    assert document["scenes"] == [{"name": "Café", "nodes": [0]}]
    assert nodes[0]["name"] == "ceiling"
    tree = {
        nodes[group]["name"]: [nodes[child]["name"] for child in nodes[group]["children"]]
        for group in nodes[0]["children"]
    }
    parts = sample_parts()
    assert tree == {
        group: [part.id for part in parts if (part.coffer or "beams") == group] for group in ("beams", "C1", "C2")
    }


def test_extras_name_id_kind_and_length(document: dict[str, Any]) -> None:
    extras = {node["name"]: node["extras"] for node in document["nodes"] if "extras" in node}
    assert extras["X1-1"] == {"id": "X1-1", "kind": "cross beam", "length": sample_parts()[8].length}
    assert all(name == entry["id"] for name, entry in extras.items())


def test_alike_parts_share_a_mesh(document: dict[str, Any]) -> None:
    meshes = {node["name"]: node["mesh"] for node in document["nodes"] if "mesh" in node}
    assert meshes["C1-S01"] == meshes["C1-S06"] == meshes["C2-S03"]
    assert meshes["C1-T1"] == meshes["C2-T3"]
    assert len(document["meshes"]) == len(every_shape())


def test_colours_are_linear(document: dict[str, Any]) -> None:
    """Eastern white pine, #d7ab79, as shares of light: 0.6795, 0.4072, 0.1912."""
    materials = {entry["name"]: entry["pbrMetallicRoughness"] for entry in document["materials"]}
    assert set(materials) == {f"{kind}, eastern white pine" for kind in ("slat", "trim", "cross beam")}
    factor = materials["slat, eastern white pine"]["baseColorFactor"]
    assert factor == pytest.approx([0.6795, 0.4072, 0.1912, 1.0], abs=1e-4)


@pytest.mark.parametrize(
    ("coded", "light"), [(0.0, 0.0), (0.04045, 0.0031308), (0.5, 0.2140411), (0.8, 0.6038273), (1.0, 1.0)]
)
def test_transfer_function(coded: float, light: float) -> None:
    assert linear((coded, coded, coded)) == pytest.approx((light, light, light), abs=1e-7)


def bodies(path: Path) -> dict[str, trimesh.Trimesh]:
    """Every part's mesh where the file puts it, as trimesh reads it, points joined."""
    scene: Any = trimesh.load_scene(path)  # pyright: ignore[reportUnknownMemberType]
    found: dict[str, trimesh.Trimesh] = {}
    for name in scene.graph.nodes_geometry:
        matrix, geometry = scene.graph[name]
        body = scene.geometry[geometry].copy()
        body.merge_vertices(merge_norm=True, merge_tex=True)
        found[name] = body.apply_transform(matrix)
    return found


def test_each_part_is_watertight_in_metres_with_y_up(path: Path) -> None:
    found = bodies(path)
    assert sorted(found) == sorted(part.id for part in sample_parts())
    for part in sample_parts():
        body = found[part.id]
        assert body.is_watertight, part.id
        assert body.volume == pytest.approx(expected_volume(part) / 1e9, rel=1e-5), part.id
        x, y, z = mesh(part).vertices.T / 1000.0
        upright = np.stack((x, z, -y), axis=1)
        bounds = np.stack((upright.min(axis=0), upright.max(axis=0)))
        assert body.bounds == pytest.approx(bounds, abs=2e-6), part.id
        solid = trimesh.Trimesh(upright, mesh(part).faces, process=False)
        assert body.center_mass == pytest.approx(solid.center_mass, abs=2e-6), part.id


def test_normals_point_out_of_the_wood(path: Path) -> None:
    scene: Any = trimesh.load_scene(path, process=False)  # pyright: ignore[reportUnknownMemberType]
    for name, body in scene.geometry.items():
        corners, normals = body.triangles, body.vertex_normals[body.faces]
        across = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        across /= np.linalg.norm(across, axis=1, keepdims=True)
        assert (np.einsum("ij,ikj->ik", across, normals) > 0.99).all(), name


def test_no_node_turns_by_more_than_it_says(document: dict[str, Any]) -> None:
    for node in document["nodes"]:
        assert math.hypot(*node.get("rotation", (0.0, 0.0, 0.0, 1.0))) == pytest.approx(1.0, abs=1e-12)
