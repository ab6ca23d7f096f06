"""From parts and room to a lit scene."""

from dataclasses import replace

import numpy as np

from lacunar.config import Config
from lacunar.layout import Layout
from lacunar.parts import Part
from lacunar.scene.bodies import STANDING, all_bodies
from lacunar.scene.cameras import cameras_of, lamp_places
from lacunar.scene.furniture import Thing, furniture, left_out
from lacunar.scene.hours import day_of, evening_of
from lacunar.scene.lighting import sun_of, with_light
from lacunar.scene.look import Look, look_of
from lacunar.scene.materials import room_materials, wood_materials
from lacunar.scene.openings import window_light
from lacunar.scene.section import sections_of
from lacunar.scene.shade import with_shade
from lacunar.scene.today import as_it_is
from lacunar.scene.types import Body, Letter, Lights, Quality, Scene, vector
from lacunar.survey import Room, ceiling_height


def make_scene(
    parts: tuple[Part, ...],
    room: Room,
    config: Config,
    layout: Layout,
    *,
    quality: Quality = "fine",
    light: bool = True,
    today: bool = False,
    evening: bool = True,
    shade: bool = False,
) -> Scene:
    """The ceiling in its room, with light on every surface.

    Args:
        parts: as cut.
        room: as measured.
        config: for windows, doors, fixtures, finish and cameras.
        layout: the arrangement.
        quality: how many rays the light is worked out with, and how fine grain is.
        light: False leaves it out: exploded, section and hidden views need none.
        today: the room as it is is made too.
        evening: what lamps light is worked out too.
        shade: how much of the open each surface of the ceiling sees is worked out too.
    """
    refinished = frozenset(beam.id for beam in layout.beams if not beam.keep)
    look = replace(look_of(config, room), refinished=refinished)
    cameras = cameras_of(room, layout, look)
    stands = lamp_places(room, cameras)
    # What stands on the floor is in nobody's way who looks up.
    eyes = [(1000.0 * c.eye[0], 1000.0 * c.eye[1]) for name, c in cameras.items() if name not in ("up", "corner")]
    things = furniture(room, look.openings, eyes) if config.room.furnished else ()
    crowded = left_out(things) if config.room.furnished else ()
    raws, lamps = all_bodies(parts, room, layout, look, stands, things)
    windows = tuple(window_light(room, o) for o in look.of_kind("window"))
    sun = sun_of(windows, (room.centre[0] / 1000.0, room.centre[1] / 1000.0))
    materials = {**room_materials(look), **wood_materials(parts, look, quality)}
    every = Lights(windows=windows, lamps=lamps if evening else (), sun=sun)
    raws = with_shade(raws, materials) if shade else raws
    lit, notes = with_light(raws, materials, every, quality) if light else (tuple(r.body for r in raws), ())
    bodies, standing = _sorted(lit)
    lights, exposure = day_of(bodies, materials, windows, sun)
    scene = Scene(
        title=config.title or config.name,
        tape=config.tape,
        bodies=bodies,
        materials=materials,
        cameras=cameras,
        lights=lights,
        exposure=exposure,
        evening=evening_of(bodies, materials, lights, lamps, standing) if evening else None,
        letters=_letters(room),
        height=min(room.heights) / 1000.0,
        cuts=sections_of(parts, room, layout, look),
        outline=tuple((x / 1000.0, y / 1000.0) for x, y in reversed(room.points)),
        notes=(*look.assumed, *([NO_LAMP] if standing and evening else []), *crowded, *notes),
    )
    return replace(scene, today=_today(scene, parts, room, layout, look, things, quality)) if today else scene


NO_LAMP = "Pictures: no lamp was given; in the evening they show standing lamps."


def _today(
    scene: Scene,
    parts: tuple[Part, ...],
    room: Room,
    layout: Layout,
    look: Look,
    things: tuple[Thing, ...],
    quality: Quality,
) -> Scene:
    """The room as it is, by day, seen by the same cameras, set as they are for what it will be."""
    look = replace(look, refinished=frozenset(), behind="")
    old, bare = as_it_is(parts, layout)
    raws, _ = all_bodies(old, room, bare, look, things=things)
    materials = {**scene.materials, **wood_materials(old, look, quality)}
    bodies, _ = with_light([r for r in raws if r.body.layer != "above"], materials, scene.lights, "draft")
    return replace(scene, bodies=bodies, materials=materials)


def _sorted(bodies: tuple[Body, ...]) -> tuple[tuple[Body, ...], tuple[Body, ...]]:
    """What is there all day, and what stands there in the evening only."""
    late = tuple(body for body in bodies if body.name.startswith(STANDING))
    return tuple(body for body in bodies if not body.name.startswith(STANDING)), late


def _letters(room: Room) -> tuple[Letter, ...]:
    cx, cy = room.centre[:2]
    out: list[Letter] = []
    for name, (x, y) in zip(room.corners, room.points, strict=True):
        away = float(np.hypot(x - cx, y - cy)) or 1.0
        place = (x + 170.0 * (x - cx) / away, y + 170.0 * (y - cy) / away, ceiling_height(room, (x, y)))
        out.append(Letter(text=name, at=vector(place, 1000.0)))
    return tuple(out)
