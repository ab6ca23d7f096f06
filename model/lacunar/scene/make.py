"""From parts and room to a lit scene."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from lacunar.config import Config
from lacunar.geometry import Plane
from lacunar.layout import Layout
from lacunar.parts import Part
from lacunar.scene import overhead
from lacunar.scene.bake import Lit, Surfaces, ambient, bake
from lacunar.scene.cameras import cameras_of
from lacunar.scene.fixtures import hollow_cylinder, pendant, plate
from lacunar.scene.lights import lights_of
from lacunar.scene.look import Look, look_of
from lacunar.scene.materials import FLOOR_SIZE, material_of, room_materials, wood_materials
from lacunar.scene.noise import Floats, f32
from lacunar.scene.openings import CASING, door_shapes, window_light, window_shapes
from lacunar.scene.prism import edges_of, shape_of
from lacunar.scene.rays import rays_for
from lacunar.scene.section import sections_of
from lacunar.scene.shape import Doubles, Shape, joined
from lacunar.scene.shell import flat_shape, skirting_shape, wall_shape, windows_of
from lacunar.scene.types import Body, Indices, Lamp, Layer, Letter, Lights, Material, Quality, Scene, Vector
from lacunar.survey import Room, ceiling_height

RAYS: dict[Quality, int] = {"draft": 160, "fine": 384, "photo": 1024}
"""Rays from each probe on paint: 384 leave no blotch that one sees on a white wall. Measured by looking."""

GAP_LIGHT = 0.10
"""Share of a slat's light that reaches the old ceiling behind a gap: a slot 6 wide and 19 deep shows its bottom
about sin(atan(3 / 19)) = 0.16 of the half space; less for what stands in it at grazing angles."""


TONE = 0.86
"""Light on a middling wall after exposure. Source: tuned by eye."""

BRIGHTEST = 0.36
"""What slats send down at most, or pale wood would burn out. Source: tuned by eye."""

LUMA = (0.2126, 0.7152, 0.0722)
"""Share of each colour in brightness. Source: ITU-R BT.709."""

ADAPT = 0.72
"""How far the eye takes the room's mean colour for white. Source: tuned by eye."""


@dataclass(frozen=True, slots=True)
class _Raw:
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
) -> _Raw:
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
    return _Raw(body, shape)


def _layer(part: Part) -> Layer:
    return "slats" if part.kind == "slat" else "trim" if part.kind == "trim" else "beams"


def _wood(parts: tuple[Part, ...], look: Look, step: float, lift: float) -> Iterator[_Raw]:
    drops = {"slats": -1.0, "trim": -2.0}
    for part in parts:
        layer = _layer(part)
        raw = _raw(
            part.id,
            layer,
            material_of(part, look),
            shape_of(part, step),
            part.kind,
            part.coffer,
            (0.0, 0.0, lift * drops.get(layer, 0.0)),
        )
        yield replace(raw, body=replace(raw.body, edges=(edges_of(part) / 1000.0).astype(np.float32)))
    for part in parts:
        for i, pocket in enumerate(part.pockets):
            mouth, d = np.array(pocket.mouth), np.array(pocket.direction)
            shoulder = mouth + pocket.bore_length * d
            name = f"{part.id} pocket {i + 1}"
            yield _raw(
                name, "pockets", "pocket", hollow_cylinder(mouth, shoulder, pocket.bore / 2), "bore", part.coffer
            )
            end = shoulder + pocket.pilot_length * d
            yield _raw(
                f"{name} pilot",
                "pockets",
                "pilot",
                hollow_cylinder(shoulder, end, pocket.pilot / 2 + 1.0),
                "pilot",
                part.coffer,
            )


def _room(room: Room, layout: Layout, look: Look, step: float, lift: float) -> Iterator[_Raw]:
    level = Plane(z0=0.0)
    covered = layout.slat.thickness + layout.trim_strip.thickness
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
        behind = flat_shape(coffer.outline, layout.ceiling, False, 2.5 * step)
        yield _raw(f"old ceiling {coffer.id}", "old ceiling", "old ceiling", behind, "", coffer.id, (0.0, 0.0, lift))


def _above(layout: Layout, look: Look, lift: float) -> Iterator[_Raw]:
    shape, edges = overhead.plate(layout, look)
    made = [("old ceiling", "plaster", "", shape, edges, 1.0)]
    kind = "joist (assumed)" if layout.joists.assumed else "joist"
    made += [(name, "joist", kind, stick, lines, 1.0) for name, stick, lines in overhead.joists(layout, look)]
    for name, material, kind, shape, lines, rise in made:
        raw = _raw(name, "above", material, shape, kind, None, (0.0, 0.0, rise * lift))
        yield replace(raw, body=replace(raw.body, edges=(lines / 1000.0).astype(np.float32)))


LIGHTS = ("light", "lamp", "box", "pendant", "chandelier", "lantern")


def _is_lamp(kind: str) -> bool:
    return not kind or any(word in kind.lower() for word in LIGHTS)


def _fixtures(layout: Layout, look: Look) -> Iterator[tuple[tuple[_Raw, ...], Lamp | None]]:
    for hole in layout.cut_outs:
        below = layout.ceiling.at(hole.centre) - layout.slat.thickness
        if not _is_lamp(look.fixtures.get(hole.name, "")):
            yield (_raw(hole.name, "fixture", "plate", plate(hole.outline, below)),), None
            continue
        canopy = look.canopies.get(hole.name, 0.0) or 1.3 * max(map(abs, _span(hole.outline)))
        metal, glass, middle, radius = pendant(hole.centre, below, canopy)
        lamp = Lamp(centre=_metres(middle), radius=radius / 1000.0, power=(0.60, 0.44, 0.28))
        yield (_raw(hole.name, "fixture", "metal", metal), _raw(f"{hole.name} globe", "fixture", "globe", glass)), lamp


def _span(ring: Iterable[tuple[float, float]]) -> tuple[float, float]:
    x, y = zip(*ring, strict=True)
    return max(x) - min(x), max(y) - min(y)


def _metres(p: Doubles) -> Vector:
    return (float(p[0]) / 1000.0, float(p[1]) / 1000.0, float(p[2]) / 1000.0)


def _surfaces(raws: list[_Raw], materials: Mapping[str, Material]) -> tuple[Surfaces, Floats, Indices, Indices]:
    """Probes of everything as one set, and the triangles that stand in the light's way."""
    shape = joined([raw.shape for raw in raws])
    albedo = [np.broadcast_to(f32(materials[raw.body.material].mean), (len(raw.shape.faces), 3)) for raw in raws]
    key = np.round(np.column_stack([shape.probes, 300.0 * shape.probe_normals])).astype(np.int64)
    _, first, place = np.unique(key, axis=0, return_index=True, return_inverse=True)
    lit_by = place.reshape(-1)[shape.lit_by].astype(np.int32)
    surfaces = Surfaces(
        probes=(shape.probes[first] / 1000.0).astype(np.float32),
        normals=np.ascontiguousarray(shape.probe_normals[first], dtype=np.float32),
        corners=lit_by[shape.faces, 0],
        facing=f32(shape.normals[shape.faces[:, 0]]),
        albedo=np.concatenate(albedo),
        share=shape.share[shape.faces].mean(axis=1).astype(np.float32),
        plain=np.concatenate([np.full(len(r.shape.probes), r.body.layer == "room") for r in raws])[first],
    )
    return surfaces, (shape.points / 1000.0).astype(np.float32), shape.faces, lit_by


def _lit(raws: list[_Raw], lit: Lit, lit_by: Indices) -> Iterator[Body]:
    at = 0
    for raw in raws:
        n = len(raw.body.points)
        pair = lit_by[at : at + n]
        at += n
        light = lit.light[pair].mean(axis=1) * raw.shape.share[:, None].astype(np.float32)
        yield replace(raw.body, light=light, sees=lit.sees[pair].mean(axis=1))


def _behind(bodies: Iterable[Body]) -> Iterator[Body]:
    """The old ceiling takes what its coffer's slats have, and little of that."""
    all_bodies = tuple(bodies)
    slats: dict[str | None, list[Floats]] = {}
    for body in all_bodies:
        if body.kind == "slat" and body.light is not None:
            slats.setdefault(body.coffer, []).append(body.light[body.normals[:, 2] < -0.9].mean(axis=0))
    for body in all_bodies:
        if body.layer != "old ceiling" or body.light is None or body.coffer not in slats:
            yield body
        else:
            mean = np.mean(slats[body.coffer], axis=0) * f32(GAP_LIGHT)
            yield replace(body, light=np.broadcast_to(mean, body.light.shape).astype(np.float32))


def _exposure(bodies: tuple[Body, ...], materials: Mapping[str, Material]) -> Vector:
    """So that a middling wall comes out at the same tone, and nearly grey, in every room: as an eye adapts."""
    walls = [b.light.mean(axis=0) for b in bodies if b.name.startswith("wall") and b.light is not None]
    if not walls:
        return (1.0, 1.0, 1.0)
    mean = np.maximum(np.mean(walls, axis=0), 1e-6)
    grey = float(mean @ np.array(LUMA))
    gain = min(TONE / grey, BRIGHTEST / max(_ceiling_tone(bodies, materials), 1e-6)) * (grey / mean) ** ADAPT
    return (float(gain[0]), float(gain[1]), float(gain[2]))


def _ceiling_tone(bodies: tuple[Body, ...], materials: Mapping[str, Material]) -> float:
    """How much light the slats send down, before exposure."""
    sent = [
        float(np.array(materials[b.material].mean) * b.light[b.normals[:, 2] < -0.9].mean(axis=0) @ np.array(LUMA))
        for b in bodies
        if b.kind == "slat" and b.light is not None
    ]
    return float(np.mean(sent)) if sent else 0.0


def _step(room: Room) -> float:
    """Mm between probes on walls: as fine as rooms of this size allow in a few seconds."""
    x, y = _span(room.points)
    return float(np.clip(115.0 * np.sqrt((x + y) / 8500.0), 95.0, 300.0))


def make_scene(
    parts: tuple[Part, ...],
    room: Room,
    config: Config,
    layout: Layout,
    *,
    quality: Quality = "fine",
    light: bool = True,
) -> Scene:
    """The ceiling in its room, with light on every surface.

    Args:
        parts: as cut.
        room: as measured.
        config: for windows, doors, fixtures, finish and cameras.
        layout: the arrangement.
        quality: how many rays the light is worked out with.
        light: False leaves it out: exploded, section and hidden views need none.
    """
    refinished = frozenset(beam.id for beam in layout.beams if not beam.keep)
    look = replace(look_of(config, room), refinished=refinished)
    step = _step(room)
    lift = 0.25 * max(_span(room.points)) / 1000.0
    raws = [
        *_wood(parts, look, step / 115.0, lift),
        *_room(room, layout, look, step, lift),
        *_above(layout, look, lift),
    ]
    lamps: list[Lamp] = []
    for made, lamp in _fixtures(layout, look):
        raws += made
        lamps += [lamp] if lamp else []
    lights = lights_of(
        tuple(window_light(room, o) for o in windows_of(look)),
        lamps,
        (room.centre[0] / 1000.0, room.centre[1] / 1000.0),
    )
    materials = {**room_materials(look), **wood_materials(parts, look)}
    bodies, notes = _with_light(raws, materials, lights, quality) if light else (tuple(r.body for r in raws), ())
    return Scene(
        title=look.title,
        units=look.units,
        bodies=bodies,
        materials=materials,
        cameras=cameras_of(room, layout, look),
        lights=lights,
        exposure=_exposure(bodies, materials),
        letters=_letters(room),
        height=min(room.heights) / 1000.0,
        cuts=sections_of(parts, layout, look, room.centre[:2]),
        read_to=look.read_to,
        outline=tuple((x / 1000.0, y / 1000.0) for x, y in reversed(room.points)),
        notes=(*look.assumed, *notes),
    )


def _with_light(
    raws: list[_Raw], materials: Mapping[str, Material], lights: Lights, quality: Quality
) -> tuple[tuple[Body, ...], tuple[str, ...]]:
    """Bodies with light; pockets and glass stand in no ray's way."""
    unlit = ("pockets", "above")
    solid = [r for r in raws if r.body.layer not in unlit and not materials[r.body.material].pane]
    rest = [r for r in raws if r.body.layer in unlit or materials[r.body.material].pane]
    # A lamp's own metal would throw a star round the cut-out, whose rim lies in its shadow: it is not hit.
    solid.sort(key=lambda r: r.body.layer == "fixture")
    surfaces, points, faces, lit_by = _surfaces(solid, materials)
    n_hit = sum(len(r.body.faces) for r in solid if r.body.layer != "fixture")
    rays = rays_for(points, faces[:n_hit])
    notes = () if rays else ("Light is even: embree is not installed here, so pictures have no shadows.",)
    lit = bake(rays, surfaces, lights, RAYS[quality]) if rays else ambient(surfaces)
    bodies = [*_lit(solid, lit, lit_by), *(r.body for r in rest)]
    return tuple(_behind(bodies)), notes


def _letters(room: Room) -> tuple[Letter, ...]:
    cx, cy = room.centre[:2]
    out: list[Letter] = []
    for name, (x, y) in zip(room.corners, room.points, strict=True):
        away = float(np.hypot(x - cx, y - cy)) or 1.0
        place = (x + 170.0 * (x - cx) / away, y + 170.0 * (y - cy) / away)
        out.append(Letter(text=name, at=(place[0] / 1000.0, place[1] / 1000.0, ceiling_height(room, (x, y)) / 1000.0)))
    return tuple(out)
