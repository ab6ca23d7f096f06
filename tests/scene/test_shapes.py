"""Triangles by closed forms: areas, volumes, directions of grain."""

from dataclasses import replace

import numpy as np
import pytest
import shapely

from lacunar.geometry import Line, Plane, Ring
from lacunar.parts import Part
from lacunar.scene.fixtures import lamp_of
from lacunar.scene.grain import SLATS, TIMBERS
from lacunar.scene.look import Opening
from lacunar.scene.prism import ARRIS, INSET, shape_of
from lacunar.scene.shape import Shape
from lacunar.scene.shell import flat_shape, wall_frame, wall_shape
from samples import slat
from scene.sample_room import box_room

L_ROOM: Ring = ((0.0, 0.0), (4000.0, 0.0), (4000.0, 1500.0), (1800.0, 1500.0), (1800.0, 3000.0), (0.0, 3000.0))


def areas(shape: Shape) -> np.ndarray:
    a, b, c = (shape.points[shape.faces[:, k]] for k in range(3))
    return np.cross(b - a, c - a) / 2


def volume(shape: Shape) -> float:
    a, b, c = (shape.points[shape.faces[:, k]] for k in range(3))
    return float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6)


def notched(part: Part) -> Part:
    """The sample slat with a bite out of one edge and a round hole."""
    bite = ((0.0, -40.0), (400.0, -40.0), (400.0, 0.0), (450.0, 0.0), (450.0, -40.0), (1000.0, -40.0))
    turn = np.linspace(0, 2 * np.pi, 32, endpoint=False)
    hole = tuple((700.0 + 15 * float(np.cos(t)), 15 * float(np.sin(t))) for t in turn)
    return replace(part, outline=(*bite, (1000.0, 40.0), (0.0, 40.0)), holes=(hole,))


def test_normals_are_those_of_the_triangles() -> None:
    for part in (*box_room().parts, notched(slat())):
        shape = shape_of(part)
        across = areas(shape)
        across /= np.linalg.norm(across, axis=1, keepdims=True)
        assert (np.einsum("ij,ij->i", across, shape.normals[shape.faces[:, 0]]) > 0.98).all(), part.id


def test_volume_is_the_board_less_its_broken_edges() -> None:
    """Two arrises of ARRIS each way along a metre: a triangle's area times the length each."""
    whole = 1000.0 * 80.0 * 20.0
    assert volume(shape_of(slat())) == pytest.approx(whole - ARRIS**2 * 1000.0, rel=1e-6)


def test_a_sawn_edge_is_sharper_than_a_factory_one() -> None:
    """Of the two arrises the sawn one is a seventh as wide: its triangle is that squared."""
    whole = 1000.0 * 80.0 * 20.0
    for sawn, share in (((True, False), 1 + 0.15**2), ((True, True), 2 * 0.15**2)):
        shape = shape_of(replace(slat(), sawn_edges=sawn))
        assert volume(shape) == pytest.approx(whole - share * ARRIS**2 / 2 * 1000.0, rel=1e-9)


def test_volume_of_a_notched_board() -> None:
    part = notched(slat())
    area = shapely.Polygon(part.outline, part.holes).area
    assert volume(shape_of(part)) == pytest.approx(area * 20.0, rel=1e-9)


def test_grain_runs_along_every_part() -> None:
    for part in (*box_room().parts, notched(slat())):
        shape = shape_of(part)
        under = shape.normals[:, 2] < -0.99
        line = Line.through(*part.axis)
        along = np.array([line.along((x, y)) for x, y in shape.points[under, :2]])
        aside = np.array([line.offset((x, y)) for x, y in shape.points[under, :2]])
        v = shape.uv[under, 1]
        (slope, lean, _), *_ = np.linalg.lstsq(np.column_stack([along, aside, np.ones(len(v))]), v, rcond=None)
        assert abs(lean) < 1e-6, part.id
        assert abs(slope) == pytest.approx(1 / (SLATS if part.kind in ("slat", "trim") else TIMBERS).length, rel=1e-6)
        assert shape.uv[under, 0].min() > 0.0
        assert shape.uv[under, 0].max() < 1.0


def test_no_two_slats_take_the_same_piece_of_wood() -> None:
    places = {tuple(shape_of(p).uv[0].round(4)) for p in box_room().parts if p.kind == "slat"}
    assert len(places) == sum(p.kind == "slat" for p in box_room().parts)


def test_ends_show_end_grain() -> None:
    shape = shape_of(slat())
    ends = np.abs(shape.normals[:, 0]) > 0.9
    assert ends.any()
    assert (shape.uv[ends, 0] > (SLATS.boards - 1) / SLATS.boards).all()


@pytest.mark.parametrize("ring", [L_ROOM, ((0.0, 0.0), (3100.0, 50.0), (3000.0, 2500.0), (20.0, 2400.0))])
def test_a_floor_covers_its_room_once(ring: Ring) -> None:
    shape = flat_shape(ring, Plane(z0=0.0), True, 250.0)
    up = areas(shape)[:, 2]
    assert (up > 0).all()
    assert up.sum() == pytest.approx(shapely.Polygon(ring).area, rel=1e-6)


def test_a_wall_is_its_face_less_its_openings() -> None:
    room = box_room().room
    opening = Opening(kind="window", wall="BC", start=800.0, width=1100.0, sill=800.0, head=2100.0)
    shape = wall_shape(room, "BC", (opening,), 200.0, 38.0)
    length = float(np.hypot(*np.subtract(*room.wall("BC"))))
    assert np.linalg.norm(areas(shape), axis=1).sum() == pytest.approx(length * 2604.0 - 1100.0 * 1300.0, rel=1e-6)
    assert (shape.normals[:, 0] < -0.9).all(), "BC lies at the right and faces left, into the room"


def test_light_goes_on_across_a_notched_board() -> None:
    """Corners that meet take one light, sampled off the board's edges."""
    shape = shape_of(notched(slat()))
    under = np.flatnonzero(shape.normals[:, 2] < -0.99)
    whole = shapely.Polygon(notched(slat()).outline, notched(slat()).holes)
    places: dict[tuple[float, ...], tuple[float, ...]] = {}
    for i in under:
        probe = tuple(shape.probes[shape.lit_by[i, 0]].round(6))
        assert places.setdefault(tuple(shape.points[i].round(6)), probe) == probe
        assert shapely.Point(probe[:2]).distance(whole.exterior) > INSET - 0.1
    assert len(places) < len(under)


def test_a_wall_is_lit_close_beside_the_beams_that_meet_it() -> None:
    room = box_room().room
    shape = wall_shape(room, "AB", (), 200.0, 38.0, [(1500.0, 1590.0, 2460.0)])
    corner, frame, _ = wall_frame(room, "AB")
    x, y = (shape.probes - corner) @ frame[0], shape.probes[:, 2]
    for place in ((1490.0, 2520.0), (1600.0, 2520.0), (1545.0, 2450.0)):
        assert np.hypot((x - place[0]) * (place[1] > 2460), y - place[1]).min() < 90.0
    level = np.abs(y - 2450.0) < 0.01
    assert level.any()
    assert {1490.0, 1600.0} <= set(x[level].round(3))
    below = (y < 2300.0) & (x > 1440.0) & (x < 1650.0)
    assert set(x[below].round(3)) == {1545.0}, "farther down narrow cells share a light"


@pytest.mark.parametrize(
    ("kind", "low", "high"),
    [("recessed downlight", 0.0, 6.0), ("flush light", 40.0, 120.0), ("ceiling box", 250.0, 600.0)],
)
def test_a_lamp_looks_like_what_it_is(kind: str, low: float, high: float) -> None:
    """By how far it hangs down."""
    make = lamp_of(kind)
    assert make is not None
    metal, glass, middle, radius = make((0.0, 0.0), 2600.0, 120.0)
    assert low < 2600.0 - min(metal.points[:, 2].min(), glass.points[:, 2].min()) < high
    assert 2600.0 - high < middle[2] + radius <= 2600.0
    assert glass.normals[glass.points[:, 2] == glass.points[:, 2].min(), 2].min() < -0.5


def test_a_smoke_alarm_is_no_lamp() -> None:
    assert lamp_of("smoke alarm") is None
