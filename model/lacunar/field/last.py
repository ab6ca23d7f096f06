"""Stage last: the hole that the full slats leave, at both ends; from it the rip."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from lacunar.config import Config
from lacunar.field.fitted import Fitted, Remark
from lacunar.field.frame import Frame, frames
from lacunar.field.row import Parts, Row, Values
from lacunar.geometry import Line, Point
from lacunar.layout import Layout, Slat
from lacunar.parts import Part
from lacunar.tolerances import ARITHMETIC


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """What is left of a coffer when its last full slat is up.

    Attributes:
        front: far edge of the last full slat (the start side where there is none), the hole to its right.
        ids: of the slats that go into it, in order; a severed one has several.
        first_gap: before the first of them, at the two far corners.
        gap: between two of them, at the two far corners.
        corners: the coffer's two far corners.
    """

    frame: Frame
    front: Line
    ids: tuple[tuple[str, ...], ...]
    first_gap: tuple[float, float]
    gap: tuple[float, float]
    corners: tuple[Point, Point]

    @property
    def depths(self) -> tuple[float, float]:
        """Across the hole at the two far corners, plan mm."""
        first, second = (-self.front.offset(corner) for corner in self.corners)
        return first, second

    @property
    def names(self) -> tuple[str, str]:
        """Of its two measures."""
        first, second = self.frame.end_names()
        if first == second:
            first, second = f"{first} (1)", f"{second} (2)"
        return f"last hole at {first}", f"last hole at {second}"


def holes(layout: Layout) -> tuple[Hole, ...]:
    """Of every coffer whose last slat is a rip."""
    return tuple(hole for frame in frames(layout) if not frame.is_angled for hole in _hole(frame))


def _hole(frame: Frame) -> Iterator[Hole]:
    numbers = sorted({slat.number for slat in frame.slats})
    by_number = {n: [slat for slat in frame.slats if slat.number == n] for n in numbers}
    rips: list[int] = []
    while numbers and by_number[numbers[-1]][0].ripped:
        rips.insert(0, numbers.pop())
    if not rips:
        return
    coffer = frame.coffer
    corners = frame.far_corners
    wide = [frame.place(corner)[1] for corner in corners]
    gaps = (coffer.gap, coffer.gap_end) if wide[0] <= wide[1] else (coffer.gap_end, coffer.gap)
    yield Hole(
        frame=frame,
        front=_far_edge(frame, by_number[numbers[-1]][0]) if numbers else frame.base,
        ids=tuple(tuple(slat.id for slat in by_number[n]) for n in rips),
        first_gap=gaps if numbers else (coffer.edge_gaps[0], coffer.edge_gaps[0]),
        gap=gaps,
        corners=corners,
    )


def _far_edge(frame: Frame, slat: Slat) -> Line:
    """The edge away from the start side, run as the start side runs."""
    axis = Line.through(*slat.axis)
    if axis.direction[0] * frame.base.direction[0] + axis.direction[1] * frame.base.direction[1] < 0.0:
        axis = axis.reversed()
    return axis.shifted(-slat.width / 2.0)


def last_rows(layout: Layout) -> Iterator[Row]:
    """Two of each hole."""
    for hole in holes(layout):
        id, across = hole.frame.coffer.id, hole.frame.stretch[1]
        for short, corner, depth in zip(hole.names, hole.corners, hole.depths, strict=True):
            yield Row(
                stage="last",
                name=f"{id} {short}",
                short=short.removeprefix("last "),
                card=id,
                design=depth * across,
                ends=(hole.front.at(hole.front.along(corner)), corner),
                note=f"for {', '.join(id for ids in hole.ids for id in ids)}",
            )


def fit_last(config: Config, layout: Layout, parts: Parts, values: Values) -> Fitted:
    """Widths of the rips whose hole is known at both ends."""
    fitted = Fitted()
    for hole in holes(layout):
        names = [f"{hole.frame.coffer.id} {name}" for name in hole.names]
        missing = [name for name in names if name not in values]
        if missing:
            fitted = fitted.waits(hole.frame.coffer.id, missing) if len(missing) < len(names) else fitted
            continue
        more = [values[name] / hole.frame.stretch[1] - depth for name, depth in zip(names, hole.depths, strict=True)]
        fitted = fitted.and_(_rips(config, hole, parts, (more[0], more[1])))
    return fitted


def _rips(config: Config, hole: Hole, parts: Parts, more: tuple[float, float]) -> Fitted:
    fitted = Fitted()
    for ids in hole.ids:
        slat = parts[ids[0]]
        first, second = _widths(config, hole, slat, more)
        widest = max(first, second)
        row = _row(config, slat, ids[0], min(first, config.slats.width), min(second, config.slats.width))
        remarks = tuple(_remarks(config, slat, more, min(first, second), widest))
        for id in ids:
            fitted = fitted.with_row(id, row, *(remarks if id == ids[0] else ()))
    return fitted


def _widths(config: Config, hole: Hole, slat: Part, more: tuple[float, float]) -> tuple[float, float]:
    """Of a rip at its own two ends; parallel where the change may stay in the edge gap (rule 7)."""
    share = len(hole.ids)
    if slat.width_end is not None:
        ends = [_along(hole, more, p) / share for p in slat.axis]
        return slat.width + ends[0], slat.width_end + ends[1]
    wished = hole.frame.coffer.edge_gaps[1]
    spare = [
        depth - gap - (share - 1) * between - share * slat.width - wished
        for depth, gap, between in zip(hole.depths, hole.first_gap, hole.gap, strict=True)
    ]
    # Where slats fan their edges are not square to the hole: what the drawing spares at its tighter end stays spared.
    room = [drawn - min(spare) + by for drawn, by in zip(spare, more, strict=True)]
    may_stay = max(config.trim.width - config.trim.least_overlap - wished, abs(spare[0] - spare[1]))
    if abs(room[0] - room[1]) <= may_stay + ARITHMETIC or config.slats.wedge == "leave":
        width = slat.width + min(room) / share
        return width, width
    ends = [_along(hole, (room[0], room[1]), p) / share for p in slat.axis]
    return slat.width + ends[0], slat.width + ends[1]


def _along(hole: Hole, at_corners: tuple[float, float], point: Point) -> float:
    """What is known at the two far corners, at a place between them."""
    a, b = (hole.front.along(corner) for corner in hole.corners)
    share = (hole.front.along(point) - a) / (b - a)
    return at_corners[0] + share * (at_corners[1] - at_corners[0])


def _row(config: Config, slat: Part, id: str, first: float, second: float) -> dict[str, float]:
    """Both widths where the slat tapers, did in the design, or did when it was measured before."""
    before = config.field.get(id)
    tapers = slat.width_end is not None or abs(first - second) > ARITHMETIC
    if tapers or (before is not None and before.width_end is not None):
        return {"width": first, "width_end": second}
    return {"width": first}


def _remarks(config: Config, slat: Part, more: tuple[float, float], narrow: float, wide: float) -> Iterator[Remark]:
    board, least = config.slats.width, config.slats.narrowest_rip
    if wide > board + ARITHMETIC:
        yield Remark(where=slat.id, what="a board is too narrow for its hole; the edge gap grows by", by=wide - board)
    if narrow < least - ARITHMETIC and min(more) < -ARITHMETIC and not math.isclose(narrow, slat.width):
        yield Remark(where=slat.id, what="it is narrower than the narrowest rip:", by=narrow)
