"""Meshes against trimesh, against closed forms and against manifold3d's booleans."""

import math
from dataclasses import replace

import manifold3d
import numpy as np
import pytest
import trimesh
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from lacunar.errors import LayoutError
from lacunar.geometry import Plane, Ring
from lacunar.parts import Mesh, Part, drilled, gross_volume, mesh, pocket_volume, prism_mesh
from solids.sample_parts import INCH, LEVEL, SLOPE, every_shape, part, slat, timber

SHAPES = {sample.id: sample for sample in every_shape()}


def solid(given_mesh: Mesh) -> trimesh.Trimesh:
    return trimesh.Trimesh(given_mesh.vertices, given_mesh.faces, process=False)


def polygonal(segments: int) -> float:
    """Share of a circle that its inscribed polygon covers."""
    return segments / (2.0 * math.pi) * math.sin(2.0 * math.pi / segments)


@pytest.mark.parametrize("name", SHAPES)
def test_watertight_outward_and_of_the_right_volume(name: str) -> None:
    sample = SHAPES[name]
    body = solid(mesh(sample))
    assert body.is_watertight
    assert body.is_winding_consistent
    pockets = polygonal(48) * sum(pocket_volume(pocket) for pocket in sample.pockets)
    assert body.volume == pytest.approx(gross_volume(sample) - pockets, rel=1e-12)
    assert body.euler_number == 2 - 2 * (len(sample.holes) + len(sample.pockets))
    assert body.body_count == 1


@pytest.mark.parametrize("name", SHAPES)
def test_corners_lie_on_the_outline_and_the_two_planes(name: str) -> None:
    sample = SHAPES[name]
    ring = [*sample.outline, *(point for hole in sample.holes for point in hole)]
    expected = [(*point, sample.bottom.at(point)) for point in ring] + [
        (*point, sample.top.at(point)) for point in ring
    ]
    assert np.allclose(prism_mesh(sample).vertices, expected, rtol=0.0, atol=1e-9)
    assert len(prism_mesh(sample).faces) == 4 * len(ring) + 4 * len(sample.holes) - 4


@pytest.mark.parametrize("segments", [3, 8, 48, 200])
def test_holes_of_any_number_of_sides(segments: int) -> None:
    piece = timber("X1-1")
    body = solid(mesh(piece, segments))
    taken = gross_volume(piece) - body.volume
    assert body.is_watertight
    assert taken == pytest.approx(polygonal(segments) * sum(pocket_volume(p) for p in piece.pockets), rel=1e-9)


def test_prism_mesh_has_no_pockets() -> None:
    piece = timber("X1-1")
    assert solid(prism_mesh(piece)).volume == pytest.approx(gross_volume(piece), rel=1e-12)
    assert len(prism_mesh(piece).faces) == 12


def test_mouth_of_the_rule_is_1_449_in_long_and_2_799_in_from_the_end() -> None:
    """The two numbers of common practice for a 3/8 in bore at 15 degrees, 3/4 in from the face."""
    piece = replace(timber("X1-1", origin=(0.0, 0.0), angle=0.0), pockets=())
    square = replace(
        piece,
        outline=((0.0, -44.45), (700.0, -44.45), (700.0, 44.45), (0.0, 44.45)),
    )
    sample = timber("X1-1", origin=(0.0, 0.0), angle=0.0).pockets[3]
    way_out = sample.bore_length + sample.pilot_length
    x = 700.0 - way_out * sample.direction[0]
    drilled_square = replace(square, pockets=(replace(sample, mouth=(x, 44.45, 2540.0)),))
    found = mesh(drilled_square).vertices
    mouth = found[(np.abs(found[:, 1] - 44.45) < 1e-6)][4:]
    length, middle = np.ptp(mouth[:, 0]) / INCH, (700.0 - mouth[:, 0].mean()) / INCH
    assert length == pytest.approx(1.449, abs=5e-4)
    assert middle == pytest.approx(2.799, abs=5e-4)
    assert np.ptp(mouth[:, 2]) == pytest.approx(0.375 * INCH, abs=1e-6)


def _tool(sample: Part, number: int, segments: int) -> manifold3d.Manifold:
    """A stepped drill for one pocket, sides where the mesh has them: the first corner lies level beside the axis."""
    pocket = sample.pockets[number]
    x, y, z = pocket.direction
    level = np.array((-y, x, 0.0)) / math.hypot(x, y)
    frame = np.stack((level, np.cross(pocket.direction, level), pocket.direction), axis=1)
    bore = manifold3d.Manifold.cylinder(pocket.bore_length + 60.0, pocket.bore / 2, pocket.bore / 2, segments)
    pilot = manifold3d.Manifold.cylinder(pocket.pilot_length + 60.0, pocket.pilot / 2, pocket.pilot / 2, segments)
    drill = bore.translate((0.0, 0.0, -60.0)) + pilot.translate((0.0, 0.0, pocket.bore_length - 20.0))
    assert z == 0.0
    return drill.transform(np.column_stack((frame, pocket.mouth)))


def test_pockets_equal_the_booleans_of_another_library() -> None:
    piece = timber("X1-1")
    plain = prism_mesh(piece)
    body = manifold3d.Manifold(manifold3d.Mesh64(plain.vertices, plain.faces.astype(np.uint64)))
    for number in range(len(piece.pockets)):
        body -= _tool(piece, number, 48)
    ours = mesh(piece)
    other = manifold3d.Manifold(manifold3d.Mesh64(ours.vertices, ours.faces.astype(np.uint64)))
    assert other.status() == manifold3d.Error.NoError
    assert other.volume() == pytest.approx(body.volume(), rel=1e-12)
    assert (other ^ body).volume() == pytest.approx(body.volume(), rel=1e-12)
    assert other.genus() == body.genus() == 6


def test_a_pocket_that_does_not_fit_is_left_out() -> None:
    piece = timber("X1-1", width=38.1)
    body = solid(mesh(piece))
    assert len(drilled(piece)) == 4
    assert body.is_watertight
    kept = polygonal(48) * sum(pocket_volume(pocket) for pocket in drilled(piece))
    assert body.volume == pytest.approx(gross_volume(piece) - kept, rel=1e-12)


def test_equal_corner_counts_share_their_faces() -> None:
    assert prism_mesh(slat("C1-S01")).faces is prism_mesh(slat("C1-S02")).faces
    with pytest.raises(ValueError, match="read-only"):
        prism_mesh(slat("C1-S01")).faces[0, 0] = 7


def test_a_point_on_a_straight_edge_makes_no_flat_triangle() -> None:
    ring = ((0.0, 0.0), (50.0, 0.0), (100.0, 0.0), (100.0, 20.0), (0.0, 20.0))
    found = prism_mesh(part("A", ring, LEVEL, LEVEL.lifted(10.0)))
    assert solid(found).is_watertight
    assert solid(found).area_faces.min() > 1.0


def test_an_outline_that_touches_itself_is_named() -> None:
    bow = ((0.0, 0.0), (100.0, 0.0), (50.0, 20.0), (100.0, 40.0), (0.0, 40.0), (50.0, 20.0))
    with pytest.raises(LayoutError, match="C9-S09"):
        prism_mesh(part("C9-S09", bow, LEVEL, LEVEL.lifted(10.0)))


radii = st.lists(st.floats(20.0, 120.0), min_size=3, max_size=24)


def star(lengths: list[float], shift: float) -> Ring:
    """A star-shaped ring, as jagged as its radii."""
    turns = [2.0 * math.pi * k / len(lengths) for k in range(len(lengths))]
    return tuple((shift + r * math.cos(t), shift + r * math.sin(t)) for r, t in zip(lengths, turns, strict=True))


def edges_pair_up(faces: NDArray[np.int64]) -> bool:
    """Every directed edge occurs once, and once the other way."""
    directed = np.concatenate((faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]))
    forth = {(int(a), int(b)) for a, b in directed}
    return len(forth) == len(directed) and all((b, a) in forth for a, b in forth)


@given(outer=radii, inner=st.lists(st.floats(2.0, 9.0), min_size=3, max_size=12), shift=st.floats(-20000.0, 20000.0))
def test_any_star_with_any_hole(outer: list[float], inner: list[float], shift: float) -> None:
    wide = [r + 10.0 for r in outer] if len(outer) > 3 else [r * 2.0 + 20.0 for r in outer]
    sample = part("S", star(wide, shift), SLOPE, Plane(z0=2900.0), holes=(star(inner, shift),))
    found = prism_mesh(sample)
    assert edges_pair_up(found.faces)
    assert solid(found).volume == pytest.approx(gross_volume(sample), rel=1e-9)
