"""The lights of a room: its windows, its lamps, and a sun that shines into one window."""

import math
from collections.abc import Iterable

import numpy as np

from lacunar.scene.types import Lamp, Lights, Sun, WindowLight, vector

SUN = (17.0, 14.0, 9.8)
"""Sunlight square to it, against a sky of 10. Source: tuned by eye; a clear sun is far stronger and blinds."""

ELEVATION = math.radians(33)
"""A morning's or an afternoon's sun: high enough to reach the floor, low enough to reach into the room."""

ASIDE = math.radians(38)
"""Between the window's normal and the sun, in the plan."""


def lights_of(windows: tuple[WindowLight, ...], lamps: Iterable[Lamp], middle: tuple[float, float]) -> Lights:
    """All lights. `middle`: of the room, metres: the sun comes in slanting towards it."""
    return Lights(windows=windows, lamps=tuple(lamps), sun=_sun(windows, middle))


def _sun(windows: tuple[WindowLight, ...], middle: tuple[float, float]) -> Sun:
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
