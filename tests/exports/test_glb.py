"""GLB files: by the format's own validator, as trimesh reads them, and by their bytes."""

import io
import json
import math
import os
import shutil
import struct
import subprocess
from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import trimesh
from PIL import Image

from exports.sample_model import box_model, shaded
from exports.test_stl import expected_volume
from lacunar.config import read_config
from lacunar.exports import model_of, write_glb
from lacunar.job import run_job
from lacunar.parts import mesh
from lacunar.scene import Appearance, make_scene
from scene.sample_room import box_room

VALIDATE = Path(__file__).with_name("validate.mjs")
FOLDER = "LACUNAR_GLTF_VALIDATOR"
"""A folder in which `npm install gltf-validator` was run."""

HALL = Path(__file__).resolve().parents[2] / "configs" / "7-hall.toml"


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("glb") / "ceiling.glb"
    write_glb(box_model(), path)
    return path


def read(path: Path) -> tuple[dict[str, Any], bytes]:
    """The JSON and the binary chunk, read by the file's bytes."""
    data = path.read_bytes()
    magic, version, size = struct.unpack_from("<4sII", data)
    assert (magic, version, size) == (b"glTF", 2, len(data))
    length, kind = struct.unpack_from("<I4s", data, 12)
    assert kind == b"JSON"
    return json.loads(data[20 : 20 + length]), data[28 + length :]


@pytest.fixture(scope="module")
def document(path: Path) -> dict[str, Any]:
    return read(path)[0]


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
    assert report["info"]["drawCallCount"] == len(box_model().things)


def test_the_validator_can_find_something(path: Path, tmp_path: Path) -> None:
    """One normal made longer."""
    data = bytearray(path.read_bytes())
    length = struct.unpack_from("<I", data, 12)[0]
    document = json.loads(data[20 : 20 + length])
    normals = document["accessors"][document["meshes"][0]["primitives"][0]["attributes"]["NORMAL"]]
    struct.pack_into("<f", data, 28 + length + document["bufferViews"][normals["bufferView"]]["byteOffset"], 3.0)
    broken = tmp_path / "broken.glb"
    broken.write_bytes(data)
    assert validated(broken)["issues"]["numErrors"] > 0


def test_the_same_model_is_the_same_file(path: Path, tmp_path: Path) -> None:
    write_glb(model_of(shaded(), box_room().parts), tmp_path / "again.glb")
    assert (tmp_path / "again.glb").read_bytes() == path.read_bytes()


def test_one_node_per_part_under_its_coffer(document: dict[str, Any]) -> None:
    nodes = document["nodes"]
    assert document["scenes"] == [{"name": "Box room", "nodes": [0]}]
    assert nodes[0]["name"] == "ceiling"
    tree = {
        nodes[group]["name"]: [nodes[child]["name"] for child in nodes[group]["children"]]
        for group in nodes[0]["children"]
    }
    parts = box_room().parts
    assert list(tree) == ["beams", "C1", "C2", "C3", "C4", "floor"]
    named = {part.id for part in parts}
    for group, members in tree.items():
        assert [name for name in members if name in named] == [p.id for p in parts if (p.coffer or "beams") == group]
    assert tree["floor"] == ["floor outline", *(f"corner {letter}" for letter in "ABCD")]
    counts = Counter(name for members in tree.values() for name in members)
    assert max(counts.values()) == 1


def test_extras_name_id_kind_and_length(document: dict[str, Any]) -> None:
    extras = {node["name"]: node["extras"] for node in document["nodes"] if "extras" in node}
    assert extras == {part.id: {"id": part.id, "kind": part.kind, "length": part.length} for part in box_room().parts}


def test_alike_parts_share_what_is_alike(document: dict[str, Any]) -> None:
    """Points, normals and faces; each has its own piece of wood and its own shade."""
    primitives = {
        node["name"]: document["meshes"][node["mesh"]]["primitives"][0]
        for node in document["nodes"][1:]
        if "mesh" in node
    }
    slats = [primitives[part.id] for part in box_room().parts if part.kind == "slat"]
    for shared in ("POSITION", "NORMAL"):
        assert len({one["attributes"][shared] for one in slats}) < 0.7 * len(slats)
    for own in ("TEXCOORD_0", "COLOR_0"):
        assert len({one["attributes"][own] for one in slats}) == len(slats)
    assert len(document["images"]) == 3, "old beams, new beams, and boards, which slats and trim share"


def test_nothing_is_unlit_and_what_has_no_picture_has_its_colour_as_light(document: dict[str, Any]) -> None:
    assert "extensionsUsed" not in document
    factors = {entry["name"]: entry["pbrMetallicRoughness"].get("baseColorFactor") for entry in document["materials"]}
    assert factors["old ceiling"] == pytest.approx([*shaded().materials["old ceiling"].mean, 1.0])
    assert sum(factor is None for factor in factors.values()) == len(document["images"])


def rows(document: dict[str, Any], data: bytes, number: int) -> np.ndarray:
    """An accessor's numbers."""
    entry = document["accessors"][number]
    kind = {5126: np.float32, 5123: np.uint16, 5121: np.uint8}[entry["componentType"]]
    wide = {"SCALAR": 1, "VEC2": 2, "VEC3": 3, "VEC4": 4}[entry["type"]]
    start = document["bufferViews"][entry["bufferView"]]["byteOffset"]
    return np.frombuffer(data, kind, entry["count"] * wide, start).reshape(-1, wide)


def striped(look: Appearance) -> Appearance:
    """A sheet whose boards are as many greys, each a little paler farther along; the last one is black."""
    high, wide = look.albedo.shape[0], look.albedo.shape[1] // look.boards
    rows_, columns = np.mgrid[:high, : wide * look.boards]
    grey = 8.0 * (columns // wide + 1) + 40.0 * rows_ / high
    grey[:, -wide:] = 0.0
    return replace(look, albedo=np.repeat(grey[:, :, None], 3, axis=2).astype(np.uint8))


def test_each_place_shows_one_board_of_the_sheet_from_end_to_end_and_ends_are_end_grain() -> None:
    scene = shaded()
    sheets = {name: striped(look) if look.boards > 1 else look for name, look in scene.materials.items()}
    model, bodies_ = model_of(replace(scene, materials=sheets), box_room().parts), {b.name: b for b in scene.bodies}
    seen: set[int] = set()
    for thing in model.things:
        picture = model.surfaces[thing.surface].picture
        if picture is None or thing.uv is None:
            continue
        body, image = bodies_[thing.name], np.asarray(Image.open(io.BytesIO(picture)).convert("L")).astype(float)
        look, along = sheets[body.material], body.uv[:, 1] % 1.0
        board = np.floor(body.uv[:, 0] * look.boards).astype(int)
        x, y = (thing.uv[:, 0] * 1024).astype(int), (thing.uv[:, 1] % 1.0 * 1024).astype(int)
        few = min(look.boards, 1024 // (look.albedo.shape[1] // look.boards))
        expected = np.where(board == look.boards - 1, 0.0, 8.0 * (board % (few - 1) + 1) + 40.0 * along)
        inside = (along > 0.02) & (along < 0.98)  # where the picture begins anew
        assert image[y, x][inside] == pytest.approx(expected[inside], abs=5.0), thing.name
        seen |= set(board.tolist())
    assert len(seen) > 12


def test_what_lies_deep_has_a_darker_colour(path: Path) -> None:
    document, data = read(path)
    nodes = {node["name"]: node for node in document["nodes"]}

    def shade(name: str) -> np.ndarray:
        colours = rows(
            document, data, document["meshes"][nodes[name]["mesh"]]["primitives"][0]["attributes"]["COLOR_0"]
        )
        assert (colours[:, 3] == 255).all()
        assert (colours[:, 0] == colours[:, 1]).all()
        return colours[:, 0] / 255.0

    bodies = {body.name: body for body in shaded().bodies}
    beam, slat = bodies["E1"], next(body for body in bodies.values() if body.kind == "slat")
    assert shade("E1")[beam.normals[:, 2] < -0.99].max() > 0.95, "under a beam all is open"
    under = shade(slat.name)[slat.normals[:, 2] < -0.99]
    assert under.min() < 0.75 * under.max() < 0.95
    sides = np.abs(slat.normals[:, 2]) < 0.1
    assert shade(slat.name)[sides].mean() < 0.5 * under.mean()
    assert shade("old ceiling C1").max() < 0.12
    assert shade(slat.name)[slat.normals[:, 2] > 0.99].min() == 1.0, "whoever turns it over sees backs"


def bodies(path: Path) -> dict[str, trimesh.Trimesh]:
    """Every thing's mesh where the file puts it, as trimesh reads it."""
    scene: Any = trimesh.load_scene(path, process=False)  # pyright: ignore[reportUnknownMemberType]
    found: dict[str, trimesh.Trimesh] = {}
    for name in scene.graph.nodes_geometry:
        matrix, geometry = scene.graph[name]
        found[name] = scene.geometry[geometry].copy().apply_transform(matrix)
    return found


def test_each_part_has_its_size_and_place_in_metres_with_y_up(path: Path) -> None:
    """Its edges are broken by 1.3 mm, which no bounds show and which takes little of its volume."""
    found = bodies(path)
    for part in box_room().parts:
        body = found[part.id]
        assert body.volume == pytest.approx(expected_volume(part) / 1e9, rel=0.01), part.id
        x, y, z = mesh(part).vertices.T / 1000.0
        upright = np.stack((x, z, -y), axis=1)
        bounds = np.stack((upright.min(axis=0), upright.max(axis=0)))
        assert body.bounds == pytest.approx(bounds, abs=2e-5), part.id


def test_the_floor_s_outline_and_letters_lie_on_the_floor_in_their_corners(path: Path) -> None:
    found = bodies(path)
    room = box_room().room
    points = {name: np.array((x, 0.0, -y)) / 1000.0 for name, (x, y) in zip(room.corners, room.points, strict=True)}
    outline = found["floor outline"]
    every = np.array(list(points.values()))
    assert outline.bounds == pytest.approx(np.stack((every.min(axis=0), every.max(axis=0))), abs=1e-5)
    walls = sum(math.dist(a, b) for a, b in zip(every, np.roll(every, -1, axis=0), strict=True))
    assert outline.area == pytest.approx(0.04 * walls - 4 * 0.04**2, rel=0.01)
    lowest = min(body.bounds[0, 1] for body in found.values())
    assert lowest == pytest.approx(0.0, abs=1e-9), "so a viewer that sets it on the floor hangs it at its height"
    for name, corner in points.items():
        letter = found[f"corner {name}"].vertices.mean(axis=0)
        assert min(points, key=lambda other: math.dist(letter, points[other])) == name
        assert math.dist(letter, corner) < 0.7
        assert np.ptp(found[f"corner {name}"].vertices[:, 1]) < 1e-9


def test_normals_point_out_of_the_wood(path: Path) -> None:
    scene: Any = trimesh.load_scene(path, process=False)  # pyright: ignore[reportUnknownMemberType]
    for name, body in scene.geometry.items():
        corners, normals = body.triangles, body.vertex_normals[body.faces]
        across = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        size = np.linalg.norm(across, axis=1, keepdims=True)
        flat = size[:, 0] > 1e-9
        cosine = np.einsum("ij,ikj->ik", across[flat] / size[flat], normals[flat])
        assert (cosine > (0.7 if "globe" in name or "light" in name else 0.99)).all(), name


def test_no_node_turns_by_more_than_it_says(document: dict[str, Any]) -> None:
    for node in document["nodes"]:
        assert math.hypot(*node.get("rotation", (0.0, 0.0, 0.0, 1.0))) == pytest.approx(1.0, abs=1e-12)


@pytest.mark.long
def test_a_hall_of_a_thousand_pieces_stays_under_ten_megabytes(tmp_path: Path) -> None:
    job = run_job(read_config(HALL), weighed=False, advised=False)
    made = (job.parts, job.room, job.config, job.layout)
    scene = make_scene(*made, quality="draft", light=False, evening=False, shade=True)
    write_glb(model_of(scene, job.parts), tmp_path / "hall.glb")
    assert len(job.parts) > 1000
    assert (tmp_path / "hall.glb").stat().st_size < 10e6
    assert validated(tmp_path / "hall.glb")["issues"]["numErrors"] == 0
