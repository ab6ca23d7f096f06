"""STL files as trimesh reads them."""

import math
from collections.abc import Sequence
from pathlib import Path

import numpy as np
import pytest
import trimesh

from lacunar.exports import write_stl_parts, write_stl_whole
from lacunar.parts import Part, gross_volume, mesh, pocket_volume
from solids.sample_parts import every_shape, part, slat, timber

STEP = 2.0**-11
"""mm. Half the step of a 32-bit float from 8192 to 16384 mm: what a coordinate of these samples is off by at most."""


def expected_volume(sample: Part) -> float:
    """Prism less pockets of 48 sides: 48 / (2 pi) sin(2 pi / 48) of each round one."""
    share = 48.0 / math.tau * math.sin(math.tau / 48.0)
    return gross_volume(sample) - share * sum(pocket_volume(pocket) for pocket in sample.pockets)


def slack(samples: Sequence[Part]) -> float:
    """Volume that rounded corners may cost: the whole surface, moved by the rounding."""
    bodies = [trimesh.Trimesh(mesh(sample).vertices, mesh(sample).faces, process=False) for sample in samples]
    return STEP * sum(body.area for body in bodies)


def read(path: Path) -> trimesh.Trimesh:
    return trimesh.load_mesh(path)  # pyright: ignore[reportUnknownMemberType]


@pytest.mark.parametrize("sample", every_shape(), ids=lambda sample: sample.id)
def test_each_part_is_watertight_and_of_the_right_volume(sample: Part, tmp_path: Path) -> None:
    write_stl_parts([sample], tmp_path)
    body = read(tmp_path / f"{sample.id}.stl")
    assert body.is_watertight
    assert body.is_winding_consistent
    assert body.volume == pytest.approx(expected_volume(sample), abs=slack([sample]))
    assert slack([sample]) < 1e-3 * expected_volume(sample)
    fresh = mesh(sample).vertices
    assert body.bounds == pytest.approx(np.stack((fresh.min(axis=0), fresh.max(axis=0))), abs=1e-3)


def test_one_file_per_part(tmp_path: Path) -> None:
    write_stl_parts(every_shape(), tmp_path)
    assert sorted(path.stem for path in tmp_path.iterdir()) == sorted(sample.id for sample in every_shape())


def test_whole_is_as_many_closed_bodies_as_parts(tmp_path: Path) -> None:
    path = tmp_path / "ceiling.stl"
    write_stl_whole(every_shape(), path)
    whole = read(path)
    assert whole.is_watertight
    assert whole.body_count == len(every_shape())
    assert whole.volume == pytest.approx(sum(map(expected_volume, every_shape())), abs=slack(every_shape()))


def ring_of_trim() -> list[Part]:
    """Four mitred strips round a square: neighbours share the whole mitre, corner for corner."""
    inner, outer = 500.0, 519.05
    corners = [(-1, -1), (1, -1), (1, 1), (-1, 1)]
    strips: list[Part] = []
    for number, ((ax, ay), (bx, by)) in enumerate(zip(corners, [*corners[1:], corners[0]], strict=True)):
        ring = (
            (ax * outer, ay * outer),
            (bx * outer, by * outer),
            (bx * inner, by * inner),
            (ax * inner, ay * inner),
        )
        level = slat("P").bottom
        strips.append(part(f"C1-T{number + 1}", ring, level, level.lifted(19.05), kind="trim"))
    return strips


def test_parts_that_touch_are_not_welded(tmp_path: Path) -> None:
    path = tmp_path / "ceiling.stl"
    write_stl_whole(ring_of_trim(), path)
    whole = read(path)
    assert whole.is_watertight
    assert whole.body_count == 4
    assert whole.volume == pytest.approx((1038.1**2 - 1000.0**2) * 19.05, rel=1e-5)
    assert whole.bounds[:, 2] == pytest.approx((2600.0, 2619.05), abs=3e-4)


def test_the_same_four_would_be_welded_without_care() -> None:
    """That the test above can fail: their points, joined where they coincide, give edges of four faces."""
    meshes = [mesh(strip) for strip in ring_of_trim()]
    firsts = np.cumsum([0, *(len(one.vertices) for one in meshes)])
    faces = np.concatenate([one.faces + first for one, first in zip(meshes, firsts, strict=False)])
    welded = trimesh.Trimesh(np.concatenate([one.vertices for one in meshes]), faces, process=False)
    assert welded.is_watertight
    welded.merge_vertices()
    assert not welded.is_watertight


def test_layout_of_the_bytes(tmp_path: Path) -> None:
    """80 bytes of header that do not begin with "solid", a count, and 50 bytes a triangle; normals are units."""
    write_stl_parts([timber("X1-1")], tmp_path)
    data = (tmp_path / "X1-1.stl").read_bytes()
    count = int.from_bytes(data[80:84], "little")
    assert not data.startswith(b"solid")
    assert count == len(mesh(timber("X1-1")).faces)
    assert len(data) == 84 + 50 * count
    normals = np.ndarray((count, 3), dtype="<f4", buffer=data, offset=84, strides=(50, 4))
    assert np.linalg.norm(normals, axis=1) == pytest.approx(np.ones(count), abs=1e-6)
    corners = np.ndarray((count, 3, 3), dtype="<f4", buffer=data, offset=96, strides=(50, 12, 4)).astype(float)
    across = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    assert ((across * normals).sum(axis=1) > 0.0).all()
