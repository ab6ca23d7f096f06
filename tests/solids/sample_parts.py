"""Hand-made parts of every shape that a ceiling has, for the tests of meshes, solids and exports."""

import math
from collections.abc import Sequence
from dataclasses import replace

from lacunar.geometry import Line, Plane, Point, Ring
from lacunar.parts import Part, PartKind, Pocket

INCH = 25.4
LEVEL = Plane(z0=2600.0)
SLOPE = Plane(z0=2550.0, sx=0.011, sy=-0.007)
"""A ceiling that falls 11 mm per metre one way and rises 7 mm the other."""


def part(
    name: str,
    outline: Ring,
    bottom: Plane,
    top: Plane,
    *,
    kind: PartKind = "slat",
    holes: tuple[Ring, ...] = (),
    axis: tuple[Point, Point] | None = None,
    stock: str = "1x4",
    pockets: tuple[Pocket, ...] = (),
) -> Part:
    """A part with what its shape needs and plain values for the rest.

    Its axis runs from point 0 to point 1 unless given, and its coffer is in its name.
    """
    ends = axis or (outline[0], outline[1])
    return Part(
        id=name,
        kind=kind,
        face="F1",
        coffer=name.split("-")[0] if name.startswith("C") else None,
        stock=stock,
        species="eastern white pine",
        outline=outline,
        holes=holes,
        bottom=bottom,
        top=top,
        axis=ends,
        length=math.dist(*ends),
        width=88.9,
        thickness=19.05,
        pockets=pockets,
        meets=("E1", "E2"),
        bought=True,
    )


def turned(points: Sequence[Point], origin: Point, angle: float) -> Ring:
    """A ring drawn at the origin, turned and then moved."""
    c, s = math.cos(angle), math.sin(angle)
    return tuple((origin[0] + c * x - s * y, origin[1] + s * x + c * y) for x, y in points)


def slat(
    name: str,
    *,
    length: float = 1000.0,
    width: float = 88.9,
    origin: Point = (0.0, 0.0),
    angle: float = 0.0,
    bottom: Plane = LEVEL,
) -> Part:
    """A rectangular slat whose first end's middle is at `origin`."""
    half = width / 2.0
    outline = turned([(0.0, -half), (length, -half), (length, half), (0.0, half)], origin, angle)
    axis = turned([(0.0, 0.0), (length, 0.0)], origin, angle)
    return part(name, outline, bottom, bottom.lifted(19.05), axis=(axis[0], axis[1]))


def tapered_slat(name: str) -> Part:
    """A rip that is 50 mm wide at one end and 61 at the other, in a sloping face."""
    outline = turned([(0.0, 0.0), (1200.0, 0.0), (1200.0, 61.0), (0.0, 50.0)], (3100.0, 1700.0), 0.31)
    return part(name, outline, SLOPE, SLOPE.lifted(19.05 * SLOPE.plumb))


def notched_slat(name: str, bottom: Plane = SLOPE) -> Part:
    """A slat with a quarter-round bite of many corners and a square one: not convex."""
    bite = [(600.0 + 40.0 * math.cos(t), 88.9 - 40.0 * math.sin(t)) for t in (math.pi * k / 32 for k in range(33))]
    square = [(200.0, 88.9), (200.0, 60.0), (150.0, 60.0), (150.0, 88.9)]
    points = [(0.0, 0.0), (1000.0, 0.0), (1000.0, 88.9), *bite, *square, (0.0, 88.9)]
    return part(name, turned(points, (900.0, 2400.0), -0.2), bottom, bottom.lifted(19.05))


def holed_slat(name: str, bottom: Plane = SLOPE) -> Part:
    """A slat with a 64-gon and a rectangle cut out of its middle."""
    disc = [(300.0 + 30.0 * math.cos(t), 45.0 + 30.0 * math.sin(t)) for t in (math.pi * k / 32 for k in range(64))]
    square = [(700.0, 20.0), (760.0, 20.0), (760.0, 70.0), (700.0, 70.0)]
    points = [(0.0, 0.0), (1000.0, 0.0), (1000.0, 88.9), (0.0, 88.9)]
    place = ((1500.0, 300.0), 0.9)
    holes = (turned(disc, *place), turned(square, *place))
    return part(name, turned(points, *place), bottom, bottom.lifted(19.05), holes=holes)


def trim(name: str, origin: Point = (0.0, 0.0), angle: float = 0.0) -> Part:
    """A strip 3/4 in square with a 45 degree mitre at one end and 43 at the other."""
    w = 19.05
    points = [(0.0, 0.0), (900.0, 0.0), (900.0 - w / math.tan(math.radians(47.0)), w), (w, w)]
    bottom = Plane(z0=2560.0)
    return part(name, turned(points, origin, angle), bottom, bottom.lifted(w), kind="trim", stock="1x2")


def pocket_at(side: Line, end: Line, level: float, *, left: bool, number: int) -> Pocket:
    """A pocket whose axis leaves the end grain 3/4 in from a side face at 15 degrees.

    Args:
        side: the side face, run towards the end, the wood on the side away from its outward normal.
        end: the end face.
        level: height of its axis.
        left: the wood lies to the right of `side` (the face is the piece's left one).
        number: 0 or 1, which end.
    """
    angle, offset, pilot_length = math.radians(15.0), 0.75 * INCH, 30.0
    inward = -1.0 if left else 1.0
    way_out = side.shifted(inward * offset).crossing(end)
    direction = Line(way_out, side.direction).turned(inward * angle).direction
    length = offset / math.sin(angle)
    mouth = (way_out[0] - length * direction[0], way_out[1] - length * direction[1], level)
    outward = side.left if left else (-side.left[0], -side.left[1])
    return Pocket(
        end=number,
        side="left" if left else "right",
        level="high",
        mouth=mouth,
        direction=(*direction, 0.0),
        bore=0.375 * INCH,
        pilot=0.15 * INCH,
        bore_length=length - pilot_length,
        pilot_length=pilot_length,
        screw=2.5 * INCH,
        normal=outward,
    )


def timber(
    name: str, *, origin: Point = (2000.0, 1500.0), angle: float = 0.4, length: float = 700.0, width: float = 88.9
) -> Part:
    """A cross-beam piece: ends at 4 and -3 degrees, sloping bottom, scribed top; two high pockets and a low an end."""
    half, skew = width / 2.0, (math.tan(math.radians(4.0)), math.tan(math.radians(-3.0)))
    points = [(-half * skew[0], -half), (length - half * skew[1], -half)]
    points += [(length + half * skew[1], half), (half * skew[0], half)]
    outline = turned(points, origin, angle)
    bottom = Plane.along(origin, turned([(length, 0.0)], origin, angle)[0], 2390.0, 2394.5)
    top = Plane(z0=2572.0, sx=0.002, sy=-0.003)
    right, left = Line.through(outline[0], outline[1]), Line.through(outline[3], outline[2])
    ends = (Line.through(outline[3], outline[0]), Line.through(outline[1], outline[2]))
    pockets: list[Pocket] = []
    for number, end in enumerate(ends):
        sides = (left, right) if number else (right.reversed(), left.reversed())
        drop = min(top.at(corner) for corner in outline) - 1.125 * INCH
        rise = max(bottom.at(corner) for corner in outline) + 1.125 * INCH
        pockets += [
            pocket_at(sides[0], end, drop, left=True, number=number),
            pocket_at(sides[1], end, drop, left=False, number=number),
            replace(pocket_at(sides[0], end, rise, left=True, number=number), level="low"),
        ]
    axis = turned([(0.0, 0.0), (length, 0.0)], origin, angle)
    return part(
        name,
        outline,
        bottom,
        top,
        kind="cross beam",
        axis=(axis[0], axis[1]),
        stock="4x8",
        pockets=tuple(pockets),
    )


def every_shape() -> tuple[Part, ...]:
    """One part of each shape."""
    return (
        slat("C1-S01", origin=(400.0, 300.0), angle=0.2),
        slat("C1-S02", origin=(400.0, 500.0), angle=0.2, bottom=SLOPE),
        tapered_slat("C1-S03"),
        notched_slat("C1-S04"),
        holed_slat("C1-S05"),
        notched_slat("C2-S01", bottom=LEVEL),
        holed_slat("C2-S02", bottom=LEVEL),
        trim("C1-T1", origin=(120.0, 80.0), angle=1.1),
        timber("X1-1"),
    )
