"""Everything of a scene as bodies: wood, pockets, the room, what lies above, fixtures."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from lacunar.geometry import Plane, Point
from lacunar.layout import CutOut, Layout
from lacunar.parts import Part, PartKind
from lacunar.scene import overhead
from lacunar.scene.fixtures import hollow_cylinder, pendant, plate, standing
from lacunar.scene.furniture import Thing
from lacunar.scene.look import Look
from lacunar.scene.materials import FLOOR_SIZE, material_of
from lacunar.scene.openings import CASING, door_shapes, window_shapes
from lacunar.scene.prism import edges_of, shape_of
from lacunar.scene.shape import Doubles, Shape
from lacunar.scene.shell import ceiling_shape, flat_shape, skirting_shape, wall_shape
from lacunar.scene.types import Body, Lamp, Layer, Vector, vector
from lacunar.survey import Room, ceiling_height

LAMPLIGHT = (0.60, 0.44, 0.28)
"""Of a lamp, against a sky of 10. Source: tuned by eye."""

STANDING = "standing lamp"
"""What the bodies of lamps that nobody has told of are called."""

APART = 0.25
"""Share of the room's longer side by which the layers of the exploded view are set apart."""

USUAL_STEP = 115.0
"""mm between probes on the walls of a room of 4.6 by 3.9 m."""


def _step(room: Room) -> float:
    """Mm between probes on walls: as fine as rooms of this size allow in a few seconds."""
    x, y = _span(room.points)
    return float(np.clip(USUAL_STEP * np.sqrt((x + y) / 8500.0), 95.0, 300.0))


@dataclass(frozen=True, slots=True)
class Raw:
    """A body without light yet, and the shape with the probes that will light it."""

    body: Body
    shape: Shape


def _raw(
    name: str,
    layer: Layer,
    material: str,
    shape: Shape,
    kind: str = "",
    coffer: str | None = None,
    explode: Vector = (0.0, 0.0, 0.0),
) -> Raw:
    body = Body(
        name=name,
        kind=kind,
        layer=layer,
        material=material,
        coffer=coffer,
        explode=explode,
        points=(shape.points / 1000.0).astype(np.float32),
        faces=shape.faces,
        uv=shape.uv.astype(np.float32),
        normals=np.ascontiguousarray(shape.normals, dtype=np.float32),
    )
    return Raw(body, shape)


LAYERS: dict[PartKind, Layer] = {"slat": "slats", "trim": "trim", "furring": "furring"}
DROPS: dict[Layer, float] = {"furring": 1.0, "slats": -1.0, "trim": -2.0}


def _wood(parts: tuple[Part, ...], look: Look, step: float, lift: float) -> Iterator[Raw]:
    for part in parts:
        layer = LAYERS.get(part.kind, "beams")
        away = (0.0, 0.0, lift * DROPS.get(layer, 0.0))
        raw = _raw(part.id, layer, material_of(part, look), shape_of(part, step), part.kind, part.coffer, away)
        yield _edged(raw, edges_of(part))
    for part in parts:
        for i, pocket in enumerate(part.pockets, start=1):
            mouth, d = np.array(pocket.mouth), np.array(pocket.direction)
            shoulder = mouth + pocket.bore_length * d
            end = shoulder + pocket.pilot_length * d
            bore = hollow_cylinder(mouth, shoulder, pocket.bore / 2)
            pilot = hollow_cylinder(shoulder, end, pocket.pilot / 2 + 1.0)
            yield _raw(f"{part.id} pocket {i}", "pockets", "pocket", bore, "bore", part.coffer)
            yield _raw(f"{part.id} pocket {i} pilot", "pockets", "pilot", pilot, "pilot", part.coffer)


def _edged(raw: Raw, lines: Doubles) -> Raw:
    return replace(raw, body=replace(raw.body, edges=(lines / 1000.0).astype(np.float32)))


def _room(room: Room, layout: Layout, look: Look, step: float, lift: float) -> Iterator[Raw]:
    level = Plane(z0=0.0)
    covered = layout.slat.thickness + layout.trim_strip.thickness + layout.furring_thickness
    ring = tuple(room.points)[::-1]
    floor = flat_shape(ring, level, True, 1.3 * step)
    u, v = FLOOR_SIZE
    floor = replace(floor, uv=np.stack([floor.points[:, 1] / u, floor.points[:, 0] / v], 1))
    yield _raw("floor", "room", "floor", floor)
    for wall in room.walls:
        yield _raw(f"wall {wall}", "room", "wall", wall_shape(room, wall, look.openings, step, covered))
        skirting = skirting_shape(room, wall, look.openings, CASING[0])
        if skirting is not None:
            yield _raw(f"skirting {wall}", "room", "joinery", skirting)
    for n, o in enumerate(look.openings, start=1):
        shapes = window_shapes(room, o) if o.kind == "window" else door_shapes(room, o)
        for material, shape in shapes.items():
            yield _raw(f"{o.kind} {n} {material}", "room", material, shape)
    for coffer in layout.coffers:
        behind = ceiling_shape(room, coffer.outline, False, 2.5 * step)
        yield _raw(f"old ceiling {coffer.id}", "old ceiling", "old ceiling", behind, "", coffer.id, (0.0, 0.0, lift))
    if not layout.coffers:
        yield _raw("old ceiling", "old ceiling", "plaster", ceiling_shape(room, layout.outline, False, 1.5 * step))


def _above(room: Room, layout: Layout, look: Look, lift: float) -> Iterator[Raw]:
    shape, edges = overhead.plate(room, look)
    # One step over the beams, two where furring hangs between.
    rise = 1.0 if layout.furring is None else 2.0
    made = [("old ceiling", "plaster", "", shape, edges)]
    kind = "joist (assumed)" if layout.joists.assumed else "joist"
    made += [(name, "joist", kind, stick, lines) for name, stick, lines in overhead.joists(room, layout, look)]
    for name, material, kind, shape, lines in made:
        yield _edged(_raw(name, "above", material, shape, kind, None, (0.0, 0.0, rise * lift)), lines)


def _underside(room: Room, layout: Layout, hole: CutOut) -> float:
    """Height of what a fixture hangs under: the slats of its coffer, else the old ceiling."""
    if hole.coffer is None:
        return ceiling_height(room, hole.centre)
    return layout.backing(layout.coffer(hole.coffer)).at(hole.centre) - layout.slat.thickness


def _fixtures(room: Room, layout: Layout, look: Look) -> Iterator[tuple[tuple[Raw, ...], Lamp | None]]:
    for hole in layout.cut_outs:
        below = _underside(room, layout, hole)
        fixture = look.fixtures.get(hole.name)
        if not look.is_lamp(hole.name):
            yield (_raw(hole.name, "fixture", "plate", plate(hole.outline, below)),), None
            continue
        given = fixture.canopy if fixture is not None else None
        canopy = given or 1.3 * max(map(abs, _span(hole.outline)))
        metal, glass, middle, radius = pendant(hole.centre, below, canopy)
        yield _lamp(hole.name, metal, glass, middle, radius)


def _lamp(name: str, metal: Shape, glass: Shape, middle: Doubles, radius: float) -> tuple[tuple[Raw, ...], Lamp]:
    lamp = Lamp(centre=vector(middle, 1000.0), radius=radius / 1000.0, power=LAMPLIGHT)
    return (_raw(name, "fixture", "metal", metal), _raw(f"{name} globe", "fixture", "globe", glass)), lamp


def _span(ring: Iterable[tuple[float, float]]) -> tuple[float, float]:
    x, y = zip(*ring, strict=True)
    return max(x) - min(x), max(y) - min(y)


def all_bodies(
    parts: tuple[Part, ...],
    room: Room,
    layout: Layout,
    look: Look,
    lamps: Sequence[Point] = (),
    things: Sequence[Thing] = (),
) -> tuple[list[Raw], tuple[Lamp, ...]]:
    """Bodies, parts first, and the lamps among them.

    Args:
        parts: as cut.
        room: as measured.
        layout: the arrangement.
        look: of it all.
        lamps: where some stand, if none hangs from the ceiling.
        things: that stand about.
    """
    step = _step(room)
    lift = APART * max(_span(room.points)) / 1000.0
    raws = [
        *_wood(parts, look, step / USUAL_STEP, lift),
        *_room(room, layout, look, step, lift),
        *_above(room, layout, look, lift),
        *(_raw(thing.name, "furniture", thing.name, thing.shape) for thing in things),
    ]
    fixtures = list(_fixtures(room, layout, look))
    if not any(lamp for _, lamp in fixtures):
        fixtures += [_lamp(f"{STANDING} {n}", *standing(at)) for n, at in enumerate(lamps, start=1)]
    return [*raws, *(raw for made, _ in fixtures for raw in made)], tuple(lamp for _, lamp in fixtures if lamp)
