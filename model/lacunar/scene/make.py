"""From parts and room to a lit scene."""

from dataclasses import replace

import numpy as np

from lacunar.config import Config
from lacunar.layout import Layout
from lacunar.parts import Part
from lacunar.scene.bodies import all_bodies
from lacunar.scene.cameras import cameras_of
from lacunar.scene.lighting import exposure, sun_of, with_light
from lacunar.scene.look import look_of
from lacunar.scene.materials import room_materials, wood_materials
from lacunar.scene.openings import window_light
from lacunar.scene.section import sections_of
from lacunar.scene.types import Letter, Lights, Quality, Scene, vector
from lacunar.survey import Room, ceiling_height


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
        quality: how many rays the light is worked out with, and how fine grain is.
        light: False leaves it out: exploded, section and hidden views need none.
    """
    refinished = frozenset(beam.id for beam in layout.beams if not beam.keep)
    look = replace(look_of(config, room), refinished=refinished)
    raws, lamps = all_bodies(parts, room, layout, look)
    windows = tuple(window_light(room, o) for o in look.of_kind("window"))
    sun = sun_of(windows, (room.centre[0] / 1000.0, room.centre[1] / 1000.0))
    lights = Lights(windows=windows, lamps=lamps, sun=sun)
    materials = {**room_materials(look), **wood_materials(parts, look, quality)}
    bodies, notes = with_light(raws, materials, lights, quality) if light else (tuple(r.body for r in raws), ())
    return Scene(
        title=config.title or config.name,
        tape=config.tape,
        bodies=bodies,
        materials=materials,
        cameras=cameras_of(room, layout, look),
        lights=lights,
        exposure=exposure(bodies, materials),
        letters=_letters(room),
        height=min(room.heights) / 1000.0,
        cuts=sections_of(parts, room, layout, look),
        outline=tuple((x / 1000.0, y / 1000.0) for x, y in reversed(room.points)),
        notes=(*look.assumed, *notes),
    )


def _letters(room: Room) -> tuple[Letter, ...]:
    cx, cy = room.centre[:2]
    out: list[Letter] = []
    for name, (x, y) in zip(room.corners, room.points, strict=True):
        away = float(np.hypot(x - cx, y - cy)) or 1.0
        place = (x + 170.0 * (x - cx) / away, y + 170.0 * (y - cy) / away, ceiling_height(room, (x, y)))
        out.append(Letter(text=name, at=vector(place, 1000.0)))
    return tuple(out)
