"""What a viewer on a phone is shown, whatever the format: surfaces, shapes that things share, and the things.

Metres, z up. Room and floor are the viewer's own; of them there are the floor's outline and the corners' letters, which
lie at the height of the floor: set on the floor, the ceiling hangs where it will.
"""

import io
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

import numpy as np
import shapely
from numpy.typing import NDArray
from PIL import Image
from shapely.ops import nearest_points

from lacunar.exports.letters import STROKE, strokes
from lacunar.exports.tree import NO_COFFER
from lacunar.parts import Part
from lacunar.scene import Appearance, Body, Layer, Scene, Vector, decode, vector
from lacunar.solids import Placement, share_shapes

Floats = NDArray[np.float32]
Bytes = NDArray[np.uint8]

SHOWN: Final[tuple[Layer, ...]] = ("beams", "furring", "slats", "trim", "mouths", "old ceiling", "fixture")

FLOOR: Final = "floor"
"""Name of the group of what lies on the floor."""

PIXELS: Final = 1024
"""Of a picture of wood, across and along: about 1.2 mm across the grain, 2.5 mm along it."""

QUALITY: Final = 90
"""Of a picture of wood as JPEG, of 100."""

DULL: Final = 0.65
"""Least roughness: no shade holds back what glints, and a viewer's lamps would glint in gaps. Source: tuned by eye."""

LINE: Final = 0.04
"""Metres. The floor's outline, on the room's side of it."""

LETTER, AWAY = 0.25, 0.35
"""Metres. A corner's letter is so high, and its middle so far from the walls that meet there."""

SAME: Final = 1e-5
"""Metres between two shapes that are drawn as one: a hundredth of a millimetre, which nobody sees."""

MARK: Final[Vector] = vector(decode((214, 96, 20)))
"""Linear. Outline and letters; chosen to be seen on every floor."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """What something is made of.

    Attributes:
        name: of it.
        colour: linear, as a whole.
        rough: 0 mirror, 1 matt.
        picture: JPEG, or None.
        both: it is seen from behind too.
    """

    name: str
    colour: Vector
    rough: float
    picture: bytes | None = None
    both: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Mesh:
    """A shape in a frame of its own: points and unit normals (n, 3), faces (m, 3)."""

    points: Floats
    normals: Floats
    faces: NDArray[np.int32]


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """One thing with its name.

    Attributes:
        name: a part's id, or what it is.
        group: coffer, beams or floor.
        surface: its number.
        mesh: its number.
        placement: of the mesh's frame in the room, mm; None where that is the room's own.
        uv: (n, 2), into the surface's picture, rows counted down; None where it has none.
        shade: (n,), 255 where all is open; None where that is everywhere.
        part: if it is one.
    """

    name: str
    group: str
    surface: int
    mesh: int
    placement: Placement | None = None
    uv: Floats | None
    shade: Bytes | None
    part: Part | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Model:
    """All of it: things of one group together, beams first and the floor last."""

    title: str
    surfaces: tuple[Surface, ...]
    meshes: tuple[Mesh, ...]
    things: tuple[Thing, ...]


def model_of(scene: Scene, parts: Sequence[Part]) -> Model:
    """A scene's ceiling and the marks of its floor, as a viewer is shown them.

    Args:
        scene: with shade, of these parts.
        parts: as cut.
    """
    made = _Made(parts={part.id: part for part in parts}, placed=_places(parts))
    shown = [body for body in scene.bodies if body.layer in SHOWN]
    groups = (NO_COFFER, *dict.fromkeys(body.coffer for body in shown if body.coffer))
    for body in sorted(shown, key=lambda body: groups.index(body.coffer or NO_COFFER)):
        made.add(body, scene.materials[body.material])
    floor = len(made.surfaces)
    made.surfaces.append(Surface(name="mark", colour=MARK, rough=0.9, both=True))
    for name, mesh in _marks(scene):
        made.things.append(Thing(name=name, group=FLOOR, surface=floor, mesh=made.mesh(mesh), uv=None, shade=None))
    return Model(title=scene.title, surfaces=tuple(made.surfaces), meshes=tuple(made.meshes), things=tuple(made.things))


def _places(parts: Sequence[Part]) -> Mapping[str, tuple[int, Placement]]:
    return {name: (placed.pattern, placed.placement) for name, placed in share_shapes(parts).placed.items()}


@dataclass(slots=True, kw_only=True)
class _Made:
    """A model on its way."""

    parts: Mapping[str, Part]
    placed: Mapping[str, tuple[int, Placement]]
    surfaces: list[Surface] = field(default_factory=list[Surface])
    meshes: list[Mesh] = field(default_factory=list[Mesh])
    things: list[Thing] = field(default_factory=list[Thing])
    _known: dict[object, int] = field(default_factory=dict[object, int])
    _alike: dict[int, list[int]] = field(default_factory=dict[int, list[int]])

    def surface(self, look: Appearance) -> int:
        """Number of a material; slats and trim of one wood share theirs."""
        key = (id(look.albedo), look.rough) if look.boards > 1 else look.name
        if key not in self._known:
            self._known[key] = len(self.surfaces)
            self.surfaces.append(_surface(look))
        return self._known[key]

    def mesh(self, one: Mesh, pattern: int | None = None) -> int:
        """Its number, or that of one of its pattern with the same points in the same order."""
        alike = [] if pattern is None else self._alike.setdefault(pattern, [])
        for number in alike:
            if _is_same(self.meshes[number], one):
                return number
        alike.append(len(self.meshes))
        self.meshes.append(one)
        return alike[-1]

    def add(self, body: Body, look: Appearance) -> None:
        """A body with its material."""
        pattern, placement = self.placed.get(body.name, (None, None))
        points, normals = (body.points, body.normals) if placement is None else _framed(body, placement)
        self.things.append(
            Thing(
                name=body.name,
                group=body.coffer or NO_COFFER,
                surface=self.surface(look),
                mesh=self.mesh(Mesh(points=points, normals=normals, faces=body.faces), pattern),
                placement=placement,
                uv=_uv(body, look) if look.boards > 1 else None,
                shade=None if body.shade is None else (np.clip(body.shade, 0.0, 1.0) * 255 + 0.5).astype(np.uint8),
                part=self.parts.get(body.name),
            )
        )


def _is_same(a: Mesh, b: Mesh) -> bool:
    return (
        a.points.shape == b.points.shape
        and np.array_equal(a.faces, b.faces)
        and bool(np.abs(a.points - b.points).max() < SAME)
        and bool(np.abs(a.normals - b.normals).max() < 1e-3)
    )


def _framed(body: Body, placement: Placement) -> tuple[Floats, Floats]:
    """A body's points and normals in a frame of the room."""
    c, s = placement.direction
    turn = np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])
    points = (body.points.astype(np.float64) - np.array(placement.origin) / 1000.0) @ turn
    return points.astype(np.float32), (body.normals @ turn).astype(np.float32)


def _surface(look: Appearance) -> Surface:
    rough = max(look.rough, DULL)
    if look.boards == 1:
        return Surface(name=look.name, colour=look.mean, rough=rough)
    return Surface(name=look.name, colour=look.mean, rough=rough, picture=_jpeg(_sheet(look)))


def _boards(look: Appearance) -> int:
    """How many of a sheet's boards go into its picture, the last one end grain: as many as it has pixels for."""
    return min(look.boards, max(2, PIXELS // (look.albedo.shape[1] // look.boards)))


def _sheet(look: Appearance) -> Image.Image:
    """Some boards of a sheet side by side."""
    wide, n = look.albedo.shape[1] // look.boards, _boards(look)
    first, last = look.albedo[:, : (n - 1) * wide], look.albedo[:, -wide:]
    size = (PIXELS, PIXELS)
    return Image.fromarray(np.concatenate([first, last], axis=1)).resize(size, Image.Resampling.LANCZOS)


def _jpeg(image: Image.Image) -> bytes:
    data = io.BytesIO()
    image.save(data, "JPEG", quality=QUALITY)
    return data.getvalue()


def _uv(body: Body, look: Appearance) -> Floats:
    """Places in the picture: each board of the sheet becomes one of those that are there."""
    uv = body.uv.copy()
    n, board = _boards(look), np.clip(np.floor(uv[:, 0] * look.boards), 0, look.boards - 1)
    among = np.where(board == look.boards - 1, n - 1, board % (n - 1))
    uv[:, 0] = (among + uv[:, 0] * look.boards - board) / n
    # A grain that starts many lengths away would lose its places to rounding.
    uv[:, 1] -= np.floor(uv[:, 1].min())
    return uv


def _marks(scene: Scene) -> Iterator[tuple[str, Mesh]]:
    """The floor's outline, and each corner's letter, upright for who looks at the corner from the room's middle."""
    room = shapely.Polygon(scene.outline)
    yield "floor outline", _flat(room.difference(room.buffer(-LINE, join_style="mitre")))
    inner = room.buffer(-AWAY, join_style="mitre")
    inside = inner if not inner.is_empty else room.representative_point()
    middle = np.array(room.centroid.coords[0])
    for letter, corner in zip(scene.letters, reversed(scene.outline), strict=True):
        place = np.array(nearest_points(inside, shapely.Point(corner))[0].coords[0])
        up = (np.array(corner) - middle) / (math.dist(corner, middle) or 1.0)
        turn = np.array([[up[1], -up[0]], up])
        lines = [shapely.LineString(place + LETTER * np.array(line) @ turn) for line in strokes(letter.text)]
        yield f"corner {letter.text}", _flat(shapely.union_all(lines).buffer(LETTER * STROKE, quad_segs=2))


def _flat(shape: shapely.Geometry) -> Mesh:
    """A level shape at the height of the floor, seen from above."""
    cut: Iterable[Any] = shapely.get_parts(shapely.constrained_delaunay_triangles(shape))
    corners = [np.array(shapely.geometry.polygon.orient(piece).exterior.coords)[:3] for piece in cut]
    plan, faces = np.unique(np.concatenate(corners).round(6), axis=0, return_inverse=True)
    points = np.column_stack([plan, np.zeros(len(plan))]).astype(np.float32)
    normals = np.tile(np.array([0.0, 0.0, 1.0], dtype=np.float32), (len(points), 1))
    return Mesh(points=points, normals=normals, faces=faces.reshape(-1, 3).astype(np.int32))
