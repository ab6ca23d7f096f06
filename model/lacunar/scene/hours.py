"""Day and evening of a room, and how a camera is set for them: one exposure and white balance for all its pictures.

Variants then compare fairly: pale wood stays paler than dark wood, and a room that wood darkens is seen to be darker.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace

import numpy as np

from lacunar.scene.noise import f32
from lacunar.scene.types import Appearance, Body, Evening, Lamp, Lights, Scene, Sun, Vector, WindowLight, vector

TONE = 0.6
"""Where wall and ceiling come to lie together by day, linear. Source: tuned by eye."""

CEILING_WEIGHT = 0.25
"""How much of that is the ceiling: dark wood opens the lens and pale wood closes it, without taking the walls along all
the way. Source: tuned by eye."""

ADAPT = 0.72
"""How far the eye takes the room's mean colour for white by day. Source: tuned by eye."""

OUTDOORS = (6.0, 6.0, 6.0)
"""Gain of the view out of the windows by day, after exposure. Source: tuned by eye."""

EVENING_TONE, EVENING_ADAPT = 0.42, 0.55
"""Tone and adaptation in the evening: darker than by day, and warm. Source: tuned by eye."""

DUSK = (0.004, 0.005, 0.006)
"""What is left of daylight when the lamps are lit. Source: tuned by eye."""

NIGHTFALL = (0.07, 0.11, 0.18)
"""Gain of the view out of the windows in the evening. Source: tuned by eye."""

GLOW = (9.0, 7.6, 5.6)
"""Of a lit globe, after exposure: white with a warm rim. Source: tuned by eye."""

LUMA = (0.2126, 0.7152, 0.0722)
"""Share of each colour in brightness. Source: ITU-R BT.709."""

Bodies = tuple[Body, ...]


def day_of(
    bodies: Bodies, materials: Mapping[str, Appearance], windows: tuple[WindowLight, ...], sun: Sun
) -> tuple[Lights, Vector]:
    """The day's lights, lamps off, and its exposure."""
    lights = Lights(windows=windows, lamps=(), sun=sun, outdoors=OUTDOORS)
    return lights, _exposure(bodies, materials, TONE, ADAPT)


def evening_of(
    bodies: Bodies, materials: Mapping[str, Appearance], day: Lights, lamps: tuple[Lamp, ...], standing: Bodies
) -> Evening:
    """The evening's lights and exposure.

    Args:
        bodies: that are there all day, lit.
        materials: by name.
        day: lights of the day.
        lamps: that are lit.
        standing: bodies of lamps that stand in the room in the evening only.
    """
    windows = tuple(replace(w, sky=_times(w.sky, DUSK), ground=_times(w.ground, DUSK)) for w in day.windows)
    sun = replace(day.sun, power=(0.0, 0.0, 0.0))
    lights = Lights(windows=windows, lamps=lamps, sun=sun, outdoors=NIGHTFALL)
    exposure = _exposure(tuple(_dimmed(bodies)), materials, EVENING_TONE, EVENING_ADAPT)
    return Evening(lights=lights, exposure=exposure, bodies=standing)


def by_lamplight(scene: Scene) -> Scene:
    """The same scene in the evening, which must have been made: light is a sum with the day's, and globes glow."""
    assert scene.evening is not None
    glow = vector(np.array(GLOW) / np.array(scene.evening.exposure))
    return replace(
        scene,
        bodies=tuple(_dimmed((*scene.bodies, *scene.evening.bodies))),
        materials={**scene.materials, "globe": replace(scene.materials["globe"], glow=glow)},
        lights=scene.evening.lights,
        exposure=scene.evening.exposure,
    )


def set_alike(scene: Scene, first: Scene) -> Scene:
    """A scene seen by another one's cameras, set as they are."""
    evening = scene.evening and first.evening and replace(scene.evening, exposure=first.evening.exposure)
    today = scene.today and set_alike(scene.today, first)
    return replace(scene, cameras=first.cameras, exposure=first.exposure, evening=evening, today=today)


def _dimmed(bodies: Bodies) -> Iterable[Body]:
    for body in bodies:
        if body.light is None or body.lamplight is None:
            yield body
        else:
            yield replace(body, light=body.lamplight + body.light * f32(DUSK))


def _times(a: Vector, b: Vector) -> Vector:
    return vector(np.array(a) * np.array(b))


def _exposure(bodies: Bodies, materials: Mapping[str, Appearance], tone: float, adapt: float) -> Vector:
    """So that walls and ceiling together come out at one tone, and nearly grey, in every room: as an eye adapts."""
    walls = [b.light.mean(axis=0) for b in bodies if b.name.startswith("wall") and b.light is not None]
    if not walls:
        return (1.0, 1.0, 1.0)
    mean = np.maximum(np.mean(walls, axis=0), 1e-6)
    grey = float(mean @ np.array(LUMA))
    wall = float(mean * np.array(materials["wall"].mean) @ np.array(LUMA))
    ceiling = _ceiling_tone(bodies, materials) or wall
    return vector(tone / (wall ** (1 - CEILING_WEIGHT) * ceiling**CEILING_WEIGHT) * (grey / mean) ** adapt)


def _ceiling_tone(bodies: Bodies, materials: Mapping[str, Appearance]) -> float:
    """How much light the slats send down, before exposure; 0 without any."""
    sent = [
        float(np.array(materials[b.material].mean) * b.light[b.normals[:, 2] < -0.9].mean(axis=0) @ np.array(LUMA))
        for b in bodies
        if b.kind == "slat" and b.light is not None
    ]
    return float(np.mean(sent)) if sent else 0.0
