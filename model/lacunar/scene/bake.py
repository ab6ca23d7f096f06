"""Light of the room, worked out at probes on every surface: sky and sun through the windows, lamps, and bounces.

All light is irradiance over pi, so a matt surface sends out albedo times light. Directions and points on windows
are the same for all probes: their error then varies smoothly over a surface instead of speckling it.
"""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from lacunar.scene.noise import Floats, f32
from lacunar.scene.rays import Rays
from lacunar.scene.types import Indices, Lamp, Lights, Sun, WindowLight, clear_share, window_groups

BURIED = 0.35
"""A probe of whose rays so many meet surfaces from behind lies inside something."""

CHUNK = 120_000
"""Rays at a time: 6 MB, so that a batch stays in the cache."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Surfaces:
    """What light falls on and bounces off.

    Attributes:
        probes: (k, 3), metres, a little off the surface.
        normals: (k, 3).
        corners: (m, 3): the probes at each triangle's corners.
        facing: (m, 3): the triangles' normals.
        albedo: (m, 3), linear, of each triangle; 0 for what sends nothing back.
        share: (m,): how much of its probes' light reaches a triangle.
        plain: (k,): even paint, on which every blotch shows; wood hides what few rays leave behind.
    """

    probes: Floats
    normals: Floats
    corners: Indices
    facing: Floats
    albedo: Floats
    share: Floats
    plain: npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Lit:
    """Light at the probes, in layers that add up.

    Attributes:
        light: (k, 3), of the day.
        sees: (k, 5), how much of each group of windows and of the incoming sun each sees.
        lamplight: (k, 3), of the lamps alone.
    """

    light: Floats
    sees: Floats
    lamplight: Floats


def hemisphere(n: int) -> Floats:
    """Directions about +z, crowded as the cosine, shape (n, 3)."""
    u = (np.arange(n) + 0.5) / n
    phi = 2 * np.pi * (np.arange(n) * 0.618033988749895 % 1.0)
    r = np.sqrt(u)
    return np.stack([r * np.cos(phi), r * np.sin(phi), np.sqrt(1 - u)], 1).astype(np.float32)


def _frames(normals: Floats) -> tuple[Floats, Floats]:
    """Two unit vectors square to each normal."""
    helper = np.where(np.abs(normals[:, 2:]) > 0.9, f32([1, 0, 0]), f32([0, 0, 1]))
    first = f32(np.cross(helper, normals))
    first /= f32(np.linalg.norm(first, axis=1, keepdims=True))
    return first, f32(np.cross(normals, first))


def world(normals: Floats, directions: Floats) -> Floats:
    """Directions about +z turned to stand about each normal, shape (k, n, 3)."""
    first, second = _frames(normals)
    return f32(
        directions[None, :, :1] * first[:, None]
        + directions[None, :, 1:2] * second[:, None]
        + directions[None, :, 2:] * normals[:, None]
    )


def _threaded(work: Callable[[slice], None], n: int, per: int) -> None:
    size = max(1, CHUNK // max(per, 1))
    pieces = [slice(i, min(i + size, n)) for i in range(0, n, size)]
    with ThreadPoolExecutor(2) as pool:
        for _ in pool.map(work, pieces):
            pass


def first_hits(rays: Rays, facing: Floats, probes: Floats, normals: Floats, n: int) -> tuple[Indices, Floats]:
    """What n rays from each of k probes meet; `facing`: the normal of each triangle.

    Returns:
        (k, n) the triangle, -1 for none and for one seen from behind; (k,) the share seen from behind: a probe with
        much of it sits inside something solid.
    """
    directions = hemisphere(n)
    out = np.empty((len(probes), n), dtype=np.int32)
    behind = np.empty(len(probes), dtype=np.float32)

    def work(rows: slice) -> None:
        d = world(normals[rows], directions).reshape(-1, 3)
        o = np.repeat(probes[rows], n, axis=0)
        hit = rays.hits(o, d)
        back = (np.einsum("rc,rc->r", facing[hit], d) > 0) & (hit >= 0)
        hit[back] = -1
        out[rows] = hit.reshape(-1, n)
        behind[rows] = back.reshape(-1, n).mean(axis=1)

    _threaded(work, len(out), n)
    return out, behind


def _points_on(window: WindowLight, n: tuple[int, int]) -> Floats:
    """Evenly spread points of the glass that lie behind no glazing bar."""
    x = (np.arange(n[0]) + 0.5) / n[0] * 2 - 1
    y = (np.arange(n[1]) + 0.5) / n[1] * 2 - 1
    gx, gy = (g.ravel() for g in np.meshgrid(x * window.half[0], y * window.half[1]))
    right, up = np.array(window.right), np.array([0.0, 0.0, 1.0])
    return (np.array(window.centre) + gx[:, None] * right + gy[:, None] * up).astype(np.float32)


def daylight(rays: Rays, surfaces: Surfaces, window: WindowLight, n: tuple[int, int] = (6, 8)) -> tuple[Floats, Floats]:
    """Light that comes straight through one window, (k, 3), and the share of it that each probe sees, (k,)."""
    points = _points_on(window, n)
    # A hand's breadth inside, clear of sash and bars; their shadow is in the glass's share below.
    inward = np.array(window.inward, dtype=np.float32)
    near = points + inward * 0.03
    area = 4 * window.half[0] * window.half[1] / len(points)
    clear = clear_share(window)
    sky, ground = f32(window.sky), f32(window.ground)
    light = np.zeros((len(surfaces.probes), 3), dtype=np.float32)
    seen = np.zeros(len(surfaces.probes), dtype=np.float32)

    def work(rows: slice) -> None:
        step = near[None] - surfaces.probes[rows, None]
        square = np.maximum((step * step).sum(-1), 1e-4)
        at_probe = np.einsum("kpc,kc->kp", step, surfaces.normals[rows])
        at_glass = -(step @ inward)
        open_ = (at_probe > 0) & (at_glass > 0)
        form = np.where(open_, at_probe * at_glass / square**2, 0) * f32(area * clear / np.pi)
        free = np.zeros(open_.shape, dtype=bool)
        origins = np.broadcast_to(surfaces.probes[rows, None], step.shape)[open_]
        if len(origins):
            free[open_] = ~rays.blocked(origins, f32(step[open_] * 0.995))
        form = np.minimum(form, 0.3) * free
        # Looking up through a window one sees sky, looking down, ground; haze between.
        high = np.clip(step[..., 2] / np.sqrt(square) * 4 + 0.6, 0, 1)
        light[rows] = np.einsum("kp,kpc->kc", form, ground + high[..., None] * (sky - ground))
        seen[rows] = free.mean(axis=1)

    _threaded(work, len(light), len(points))
    return light, seen


def lamplight(rays: Rays, surfaces: Surfaces, lamp: Lamp) -> Floats:
    """Light straight from one lamp, (k, 3): a ball seen from outside, its shadow softened by eight points."""
    turn = hemisphere(4)
    spread = np.concatenate([turn, -turn]) * f32(lamp.radius * 0.9)
    points = f32(lamp.centre) + spread
    light = np.zeros((len(surfaces.probes), 3), dtype=np.float32)

    def work(rows: slice) -> None:
        centre = f32(lamp.centre) - surfaces.probes[rows]
        distance = np.maximum(np.linalg.norm(centre, axis=1), lamp.radius)
        cosine = np.maximum(np.einsum("kc,kc->k", centre, surfaces.normals[rows]) / distance, 0)
        step = points[None] - surfaces.probes[rows, None]
        length = np.linalg.norm(step, axis=2, keepdims=True)
        # Stop short of the globe itself.
        step *= np.maximum(1 - (lamp.radius * 1.9) / length, 0.05)
        origins = np.broadcast_to(surfaces.probes[rows, None], step.shape)
        free = ~rays.blocked(origins.reshape(-1, 3), step.reshape(-1, 3)).reshape(len(step), -1)
        light[rows] = (free.mean(axis=1) * cosine / distance**2)[:, None] * f32(lamp.power)

    _threaded(work, len(light), len(points))
    return light


def in_sun(points: Floats, windows: tuple[WindowLight, ...], sun: Sun) -> tuple[Floats, Floats]:
    """Which window the line from each point to the sun goes through.

    Returns:
        (k,) 1 where it goes through glass, and (k,) the distance to that glass, 0 elsewhere.
    """
    through = np.zeros(len(points), dtype=np.float32)
    far = np.zeros(len(points), dtype=np.float32)
    towards = np.array(sun.towards)
    for window in windows:
        facing = -float(towards @ np.array(window.inward))
        if facing <= 0.02:
            continue
        ahead = ((points - np.array(window.centre)) @ np.array(window.inward)) / facing
        at = points + ahead[:, None] * towards - np.array(window.centre)
        x, y = at @ np.array(window.right), at[:, 2]
        hit = (ahead > 0) & (np.abs(x) < window.half[0]) & (np.abs(y) < window.half[1])
        for bx, by, bw, bh in window.bars:
            hit &= ~((np.abs(x - bx) < bw) & (np.abs(y - by) < bh))
        through[hit], far[hit] = 1.0, ahead[hit]
    return through, far


def sunlight(rays: Rays, surfaces: Surfaces, lights: Lights) -> tuple[Floats, Floats]:
    """Light straight from the sun, (k, 3), and (k,) 0 where something in the room stands in its way."""
    through, far = in_sun(surfaces.probes, lights.windows, lights.sun)
    clear = np.ones(len(through), dtype=np.float32)
    towards = f32(lights.sun.towards)
    at = np.flatnonzero(through)
    if len(at):
        step = f32(towards * (far[at, None] - 0.12))
        clear[at] = ~rays.blocked(surfaces.probes[at], step)
    cosine = np.maximum(surfaces.normals @ towards, 0)
    return (through * clear * cosine)[:, None] * f32(lights.sun.power), clear


def _sent(surfaces: Surfaces, light: Floats) -> Floats:
    """What each triangle sends out, (m + 1, 3); the last, black one is for rays that leave the room."""
    mean = light[surfaces.corners].mean(axis=1) * surfaces.share[:, None]
    return np.concatenate([surfaces.albedo * mean, np.zeros((1, 3), np.float32)]).astype(np.float32)


@dataclass(frozen=True, slots=True)
class _Seen:
    """What some probes see: their places among all, and the triangles that their rays meet."""

    at: Indices
    hits: Indices


def _look(rays: Rays, surfaces: Surfaces, n_rays: int) -> tuple[list[_Seen], npt.NDArray[np.bool_]]:
    """What all probes see, and which of them are buried in something."""
    buried = np.zeros(len(surfaces.probes), dtype=bool)
    seen: list[_Seen] = []
    wood = int(np.count_nonzero(~surfaces.plain))
    # A third for wood, and less where there are very many probes.
    few = max(64, int(n_rays / 3 * min(1.0, (20_000 / max(wood, 1)) ** 0.5)))
    for mask, n in ((surfaces.plain, n_rays), (~surfaces.plain, few)):
        at = np.flatnonzero(mask).astype(np.int32)
        if len(at):
            hits, behind = first_hits(rays, surfaces.facing, surfaces.probes[at], surfaces.normals[at], n)
            buried[at] = behind > BURIED
            seen.append(_Seen(at, hits))
    return seen, buried


def _gathered(seen: list[_Seen], sent: Floats, every: int = 1) -> Floats:
    """Mean of what all rays bring, or every so-manieth of them."""
    out = np.empty((sum(len(s.at) for s in seen), 3), dtype=np.float32)
    for some in seen:
        for i in range(0, len(some.at), 4096):
            rows = slice(i, i + 4096)
            out[some.at[rows]] = sent[some.hits[rows, ::every]].mean(axis=1)
    return out


def bake(rays: Rays, surfaces: Surfaces, lights: Lights, n_rays: int, bounces: int = 6) -> Lit:
    """All light at the probes, the sun's own patch left out: pictures draw that with a sharp edge."""
    direct, lamps = np.zeros((2, len(surfaces.probes), 3), dtype=np.float32)
    sees = np.zeros((len(surfaces.probes), 5), dtype=np.float32)
    for window, group in zip(lights.windows, window_groups(len(lights.windows)), strict=True):
        light, part = daylight(rays, surfaces, window, (6, 8) if len(lights.windows) < 4 else (5, 6))
        direct += light
        sees[:, group] = np.maximum(sees[:, group], part)
    for lamp in lights.lamps:
        lamps += lamplight(rays, surfaces, lamp)
    sun, clear = sunlight(rays, surfaces, lights)
    seen, buried = _look(rays, surfaces, n_rays)
    sun[buried] = 0
    day = _bounced(surfaces, seen, buried, direct, sun, bounces)
    evening = _bounced(surfaces, seen, buried, lamps, np.zeros_like(sun), bounces, 2) if lights.lamps else lamps
    sees = filled(surfaces, sees, buried)
    sees[:, 4] = clear
    return Lit(day, sees, evening)


def _bounced(
    surfaces: Surfaces,
    seen: list[_Seen],
    buried: npt.NDArray[np.bool_],
    direct: Floats,
    patch: Floats,
    bounces: int,
    every: int = 1,
) -> Floats:
    """Direct light with all that it and a patch of sun, which is left out itself, send on.

    `every`: so-manieth ray is followed in the end: light without a patch is smoother.
    """
    light = direct + patch
    # A quarter of the rays will do for all bounces but the one that is looked at.
    for _ in range(bounces - 1):
        light = filled(surfaces, direct + patch + _gathered(seen, _sent(surfaces, light), 4 * every), buried)
    bounced = smoothed(surfaces, filled(surfaces, _gathered(seen, _sent(surfaces, light), every), buried))
    return filled(surfaces, direct, buried) + bounced


def _neighbours(surfaces: Surfaces) -> tuple[Indices, Indices]:
    """Pairs of probes that share a triangle's side, both ways."""
    a, b, c = surfaces.corners.T
    return np.concatenate([a, b, c, b, c, a]), np.concatenate([b, c, a, a, b, c])


def _mean_of(pairs: tuple[Indices, Indices], light: Floats, use: Floats) -> tuple[Floats, Floats]:
    """Mean light of each probe's neighbours that are of use, and how many those are."""
    to, of = pairs
    n = len(light)
    count = np.bincount(to, use[of], n)
    total = np.stack([np.bincount(to, light[of, k] * use[of], n) for k in range(light.shape[1])], 1)
    return (total / np.maximum(count, 1e-9)[:, None]).astype(np.float32), count.astype(np.float32)


def filled(surfaces: Surfaces, light: Floats, buried: npt.NDArray[np.bool_]) -> Floats:
    """Probes inside something solid take the light of those near them: the surface goes on in its own light."""
    to, of = _neighbours(surfaces)
    pairs = to[buried[to]], of[buried[to]]
    known = ~buried
    out = np.where(buried[:, None], 0, light).astype(np.float32)
    for _ in range(6):
        mean, count = _mean_of(pairs, out, known.astype(np.float32))
        new = ~known & (count > 0)
        if not new.any():
            break
        out[new] = mean[new]
        known = known | new
    return out


def smoothed(surfaces: Surfaces, light: Floats, times: int = 3) -> Floats:
    """Each probe takes half of its neighbours' mean: what is left of the rays' grain goes."""
    pairs = _neighbours(surfaces)
    everyone = np.ones(len(light), dtype=np.float32)
    for _ in range(times):
        mean, count = _mean_of(pairs, light, everyone)
        light = np.where(count[:, None] > 0, f32(0.5) * (light + mean), light)
    return light


def ambient(surfaces: Surfaces) -> Lit:
    """Light without rays: even, from below brighter than none, so that at least the shapes read."""
    height = surfaces.normals[:, 2]
    level = np.where(height < -0.5, 0.9, np.where(height > 0.5, 1.2, 1.0)) + 0.12 * surfaces.normals[:, 0]
    even = np.repeat(level[:, None], 3, axis=1).astype(np.float32)
    return Lit(even, np.ones((len(height), 5), dtype=np.float32), even)
