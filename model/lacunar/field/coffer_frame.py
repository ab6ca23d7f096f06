"""A coffer seen along its slats: how far along, how far across from the start side."""

import math
from dataclasses import dataclass

from lacunar.geometry import Line, Plane, Point
from lacunar.layout import Coffer, Layout, Slat


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Along = along the start side; across = away from it, into the coffer. Plan mm.

    Attributes:
        base: the start side, the coffer to its right.
        opposite: index of the side opposite to it: the deepest that runs back.
        slats: of the coffer, in order; the parts of a severed one follow each other.
        stretch: true length per mm of plan along the slats and across them.
        ceiling: the plane that true lengths lie in.
    """

    coffer: Coffer
    base: Line
    opposite: int
    slats: tuple[Slat, ...]
    stretch: tuple[float, float]
    ceiling: Plane

    def place(self, point: Point) -> tuple[float, float]:
        """How far along and across a point lies."""
        return self.base.along(point), -self.base.offset(point)

    def point(self, along: float, across: float) -> Point:
        """The plan point so far along and across."""
        return self.base.at(along, -across)

    @property
    def is_angled(self) -> bool:
        """Its slats are each measured along a line of its own."""
        return self.coffer.cut_to_shape

    @property
    def far_corners(self) -> tuple[Point, Point]:
        """The two ends of the opposite side, as they come clockwise."""
        side = self.coffer.sides[self.opposite]
        return side.start, side.end

    @property
    def near_corners(self) -> tuple[Point, Point]:
        """The two ends of the start side, each next to the far corner at the same place."""
        side = self.coffer.sides[self.coffer.start_side]
        return side.end, side.start

    def start_names(self) -> tuple[str, str]:
        """What stands beside the two near corners."""
        sides, at = self.coffer.sides, self.coffer.start_side
        return sides[(at + 1) % len(sides)].against, sides[at - 1].against

    def end_names(self) -> tuple[str, str]:
        """What stands beside the two far corners: a bar's id or a wall's name."""
        sides, at = self.coffer.sides, self.opposite
        return sides[at - 1].against, sides[(at + 1) % len(sides)].against

    def chord(self, line: Line, near: float | None = None) -> tuple[int, int] | None:
        """The two sides that a line runs between in the coffer: the longest stretch, or the one nearest a place."""
        crossings: list[tuple[float, int]] = []
        for i, side in enumerate(self.coffer.sides):
            if (line.offset(side.start) >= 0.0) != (line.offset(side.end) >= 0.0):
                crossings.append((line.along(line.crossing(side.line)), i))
        crossings.sort()
        pairs = list(zip(crossings[::2], crossings[1::2], strict=False))

        def fits(pair: tuple[tuple[float, int], tuple[float, int]]) -> float:
            (low, _), (high, _) = pair
            return high - low if near is None else -abs((low + high) / 2.0 - near)

        if not pairs:
            return None
        (_, first), (_, second) = max(pairs, key=fits)
        return first, second

    def line(self, across: float) -> Line:
        """Along the start side, so far across."""
        return Line(self.base.at(0.0, -across), self.base.direction)

    def true_length(self, start: Point, end: Point) -> float:
        """Between two plan points, along the ceiling."""
        return math.dist(start, end) * self.ceiling.stretch(Line.through(start, end).direction)

    def reach(self, side: int, across: float) -> float:
        """How far along a side's line runs at a distance across."""
        line = self.coffer.sides[side].line
        return self.base.along(line.crossing(self.line(across)))


def told_apart(names: tuple[str, str]) -> tuple[str, str]:
    """Two names, numbered where they are the same."""
    first, second = names
    return names if first != second else (f"{first} (1)", f"{second} (2)")


def frames(layout: Layout) -> tuple[Frame, ...]:
    """Every coffer that has slats."""
    made = (_frame(layout, coffer) for coffer in layout.coffers)
    return tuple(frame for frame in made if frame.slats)


def _frame(layout: Layout, coffer: Coffer) -> Frame:
    base = coffer.sides[coffer.start_side].line
    ceiling = coffer.ceiling
    return Frame(
        coffer=coffer,
        base=base,
        opposite=_opposite(coffer, base),
        slats=tuple(slat for slat in layout.slats if slat.coffer == coffer.id),
        stretch=(ceiling.stretch(base.direction), ceiling.stretch(base.left)),
        ceiling=ceiling,
    )


def _opposite(coffer: Coffer, base: Line) -> int:
    """The furthest side that runs back along the start side."""

    def depth(i: int) -> tuple[bool, float]:
        side = coffer.sides[i]
        dx, dy = side.line.direction
        back = dx * base.direction[0] + dy * base.direction[1] < -0.7
        return back, -(base.offset(side.start) + base.offset(side.end))

    return max((i for i in range(len(coffer.sides)) if i != coffer.start_side), key=depth)
