"""A sofa, a table and a person of plain blocks, for scale: wherever they fit, out of the cameras' way."""

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from lacunar.geometry import Line, Point
from lacunar.scene.look import Opening
from lacunar.scene.shape import Doubles, Shape, box, joined
from lacunar.survey import Room

Block = tuple[float, float, float, float, float, float]
"""x, y and z of its least corner, and its lengths, mm; the thing's own front looks along -y, its middle is at 0, 0."""

SOFA: tuple[Block, ...] = (
    (-900.0, -425.0, 120.0, 1800.0, 850.0, 300.0),
    (-900.0, 225.0, 420.0, 1800.0, 200.0, 400.0),
    (-900.0, -425.0, 420.0, 170.0, 650.0, 190.0),
    (730.0, -425.0, 420.0, 170.0, 650.0, 190.0),
    (-850.0, -380.0, 0.0, 1700.0, 760.0, 120.0),
)
TABLE: tuple[Block, ...] = (
    (-650.0, -400.0, 705.0, 1300.0, 800.0, 35.0),
    *((x, y, 0.0, 60.0, 60.0, 705.0) for x in (-620.0, 560.0) for y in (-370.0, 310.0)),
)
PERSON: tuple[Block, ...] = (
    (-170.0, -90.0, 0.0, 150.0, 190.0, 820.0),
    (20.0, -90.0, 0.0, 150.0, 190.0, 820.0),
    (-210.0, -115.0, 820.0, 420.0, 240.0, 620.0),
    (-295.0, -60.0, 780.0, 85.0, 120.0, 630.0),
    (210.0, -60.0, 780.0, 85.0, 120.0, 630.0),
    (-50.0, -50.0, 1440.0, 100.0, 100.0, 50.0),
    (-85.0, -105.0, 1490.0, 170.0, 210.0, 230.0),
)
"""1.72 m tall. Source of all three: usual sizes, no source."""

FROM_EYES = {"sofa": 900.0, "person": 1700.0, "table": 1300.0}
"""mm from every camera: nearer, it hides the room."""

AISLE = 350.0
"""mm that are left between two things, and before a door."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """One piece. `turn`: of its front from -y, counter-clockwise, radians."""

    name: str
    at: Point
    turn: float

    @property
    def shape(self) -> Shape:
        """Its blocks where it stands."""
        foot, axes = np.array([*self.at, 0.0]), self._axes
        return joined([box(foot + np.array(b[:3]) @ axes, axes, (b[3], b[4], b[5]), 300.0) for b in BLOCKS[self.name]])

    @property
    def _axes(self) -> Doubles:
        c, s = math.cos(self.turn), math.sin(self.turn)
        return np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]])

    @property
    def ground(self) -> shapely.Polygon:
        """What it stands over."""
        low, size = np.array(BLOCKS[self.name])[:, :2], np.array(BLOCKS[self.name])[:, 3:5]
        (x0, y0), (x1, y1) = low.min(axis=0), (low + size).max(axis=0)
        return shapely.Polygon(
            np.array(self.at) + np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)]) @ self._axes[:2, :2]
        )


BLOCKS = {"sofa": SOFA, "person": PERSON, "table": TABLE}
"""In the order in which they find their places."""


def furniture(room: Room, openings: Sequence[Opening], eyes: Sequence[Point]) -> tuple[Thing, ...]:
    """What fits of the three, each where it fits first. `openings`: doors stay free; `eyes`: of the cameras."""
    free = shapely.Polygon(room.points).buffer(-20.0, join_style="mitre")
    for door in (o for o in openings if o.kind == "door"):
        line = Line.through(*room.wall(door.wall))
        ends = [line.at(x) for x in (door.start, door.start + door.width)]
        free = free.difference(shapely.LineString(ends).buffer(door.width))
    placed: list[Thing] = []
    for name in BLOCKS:
        clear = shapely.MultiPoint([*eyes]).buffer(FROM_EYES[name])
        taken = shapely.union_all([thing.ground.buffer(AISLE) for thing in placed])
        here = free.difference(clear).difference(taken)
        fitting = (thing for thing in _tried(name, room, placed) if here.covers(thing.ground))
        placed += itertools.islice(fitting, 1)
    return tuple(placed)


def left_out(placed: Sequence[Thing]) -> tuple[str, ...]:
    """A sentence on what did not fit, if anything."""
    lacking = [f"a {name}" for name in BLOCKS if name not in {thing.name for thing in placed}]
    return (f"Pictures: no room for {' and '.join(lacking)} out of the cameras' way.",) if lacking else ()


def _tried(name: str, room: Room, placed: Sequence[Thing]) -> Iterator[Thing]:
    """Places in the order in which they are looked at: a sofa along long walls, the rest about the middle."""
    if name == "sofa":
        for wall in sorted(room.walls, key=lambda w: -math.dist(*room.wall(w))):
            line, length = Line.through(*room.wall(wall)), math.dist(*room.wall(wall))
            for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8):
                # Its back to the wall; the room lies to the right of it.
                yield Thing(name=name, at=line.at(share * length, -470.0), turn=math.atan2(*line.direction[::-1]))
        return
    turn = placed[0].turn if placed else 0.0
    x0, y0, x1, y1 = shapely.Polygon(room.points).bounds
    steps = [0.5 + sign * k / 20 for k in range(10) for sign in (1, -1)]
    for u, v in sorted(itertools.product(steps, steps), key=lambda p: math.hypot(p[0] - 0.5, p[1] - 0.5)):
        yield Thing(name=name, at=(x0 + u * (x1 - x0), y0 + v * (y1 - y0)), turn=turn)
