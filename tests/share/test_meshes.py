"""What is packed for the page, read back in Python: every part once, where it is."""

import base64
import json
import zlib
from collections import Counter
from typing import Any

import numpy as np
import numpy.typing as npt
import pytest

from lacunar.scene import Scene
from lacunar.share import figure_parts
from lacunar.share.groups import group_of
from lacunar.share.meshes import meshes_of
from lacunar.share.packed import STEPS
from share.figure_page import shown

WITHIN = 0.0005
"""Metres."""


class Packed:
    """Arrays in their order."""

    def __init__(self, text: str) -> None:
        self.data, self.at = zlib.decompress(base64.b64decode(text)), 0

    def take(self, kind: str, *shape: int) -> npt.NDArray[Any]:
        dtype = np.dtype(kind)
        n = int(np.prod(shape)) * dtype.itemsize
        planes = np.frombuffer(self.data, np.uint8, n, self.at).reshape(dtype.itemsize, -1)
        self.at += n + -n % 4
        return np.ascontiguousarray(planes.T).view(dtype).reshape(shape)


def _in_box(steps: npt.NDArray[Any], box: list[list[float]]) -> npt.NDArray[np.float64]:
    return np.array(box[0]) + steps / STEPS * np.array(box[1])


def read_back(told: dict[str, Any]) -> dict[str, list[npt.NDArray[np.float64]]]:
    """Of each body its vertices, and its edges' ends."""
    packed, points = Packed(told["data"]), dict[str, list[npt.NDArray[np.float64]]]()
    for mesh in told["meshes"]:
        n, m = mesh["n"], mesh["m"]
        place = packed.take("<u2", n, 4)
        packed.take("i1", n, 4)
        packed.take("<u2", n, 2)
        here = _in_box(place[:, :3], mesh["box"])
        if "bodies" in mesh:
            k = len(mesh["bodies"])
            packed.take("<u2", m, 3)
            rows = packed.take("<f4", k, 3, 4).astype(float)
            packed.take("<f4", k, 4)
            packed.take("u1", k, n, 3)
            for body, row in zip(mesh["bodies"], rows, strict=True):
                points.setdefault(told["names"][body], []).append(here @ row[:, :3].T + row[:, 3])
        else:
            packed.take("<u4", m, 3)
            packed.take("u1", n, 3)
            for body in dict.fromkeys(place[:, 3].tolist()):
                points.setdefault(told["names"][body], []).append(here[place[:, 3] == body])
    ends = _in_box(packed.take("<u2", 2 * sum(told["edges"]["of"]), 3), told["edges"]["box"])
    at = 0
    for name, n in zip(told["names"], told["edges"]["of"], strict=True):
        points[name].append(ends[at : at + 2 * n])
        at += 2 * n
    assert packed.at == len(packed.data)
    return points


def _check(scene: Scene) -> dict[str, Any]:
    told = meshes_of(scene)
    found = read_back(told)
    bodies = [body for body in scene.bodies if group_of(body) is not None]
    assert [body.name for body in bodies] == told["names"]
    for body in bodies:
        vertices, ends = found[body.name]
        assert np.abs(vertices - body.points).max() < WITHIN, body.name
        if body.edges is not None:
            assert np.abs(ends - body.edges.reshape(-1, 3)).max() < WITHIN, body.name
    return told


def test_every_part_is_there_once_and_in_its_place() -> None:
    one = shown("4-inch", light=False)
    told = _check(one.scene)
    names: list[str] = told["names"]
    counts = Counter(names)
    assert {counts[row.id] for row in one.report.parts} == {1}
    copies = [len(mesh["bodies"]) for mesh in told["meshes"] if "bodies" in mesh]
    slats = sum(row.kind == "slat" for row in one.report.parts)
    assert max(copies) > 20
    assert sum(copies) > 0.9 * slats


def test_the_data_of_the_page_stays_small() -> None:
    """Two designs; light, which is left out here, has three bytes a vertex more at most."""
    one = shown("4-inch", light=False)
    figure = figure_parts((one, one))
    vertices = sum(len(body.points) for body in one.scene.bodies if group_of(body) is not None)
    assert len(figure.markup) + 2 * 3 * vertices * 4 / 3 < 3_000_000
    assert sum(map(len, figure.scripts)) < 800_000


def test_nothing_in_a_name_ends_the_data_or_becomes_markup() -> None:
    one = shown("4-inch", light=False)
    hostile = type(one)(name="</script><script>alert(1)</script>", scene=one.scene, report=one.report)
    markup = figure_parts((one, hostile)).markup
    assert "<script>alert" not in markup
    data = markup.partition('id="figure-data">')[2].partition("</script>")[0]
    assert json.loads(data)["choices"][1]["name"] == hostile.name


@pytest.mark.long
@pytest.mark.parametrize("room", ["5-metric", "6-sagging", "7-hall", "8-l-shaped"])
def test_every_part_is_in_its_place_in_every_room(room: str) -> None:
    _check(shown(room).scene)
