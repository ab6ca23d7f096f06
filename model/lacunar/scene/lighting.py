"""The lights of a room (windows, lamps, a sun that shines into one window), and what falls on its bodies."""

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

import numpy as np

from lacunar.scene.bake import Lit, Surfaces, ambient, bake
from lacunar.scene.bodies import Raw
from lacunar.scene.noise import Floats, f32
from lacunar.scene.rays import rays_for
from lacunar.scene.shape import joined
from lacunar.scene.types import Appearance, Body, Indices, Lights, Quality, Sun, WindowLight, vector

RAYS: dict[Quality, int] = {"draft": 160, "fine": 384, "large": 1024, "traced": 384}
"""Rays from each probe on paint: 384 leave no blotch that one sees on a white wall. Measured by looking."""

GAP_LIGHT = 0.10
"""Share of a slat's light that reaches the old ceiling behind a gap: a slot 6 wide and 19 deep shows its bottom
about sin(atan(3 / 19)) = 0.16 of the half space; less for what stands in it at grazing angles."""

SUN = (17.0, 14.0, 9.8)
"""Sunlight square to it, against a sky of 10. Source: tuned by eye; a clear sun is far stronger and blinds."""

ELEVATION = math.radians(33)
"""A morning's or an afternoon's sun: high enough to reach the floor, low enough to reach into the room."""

ASIDE = math.radians(38)
"""Between the window's normal and the sun, in the plan."""


def sun_of(windows: tuple[WindowLight, ...], middle: tuple[float, float]) -> Sun:
    """A sun through the widest window. `middle`: of the room, metres: it comes in slanting towards it."""
    if not windows:
        return Sun(towards=(0.0, 0.0, 1.0), power=(0.0, 0.0, 0.0))
    widest = max(windows, key=lambda w: w.half[0] * w.half[1])
    inward, right = np.array(widest.inward), np.array(widest.right)
    # The side on which more of the room lies decides which way the patch of sun falls.
    side = 1.0 if float((np.array([*middle, 0.0]) - np.array(widest.centre)) @ right) >= 0 else -1.0
    level = math.cos(ELEVATION)
    towards = -inward * level * math.cos(ASIDE) - side * right * level * math.sin(ASIDE)
    towards[2] = math.sin(ELEVATION)
    return Sun(towards=vector(towards), power=SUN)


def with_light(
    raws: list[Raw], materials: Mapping[str, Appearance], lights: Lights, quality: Quality
) -> tuple[tuple[Body, ...], tuple[str, ...]]:
    """Bodies with light; pockets and glass stand in no ray's way."""
    unlit = ("pockets", "above")
    solid = [r for r in raws if r.body.layer not in unlit and not materials[r.body.material].pane]
    rest = [r for r in raws if r.body.layer in unlit or materials[r.body.material].pane]
    # A lamp's own metal would throw a star round the cut-out, whose rim lies in its shadow: it is not hit.
    solid.sort(key=lambda r: r.body.layer == "fixture")
    surfaces, points, faces, lit_by = surfaces_of(solid, materials)
    n_hit = sum(len(r.body.faces) for r in solid if r.body.layer != "fixture")
    rays = rays_for(points, faces[:n_hit])
    notes = () if rays else ("Light is even: embree is not installed here, so pictures have no shadows.",)
    lit = bake(rays, surfaces, lights, RAYS[quality]) if rays else ambient(surfaces)
    bodies = [*_lit(solid, lit, lit_by), *(r.body for r in rest)]
    return tuple(_behind(bodies)), notes


def surfaces_of(raws: list[Raw], materials: Mapping[str, Appearance]) -> tuple[Surfaces, Floats, Indices, Indices]:
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
        plain=np.concatenate([np.full(len(r.shape.probes), r.body.material in ("wall", "plaster")) for r in raws])[
            first
        ],
    )
    return surfaces, (shape.points / 1000.0).astype(np.float32), shape.faces, lit_by


def _lit(raws: list[Raw], lit: Lit, lit_by: Indices) -> Iterator[Body]:
    at = 0
    for raw in raws:
        n = len(raw.body.points)
        pair = lit_by[at : at + n]
        at += n
        share = raw.shape.share[:, None].astype(np.float32)
        day, evening = (light[pair].mean(axis=1) * share for light in (lit.light, lit.lamplight))
        yield replace(raw.body, light=day, lamplight=evening, sees=lit.sees[pair].mean(axis=1))


def _behind(bodies: Iterable[Body]) -> Iterator[Body]:
    """The old ceiling and furring on it take what their coffer's slats have, and little of that."""
    all_bodies = tuple(bodies)
    slats: dict[str | None, list[Floats]] = {}
    for body in all_bodies:
        if body.kind == "slat" and body.light is not None and body.lamplight is not None:
            below = body.normals[:, 2] < -0.9
            slats.setdefault(body.coffer, []).append(
                np.stack([x[below].mean(axis=0) for x in (body.light, body.lamplight)])
            )
    for body in all_bodies:
        if body.layer not in ("old ceiling", "furring") or body.light is None or body.coffer not in slats:
            yield body
        else:
            mean = np.mean(slats[body.coffer], axis=0) * f32(GAP_LIGHT)
            day, evening = (np.broadcast_to(x, body.light.shape).astype(np.float32) for x in mean)
            yield replace(body, light=day, lamplight=evening)
