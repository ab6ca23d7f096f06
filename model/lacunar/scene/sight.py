"""What eyes see round them, from the plan alone: where in each direction the ceiling ends and the floor begins.

A level camera keeps upright lines upright, so in each column of its picture wood and plaster fill the top, wall the
middle and floor the foot; shares of the picture follow in closed form from two numbers a direction.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from lacunar.geometry import Plane, Point, Ring
from lacunar.layout import Layout
from lacunar.survey import Room

Doubles = npt.NDArray[np.float64]
Whole = npt.NDArray[np.int64]

DIRECTIONS = 360
"""Of sight round an eye: one a degree."""

COLUMNS = 25
"""Of a picture that its shares are reckoned in, to less than a tenth of one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sight:
    """What each of k eyes sees in each direction, shape (k, DIRECTIONS); direction i lies i steps left of the x axis.

    Attributes:
        reach: mm, level, to the wall.
        ceiling: tangent of the elevation at which wood and plaster end, beams among them.
        floor: tangent of the elevation at which the floor begins; negative.
    """

    reach: Doubles
    ceiling: Doubles
    floor: Doubles


def _met(eyes: Doubles, starts: Doubles, ends: Doubles) -> tuple[Doubles, Doubles]:
    """How far each eye's ray in each direction meets each side, mm, and how far along it; infinite where it does not.

    Shape of both (k, DIRECTIONS, sides).
    """
    turn = radians(np.arange(DIRECTIONS))
    dx, dy = np.cos(turn)[None, :, None], np.sin(turn)[None, :, None]
    (sx, sy), (ax, ay) = (ends - starts).T, (starts[None] - eyes[:, None]).transpose(2, 0, 1)
    cross = dx * sy - dy * sx
    with np.errstate(divide="ignore", invalid="ignore"):
        far = (ax * sy - ay * sx)[:, None] / cross
        along = (ax[:, None] * dy - ay[:, None] * dx) / cross
        met = (np.abs(cross) > 1e-9) & (far > 0.0) & (along >= -1e-9) & (along <= 1.0 + 1e-9)
    return np.where(met, far, np.inf), np.clip(np.where(met, along, 0.0), 0.0, 1.0)


def sight_of(room: Room, layout: Layout, eyes: Sequence[Point], height: float) -> Sight:
    """What eyes at a height see round them."""
    places, corners = np.array(eyes, dtype=float), np.array(room.points)
    far, along = _met(places, corners, np.roll(corners, -1, axis=0))
    wall = np.argmin(far, axis=2)[..., None]
    reach = np.minimum(np.take_along_axis(far, wall, 2)[..., 0], 1e6)
    share, top = np.take_along_axis(along, wall, 2)[..., 0], np.array(room.heights) - _covered(layout)
    upper = (1 - share) * top[wall[..., 0]] + share * np.roll(top, -1)[wall[..., 0]]
    ceiling = (upper - height) / reach
    for ring, bottom in _beams(layout):
        sides = np.array(ring)
        edge, _ = _met(places, sides, np.roll(sides, -1, axis=0))
        # What hangs over the far edge is seen last, and nothing behind the wall is.
        under = bottom.at(ring[0]) - height
        seen = np.where(edge <= reach[..., None] + 1.0, under / edge, np.inf)
        ceiling = np.minimum(ceiling, seen.min(axis=2))
    return Sight(reach=reach, ceiling=ceiling, floor=-height / reach)


def _covered(layout: Layout) -> float:
    """Mm below the old ceiling down to which slats and trim hide a wall."""
    return layout.furring_thickness + layout.slat.thickness + layout.trim_strip.thickness


def _beams(layout: Layout) -> Iterable[tuple[Ring, Plane]]:
    for bar in (*layout.beams, *layout.pieces, *layout.half_beams, *layout.mouldings):
        yield bar.outline, bar.bottom


@dataclass(frozen=True, slots=True, kw_only=True)
class Looks:
    """Which of some eyes look in which directions: one entry each a look. `columns`: that pictures are reckoned in."""

    eye: Whole
    towards: Whole
    columns: int = COLUMNS

    def across(self, half_width: float) -> Doubles:
        """Tangents of the columns."""
        return half_width * ((np.arange(self.columns) + 0.5) / self.columns * 2 - 1)

    def of(self, line: Doubles, half_width: float) -> Doubles:
        """Something known in each direction, as the columns of the looks' pictures have it; shape (looks, columns)."""
        left = directions(-np.arctan(self.across(half_width)))
        return line[self.eye[:, None], (self.towards[:, None] + left) % DIRECTIONS]

    def only(self, these: npt.NDArray[np.bool_]) -> "Looks":
        """Some of them."""
        return replace(self, eye=self.eye[these], towards=self.towards[these])


def shares(sight: Sight, looks: Looks, half_width: float, aspect: float, feet: Doubles) -> tuple[Doubles, Doubles]:
    """What ceiling and floor take of level pictures, shape (looks, feet) each.

    Args:
        sight: of the eyes.
        looks: which look where.
        half_width: tangent of half the angle of view.
        aspect: width of the picture over its height.
        feet: tangents of elevation at which the picture may end below.
    """
    # A column aside looks farther for the same height in the picture.
    stretch = np.sqrt(1 + looks.across(half_width) ** 2)
    high = 2 * half_width / aspect

    def below(line: Doubles) -> Doubles:
        rise = (looks.of(line, half_width) * stretch / high).astype(np.float32)[..., None] - (feet / high).astype(
            np.float32
        )
        return np.clip(rise, 0.0, 1.0, out=rise).mean(axis=1, dtype=np.float64)

    return 1 - below(sight.ceiling), below(sight.floor)


def radians(towards: Whole) -> Doubles:
    """Directions as angles."""
    return np.multiply(towards, 2 * np.pi / DIRECTIONS, dtype=np.float64)


def directions(angles: Doubles) -> Whole:
    """Angles as the nearest directions, a turn more or less."""
    return np.round(angles * (DIRECTIONS / (2 * np.pi))).astype(np.int64)
