"""What the ceiling's heights mean: out of level, twist, sag, what furring makes up, what a beam meets on its way."""

import math
from dataclasses import dataclass, field

from lacunar.geometry import Line, Point
from lacunar.survey.folds import fold_crossings
from lacunar.survey.room import Room, ceiling_height, ceiling_rim


@dataclass(frozen=True, slots=True, kw_only=True)
class HeightPoint:
    """One place where the height is known.

    Attributes:
        name: corner, mark, or "centre".
        residual: how much higher it is than the best-fit face, mm; negative where it hangs lower.
        shim: gap between the old ceiling and a flat face that touches it where it hangs lowest, mm.
    """

    name: str = field(metadata={"alias": "at"})
    residual: float
    shim: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CeilingRun:
    """The ceiling along a straight line.

    Attributes:
        name: of a wall; "" elsewhere.
        length: in plan, mm.
        rise: how much higher its end is than its start, mm.
        gap: the most that the ceiling lies above a straight edge between its two ends, mm, 0 or more: what stays open
            above a beam that is not scribed.
        belly: the most that it hangs below the straight edge, mm, 0 or more: what a beam is scribed by, or a slat
            bends by.
        middle: how much higher than the straight edge it is half way, mm; negative where it hangs lower.
    """

    name: str
    length: float
    rise: float
    gap: float
    belly: float
    middle: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Heights:
    """A ceiling in a carpenter's numbers.

    Attributes:
        slope: of the face that fits best, mm per metre, where it is steepest.
        falls: corner or wall that it falls towards.
        highest: name of the highest of these points.
        lowest: name of the lowest.
        fall: from the highest to the lowest, mm.
        sag: how much lower the centre is than the mean of the corners, mm; negative where it is higher.
        twist: of four corners, by how much the middle of AC lies above that of BD, mm; None for other rooms.
        rms: root mean square of the residuals, mm.
        shim: the largest gap behind a flat face that touches the ceiling where it hangs lowest, mm.
        points: corners, and marks with a height, in order along the walls, then the centre.
        walls: the ceiling along each wall.
    """

    slope: float = field(metadata={"alias": "slope_mm_per_m"})
    falls: str
    highest: str
    lowest: str
    fall: float
    sag: float
    twist: float | None
    rms: float
    shim: float
    points: tuple[HeightPoint, ...]
    walls: tuple[CeilingRun, ...] = field(default=(), metadata={"exclude": True})


def describe_heights(room: Room) -> Heights:
    """The ceiling as measured, against the flat face that fits it best.

    Between its rim and its centre the ceiling is taken as flat triangles, so that every extreme is at one of these
    points.
    """
    rim = ceiling_rim(room)
    known = [*rim.values(), room.centre]
    names = (*rim, "centre")
    off = [z - room.ceiling.at((x, y)) for x, y, z in known]
    order = sorted(range(len(known)), key=lambda i: known[i][2])
    slope = math.hypot(room.ceiling.sx, room.ceiling.sy)
    return Heights(
        points=tuple(HeightPoint(name=name, residual=o, shim=o - min(off)) for name, o in zip(names, off, strict=True)),
        slope=1000.0 * slope,
        falls=_lowest_wall(room) if slope else "",
        highest=names[order[-1]],
        lowest=names[order[0]],
        fall=known[order[-1]][2] - known[order[0]][2],
        sag=math.fsum(room.heights) / len(room.heights) - room.centre[2],
        twist=_twist(room),
        rms=math.sqrt(math.fsum(o * o for o in off) / len(off)),
        shim=max(off) - min(off),
        walls=tuple(ceiling_run(room, *room.wall(wall), name=wall) for wall in room.walls),
    )


def ceiling_run(room: Room, start: Point, end: Point, name: str = "") -> CeilingRun:
    """The ceiling along a line of the plan: along a wall, a beam or a slat."""
    line, length = Line.through(start, end), math.dist(start, end)
    first, last = ceiling_height(room, start), ceiling_height(room, end)
    kinks = [along for along in fold_crossings(room, line) if 0.0 < along < length]
    off = [ceiling_height(room, line.at(along)) - first - (last - first) * along / length for along in kinks]
    half = ceiling_height(room, line.at(length / 2.0))
    return CeilingRun(
        name=name,
        length=length,
        rise=last - first,
        gap=max((0.0, *off)),
        belly=max((0.0, *(-one for one in off))),
        middle=half - (first + last) / 2.0,
    )


def _twist(room: Room) -> float | None:
    """Diagonals of four corners pass above each other by so much: Source: definition, as winding sticks show it."""
    if len(room.heights) != 4:
        return None
    a, b, c, d = room.heights
    return (a + c - b - d) / 2.0


def _lowest_wall(room: Room) -> str:
    """The wall whose middle lies lowest on the face."""
    return min(room.walls, key=lambda wall: sum(room.ceiling.at(end) for end in room.wall(wall)))
