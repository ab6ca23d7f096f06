"""Level pictures of a room, searched: from which of some places, which way, how wide and how far down.

What a picture owes its viewers is its shares: ceiling to choose by, a strip of floor to stand on, a far corner that
tells how large the room is, and a window, where the light comes from. The narrowest picture that gives them is the
nearest to what an eye sees: wide ones stretch lamps into eggs and rooms into halls.
"""

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from lacunar.geometry import Point
from lacunar.layout import Layout
from lacunar.scene.look import Opening
from lacunar.scene.shell import wall_frame
from lacunar.scene.sight import COLUMNS, DIRECTIONS, Doubles, Looks, Sight, directions, radians, shares, sight_of
from lacunar.scene.types import Viewpoint, vector
from lacunar.survey import Room

Mask = npt.NDArray[np.bool_]

ASPECT = 1.6
"""Width over height of every picture."""

CEILING = (0.25, 0.45)
"""Least and largest share of a picture that is ceiling, beams among it. Source: tuned by eye on eight rooms."""

LIMITS: tuple[tuple[tuple[float, ...], float], ...] = (
    ((62.0, 66.0, 70.0, 74.0, 78.0), 0.10),
    ((80.0, 82.5, 85.0), 0.10),
    ((78.0, 82.0, 85.0), 0.05),
)
"""Degrees across, and the least share of floor; a row counts only where those before it cannot be had.

Source: tuned by eye on eight rooms.
"""

SMALL: tuple[tuple[tuple[float, ...], float], ...] = (((85.0,), 0.0), ((90.0,), 0.0))
"""The same for a room that is shorter than about twice its height: floor and ceiling do not both fit into one level
picture, so it shows as much floor as it can."""

TURNS = np.arange(0, DIRECTIONS, 2)
"""Directions tried."""

LOWEST = -0.66
"""Where a picture ends below the level of the eye at most, in its heights."""

WIDE = 0.08
"""Least share of a picture's width that makes a window one: seen at a slant it is a bright slit."""

ALIKE = (math.radians(35), 1500.0)
"""Radians and mm between two pictures that show the same. Source: tuned by eye."""

NEAR = 1200.0
"""mm. A wall nearer than this is out of focus in a photograph, and hides the room."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Places:
    """Where an eye may be.

    Attributes:
        eyes: plan points.
        worse: what each costs, in tangents of half the angle of view.
        height: of the eye, mm.
        other: a picture that there is already, from which this one must differ.
        columns: that pictures from here are reckoned in.
    """

    eyes: tuple[Point, ...]
    worse: tuple[float, ...]
    height: float
    other: "Frame | None" = None
    columns: int = COLUMNS


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """A level picture.

    Attributes:
        missed: what it lacks of the wishes, 0 where it holds all.
        cost: of two that hold all, the better one costs less.
        eye: plan point.
        towards: radians.
        half_width: tangent of half the angle of view.
        foot: tangent of the elevation at which it ends below.
    """

    missed: float
    cost: float
    eye: Point
    towards: float
    half_width: float
    foot: float

    def viewpoint(self, name: str, height: float) -> Viewpoint:
        """As a camera whose frame is shifted: upright lines stay upright."""
        x, y = self.eye
        ahead = (x + 1000.0 * math.cos(self.towards), y + 1000.0 * math.sin(self.towards), height)
        return Viewpoint(
            name=name,
            eye=vector((x, y, height), 1000.0),
            towards=vector(ahead, 1000.0),
            half_width=self.half_width,
            shift=(0.0, self.foot / (self.half_width / ASPECT) + 1.0),
        )


def best_frame(
    room: Room,
    layout: Layout,
    windows: Sequence[Opening],
    places: Places,
    anywhere: Callable[[Point | None], Places] | None = None,
) -> Frame:
    """The best level picture from some places; where none holds all wishes, the one that misses least.

    A second picture is taken from anywhere, or close about a place, before it goes without a window, and goes without
    one before it shows no floor, or the same as the first.
    """
    tried = [_first_good(room, layout, windows, places, LIMITS)]
    if tried[0].missed and anywhere and windows:
        bare = _first_good(room, layout, (), places, LIMITS)
        if not bare.missed:
            other = _first_good(room, layout, windows, anywhere(None), LIMITS[1:])
            if other.missed:
                other = _first_good(room, layout, windows, anywhere(other.eye), LIMITS[1:])
            return bare if other.missed else other
        tried.append(bare)
    if tried[0].missed:
        tried.append(_first_good(room, layout, windows, places, SMALL))
    return min(tried, key=lambda frame: (frame.missed, frame.cost))


def _first_good(
    room: Room,
    layout: Layout,
    windows: Sequence[Opening],
    places: Places,
    limits: Iterable[tuple[Sequence[float], float]],
) -> Frame:
    """The best picture within the first limits that it can be had in, else the one that misses least."""
    sight = sight_of(room, layout, places.eyes, places.height)
    eye, towards = np.meshgrid(np.arange(len(places.eyes)), TURNS, indexing="ij")
    every = Looks(eye=eye.ravel(), towards=towards.ravel(), columns=places.columns)
    found: list[Frame] = []
    for degrees, floor in limits:
        for width in (math.tan(math.radians(d / 2)) for d in degrees):
            looks = every.only(_corner_in(room, places, sight, every, width))
            found.append(_tried(room, windows, places, sight, looks if looks.eye.size else every, width, floor))
        if not min(frame.missed for frame in found):
            break
    return min(found, key=lambda frame: (frame.missed, frame.cost))


def _tried(
    room: Room, windows: Sequence[Opening], places: Places, sight: Sight, looks: Looks, half_width: float, floor: float
) -> Frame:
    """The best picture of one width."""
    feet = np.linspace(LOWEST, 0.0, 67 * looks.columns // COLUMNS) * 2 * half_width / ASPECT
    above, below = shares(sight, looks, half_width, ASPECT, feet)
    sure = 0.1 / looks.columns
    missed = np.maximum(floor + 0.75 * sure * (floor > 0.0) - below, 0.0)
    missed += 2.0 * np.maximum(np.maximum(CEILING[0] + sure - above, above - CEILING[1] + sure), 0.0)
    if windows:
        missed += 0.1 * ~_window_in(room, windows, places, sight, looks, half_width, feet)
    cost = np.array(places.worse)[looks.eye] + 2.0 * (looks.of(sight.reach, half_width) < NEAR).mean(axis=1)
    cost += 0.12 * _slit(room, places, looks, half_width)
    if places.other is not None:
        turned, moved = _apart(places, looks, places.other)
        missed += 0.1 * ((turned < ALIKE[0]) & (moved < ALIKE[1]))[:, None]
        cost += 0.25 * np.maximum(1.0 - turned / (np.pi / 2), 0.0) + 0.15 * (moved < ALIKE[1])
    # Of two pictures that hold all, the narrower, unless the wider one shows a good deal more of what people look for.
    liked = 2.2 * np.maximum(0.36 - above, 0.0) + (30.0 if floor == 0.0 else 1.0) * np.maximum(0.13 - below, 0.0)
    cost = half_width + liked + cost[:, None]
    k, f = (int(i) for i in np.unravel_index(int(np.argmin(cost + 1000.0 * missed)), cost.shape))
    return Frame(
        missed=float(missed[k, f]),
        cost=float(cost[k, f]),
        eye=places.eyes[int(looks.eye[k])],
        towards=float(radians(looks.towards)[k]),
        half_width=half_width,
        foot=float(feet[f]),
    )


def _apart(places: Places, looks: Looks, other: Frame) -> tuple[Doubles, Doubles]:
    """How far each look is turned from another picture, radians, and moved, mm."""
    turned = np.abs((radians(looks.towards) - other.towards + np.pi) % (2 * np.pi) - np.pi)
    return turned, np.hypot(*(np.array(places.eyes) - np.array(other.eye)).T)[looks.eye]


def _ahead(places: Places, looks: Looks, point: Doubles) -> tuple[Doubles, Doubles]:
    """Tangent to the right, huge behind, and mm ahead of a plan point in each look."""
    turn = radians(looks.towards)
    x, y = (point[:2] - np.array(places.eyes)[looks.eye]).T
    ahead = x * np.cos(turn) + y * np.sin(turn)
    right = x * np.sin(turn) - y * np.cos(turn)
    return np.where(ahead > 1.0, right / np.maximum(ahead, 1.0), 1e6), ahead


def _free(places: Places, sight: Sight, point: Doubles) -> Doubles:
    """Distance of a plan point from each eye, 0 where a wall stands before it."""
    x, y = (point[:2] - np.array(places.eyes)).T
    far, at = np.hypot(x, y), directions(np.arctan2(y, x))
    eyes = np.arange(len(far))
    reach = np.max([sight.reach[eyes, (at + aside) % DIRECTIONS] for aside in (-1, 0, 1)], axis=0)
    return np.where(far <= 1.02 * reach + 20.0, far, 0.0)


def _corner_in(room: Room, places: Places, sight: Sight, looks: Looks, half_width: float) -> Mask:
    """Whether the farthest corner that an eye sees stands in its picture."""
    corners = np.array(room.points)
    farthest = np.argmax([_free(places, sight, corner) for corner in corners], axis=0)[looks.eye]
    each = np.stack([np.abs(_ahead(places, looks, corner)[0]) < 0.92 * half_width for corner in corners])
    return each[farthest, np.arange(len(farthest))]


def _slit(room: Room, places: Places, looks: Looks, half_width: float) -> Mask:
    """Whether a corner stands so near the picture's edge that the wall beyond it is a slit."""
    aside = [np.abs(_ahead(places, looks, corner)[0]) / half_width for corner in np.array(room.points)]
    return np.any([(a > 0.88) & (a < 1.0) for a in aside], axis=0)


def _window_in(
    room: Room,
    windows: Sequence[Opening],
    places: Places,
    sight: Sight,
    looks: Looks,
    half_width: float,
    feet: Doubles,
) -> Mask:
    """Whether a window stands in the picture from jamb to jamb, not at arm's length; shape (looks, feet)."""
    found = np.zeros((len(looks.eye), len(feet)), dtype=bool)
    for o in windows:
        corner, axes, _ = wall_frame(room, o.wall)
        jambs = [corner + x * axes[0] for x in (o.start, o.start + o.width)]
        free = np.all([_free(places, sight, jamb) > NEAR for jamb in jambs], axis=0)[looks.eye]
        left, right = (_ahead(places, looks, jamb)[0] for jamb in jambs)
        inside = (left > -0.97 * half_width) & (right < 0.97 * half_width) & (right - left > WIDE * 2 * half_width)
        _, ahead = _ahead(places, looks, (jambs[0] + jambs[1]) / 2)
        middle = (((o.sill + o.head) / 2 - places.height) / np.maximum(ahead, 1.0))[:, None]
        found |= (free & inside)[:, None] & (middle > feet) & (middle < feet + 2 * half_width / ASPECT)
    return found
