"""Where a part stands, and which parts are the same shape: up to a shift and a turn about the plumb line."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from lacunar.geometry import Plane, Point, Point3, Ring
from lacunar.parts import Part, Pocket, volume
from lacunar.tolerances import ARITHMETIC, VOLUME_RELATIVE

Key = tuple[object, ...]

_OFFSET = 0.317
"""Share of a cell. Half of 1/64 in falls midway between two multiples of ARITHMETIC: noise would split alike parts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """A frame with its z axis plumb.

    Attributes:
        origin: of the frame, in the room.
        direction: unit vector of its x axis in the room's plan.
    """

    origin: Point3
    direction: Point

    def plan(self, point: Point) -> Point:
        """A plan point of the room in the frame."""
        x, y = point[0] - self.origin[0], point[1] - self.origin[1]
        c, s = self.direction
        return (c * x + s * y, c * y - s * x)

    def point(self, point: Point3) -> Point3:
        """A point of the room in the frame."""
        return (*self.plan(point[:2]), point[2] - self.origin[2])

    def plane(self, plane: Plane) -> Plane:
        """A plane of the room in the frame."""
        c, s = self.direction
        height = plane.at(self.origin[:2]) - self.origin[2]
        return Plane(z0=height, sx=c * plane.sx + s * plane.sy, sy=c * plane.sy - s * plane.sx)

    def pocket(self, pocket: Pocket) -> Pocket:
        """A pocket of the room in the frame."""
        turn = replace(self, origin=(0.0, 0.0, 0.0))
        return replace(
            pocket,
            mouth=self.point(pocket.mouth),
            direction=turn.point(pocket.direction),
            normal=turn.plan(pocket.normal),
        )

    def part(self, part: Part) -> Part:
        """A part's shape in the frame; what does not shape it (nails, notches) stays in the room's."""
        return replace(
            part,
            outline=self._ring(part.outline),
            holes=tuple(self._ring(hole) for hole in part.holes),
            bottom=self.plane(part.bottom),
            top=self.plane(part.top),
            axis=(self.plan(part.axis[0]), self.plan(part.axis[1])),
            pockets=tuple(self.pocket(pocket) for pocket in part.pockets),
        )

    def _ring(self, ring: Ring) -> Ring:
        return tuple(self.plan(point) for point in ring)


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """One part: which pattern it has, and where."""

    pattern: int
    placement: Placement


@dataclass(frozen=True, slots=True, kw_only=True)
class Sharing:
    """Parts sorted by shape.

    Attributes:
        patterns: the first part of each shape, in its own frame.
        placed: part id to pattern and place, in the order of the parts.
    """

    patterns: tuple[Part, ...]
    placed: Mapping[str, Placed]


def share_shapes(parts: Iterable[Part]) -> Sharing:
    """Find the parts that are alike: same kind, stock and species, and every corner and pocket within 1e-6 mm."""
    patterns: list[Part] = []
    alike: dict[Key, list[tuple[int, float]]] = {}
    placed: dict[str, Placed] = {}
    for part in parts:
        key, placement = _key(part)
        same, size = alike.setdefault(key, []), volume(part)
        # Thin parts may agree in every corner and yet differ by more than a volume may: these share nothing.
        number = next((n for n, other in same if abs(size - other) <= VOLUME_RELATIVE / 2.0 * other), None)
        if number is None:
            number = len(patterns)
            same.append((number, size))
            patterns.append(placement.part(part))
        placed[part.id] = Placed(pattern=number, placement=placement)
    return Sharing(patterns=tuple(patterns), placed=placed)


def _key(part: Part) -> tuple[Key, Placement]:
    """What makes a shape, in whichever of the two frames along its axis gives the smaller numbers."""
    forth, back = (_frame(part, end) for end in (0, 1))
    shape, other = _shape(part, forth), _shape(part, back)
    placement = forth if shape <= other else back
    return (part.kind, part.stock, part.species, min(shape, other)), placement


def _frame(part: Part, end: int) -> Placement:
    start, stop = part.axis[end], part.axis[1 - end]
    length = math.dist(start, stop)
    direction = ((stop[0] - start[0]) / length, (stop[1] - start[1]) / length)
    return Placement(origin=(*start, part.bottom.at(start)), direction=direction)


def _shape(part: Part, frame: Placement) -> tuple[tuple[tuple[int, ...], ...], ...]:
    rings = [_ring_key(part, ring, frame) for ring in (part.outline, *part.holes)]
    pockets = sorted(_pocket_key(frame.pocket(pocket)) for pocket in part.pockets)
    return (rings[0], *sorted(rings[1:]), tuple(pockets))


def _ring_key(part: Part, ring: Ring, frame: Placement) -> tuple[tuple[int, ...], ...]:
    level = frame.origin[2]
    cells = [_cells((*frame.plan(p), part.bottom.at(p) - level, part.top.at(p) - level)) for p in ring]
    first = cells.index(min(cells))
    return (*cells[first:], *cells[:first])


def _pocket_key(pocket: Pocket) -> tuple[int, ...]:
    sizes = (pocket.bore, pocket.pilot, pocket.bore_length, pocket.pilot_length)
    way = [1000.0 * part for part in pocket.direction]
    return _cells((*pocket.mouth, *way, *sizes))


def _cells(numbers: Sequence[float]) -> tuple[int, ...]:
    return tuple(math.floor(number / ARITHMETIC + _OFFSET) for number in numbers)
