"""A scene as a path tracer takes it: one solid a material, and lights that shine by themselves. No tracer here."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from lacunar.pictures.photo import UNSEEN
from lacunar.scene import Appearance, Body, Lights, Scene, Sun, Vector, WindowLight, vector

Floats = npt.NDArray[np.float32]
Indices = npt.NDArray[np.int32]

TEETH: Final = 40
"""Rows of a window's light: too fine to be told apart in varnish."""

TILT: Final = np.radians(60.0)
"""Of the rows' faces from the glass. The steeper, the sharper sky and ground part at the horizon, and the more noise:
75 degrees has a sixth more of it. Measured on the inch room."""

BEYOND: Final = 0.03
"""Metres from the glass to its light: clear of the glazing bars."""

OVER: Final = 0.02
"""Metres that a window's light reaches under the sash, so that nothing dark shows beside it."""

SUNS: Final = 8
"""Points of the sun's disc."""

SUN_RADIUS: Final = 0.00465
"""Radians. Source: the sun's mean apparent diameter, 32 minutes of arc."""

SPECULAR: Final = 0.5
"""Of a clear coat, as the tracer's material counts: reflects 4 % looked at squarely, as the quick stills' does."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Solid:
    """All bodies of one material, as one mesh; fields as in `Body`."""

    material: Appearance
    points: Floats
    normals: Floats
    uv: Floats
    faces: Indices


@dataclass(frozen=True, slots=True, kw_only=True)
class Glow:
    """Faces that shine to the side that they are counter-clockwise seen from. `radiance`: linear."""

    points: Floats
    faces: Indices
    radiance: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class Globe:
    """A ball that shines. `radiance`: linear."""

    centre: Vector
    radius: float
    radiance: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class Beam:
    """Light from far off. `along`: where it goes, unit; `irradiance`: square to it, linear."""

    along: Vector
    irradiance: Vector


def solids(scene: Scene) -> tuple[Solid, ...]:
    """What stands in the room; glass is left out."""
    groups: dict[str, list[Body]] = {}
    for body in scene.bodies:
        if body.layer not in UNSEEN and not scene.materials[body.material].pane:
            groups.setdefault(body.material, []).append(body)
    return tuple(_solid(scene.materials[name], group) for name, group in groups.items())


def _solid(material: Appearance, bodies: list[Body]) -> Solid:
    counts = np.cumsum([0, *(len(b.points) for b in bodies)])
    return Solid(
        material=material,
        points=np.concatenate([b.points for b in bodies]),
        normals=np.concatenate([b.normals for b in bodies]),
        uv=np.concatenate([b.uv for b in bodies]),
        faces=np.concatenate([b.faces + counts[i] for i, b in enumerate(bodies)]).astype(np.int32),
    )


def skylight(lights: Lights) -> Iterator[Glow]:
    """The windows' light: rows of teeth, whose lower faces have the sky's and whose upper faces the ground's.

    From below one sees more of the lower faces: so a window's light hangs on the direction alone, as it should, and
    not on the place on its glass.
    """
    for window in lights.windows:
        yield _rows(window, window.sky, 0)
        yield _rows(window, window.ground, 1)


def _rows(window: WindowLight, radiance: Vector, half: int) -> Glow:
    inward, up = np.array(window.inward), np.array([0.0, 0.0, 1.0])
    along = np.cross(up, inward)
    wide, high = window.half[0] + OVER, window.half[1] + OVER
    step = 2 * high / TEETH
    deep = step / 2 * float(np.tan(TILT))
    low = -high + step * np.arange(TEETH) + half * step / 2
    back = np.array(window.centre) - (BEYOND + deep) * inward
    corners = [
        back + sign * wide * along + z[:, None] * up + ahead * inward
        for z, ahead, sign in (
            (low, half * deep, -1),
            (low, half * deep, 1),
            (low + step / 2, (1 - half) * deep, 1),
            (low + step / 2, (1 - half) * deep, -1),
        )
    ]
    faces = (4 * np.arange(TEETH))[:, None, None] + np.array([[0, 1, 2], [0, 2, 3]])
    return Glow(
        points=np.stack(corners, 1).reshape(-1, 3).astype(np.float32),
        faces=faces.reshape(-1, 3).astype(np.int32),
        radiance=radiance,
    )


def globes(lights: Lights) -> Iterator[Globe]:
    """The lamps that are lit, a hair larger than their glass: a ball of this radiance has their power."""
    for lamp in lights.lamps:
        if max(lamp.power) > 0.0:
            radius = lamp.radius + 0.001
            yield Globe(centre=lamp.centre, radius=radius, radiance=vector(np.array(lamp.power) / radius**2))


def sunbeams(sun: Sun) -> Iterator[Beam]:
    """Beams from points spread over the sun's disc, for the soft edge of its patch; none without a sun."""
    if max(sun.power) <= 0.0:
        return
    towards = np.array(sun.towards)
    first = np.cross(towards, [0.0, 0.0, 1.0] if abs(towards[2]) < 0.9 else [1.0, 0.0, 0.0])
    first /= np.linalg.norm(first)
    second = np.cross(towards, first)
    for k in range(SUNS):
        r, turn = SUN_RADIUS * np.sqrt((k + 0.5) / SUNS), k * np.pi * (3.0 - np.sqrt(5.0))
        point = towards + r * (np.cos(turn) * first + np.sin(turn) * second)
        yield Beam(along=vector(-point / np.linalg.norm(point)), irradiance=vector(np.array(sun.power) * np.pi / SUNS))
