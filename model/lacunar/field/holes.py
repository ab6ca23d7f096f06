"""Stage last: the holes that the full slats leave, each at both ends; from them the rips."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain
from statistics import fmean
from typing import Literal

from lacunar.chance import Errors, errors_of
from lacunar.config import Config, FieldRow, Slats
from lacunar.field.coffer_frame import Frame, frames, told_apart
from lacunar.field.coffers import width_names
from lacunar.field.fitted import Fitted, Remark
from lacunar.field.sheet_row import Parts, Row, Values
from lacunar.geometry import Line, Point, dot
from lacunar.layout import Layout, Slat
from lacunar.parts import Part
from lacunar.tolerances import ARITHMETIC

SAFE = 4.0
"""Standard deviations of what may be off that an edge gap keeps from the least and from what shows: a ceiling of 21
rips has 42 ends. Source: common practice, no source."""

PARALLEL = 3.0
"""Standard deviations that the edge gap of an untapered rip has to spare. Source: common practice, no source."""

CONTRADICTS = 3.0
"""Standard deviations apart: two readings of one change are not both believed. Source: common practice, no source."""

Gaps = tuple[float, float]
"""mm. At the two corners."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """What is left of a coffer when its full slats are up: beside its last one, and beside its first.

    Attributes:
        which: "first" along the start side, "last" along the opposite one.
        front: edge of the nearest full slat (the start side where there is none), the hole to its right.
        ids: of the slats that go into it, from the front on; a severed one has several.
        first_gap: before the first of them, at the two corners.
        gap: between two of them, at the two corners.
    """

    frame: Frame
    which: Literal["first", "last"]
    front: Line
    ids: tuple[tuple[str, ...], ...]
    first_gap: Gaps
    gap: Gaps

    @property
    def edge_gap(self) -> float:
        """Wished for beyond the last of them."""
        return self.frame.coffer.edge_gaps[1 if self.which == "last" else 0]

    @property
    def corners(self) -> tuple[Point, Point]:
        """The two ends of the side beyond, the one first that comes first clockwise along the opposite side."""
        return self.frame.far_corners if self.which == "last" else self.frame.near_corners

    @property
    def names(self) -> tuple[str, str]:
        """Of its two measures."""
        beside = self.frame.end_names() if self.which == "last" else self.frame.start_names()
        first, second = told_apart(beside)
        return f"{self.which} hole at {first}", f"{self.which} hole at {second}"

    @property
    def width_names(self) -> tuple[str, str]:
        """Of the coffer's two widths, in the order of the corners of a last hole."""
        first, second = (f"{self.frame.coffer.id} {name}" for name in width_names(self.frame))
        return first, second

    @property
    def depths(self) -> tuple[float, float]:
        """Across the hole at its two corners, plan mm."""
        first, second = (-self.front.offset(corner) for corner in self.corners)
        return first, second


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """What a hole has more than drawn at its two corners, plan mm.

    Attributes:
        sd: standard deviation of what an edge gap comes out of it, by reading, fence and cut.
    """

    more: Gaps
    sd: float


def holes(layout: Layout) -> tuple[Hole, ...]:
    """Of every coffer that has rips: one along each side that a rip lies along, the first before the last.

    Where every slat is a rip there is no full one to measure from: the whole coffer is the last hole.
    """
    return tuple(hole for frame in frames(layout) if not frame.is_angled for hole in _holes(frame))


def _holes(frame: Frame) -> Iterator[Hole]:
    by_number: dict[int, list[Slat]] = {}
    for slat in frame.slats:
        by_number.setdefault(slat.number, []).append(slat)
    rows = [by_number[number] for number in sorted(by_number)]
    full = [i for i, row in enumerate(rows) if not _is_rip(row)]
    coffer = frame.coffer
    wide = [frame.place(corner)[1] for corner in frame.far_corners]
    gaps = (coffer.gap, coffer.gap_end) if wide[0] <= wide[1] else (coffer.gap_end, coffer.gap)

    def hole(which: Literal["first", "last"], front: Line, rips: Sequence[Sequence[Slat]], first_gap: Gaps) -> Hole:
        ids = tuple(tuple(slat.id for slat in row) for row in rips)
        return Hole(frame=frame, which=which, front=front, ids=ids, first_gap=first_gap, gap=gaps)

    if not full:
        yield hole("last", frame.base, rows, (coffer.edge_gaps[0], coffer.edge_gaps[0]))
        return
    if before := rows[: full[0]][::-1]:
        yield hole("first", _edge(frame, rows[full[0]][0], 0.5).reversed(), before, gaps)
    if after := rows[full[-1] + 1 :]:
        yield hole("last", _edge(frame, rows[full[-1]][0], -0.5), after, gaps)


def _is_rip(row: Sequence[Slat]) -> bool:
    """Ripped along its whole length: narrow parts of a coffer that is no quadrilateral have sawn ends only."""
    return row[0].ripped and any(row[0].sawn_edges)


def _edge(frame: Frame, slat: Slat, share: float) -> Line:
    """An edge of a full slat, run as the start side runs: half its width (0.5) towards that side, or away from it."""
    axis = Line.through(*slat.axis)
    if dot(axis.direction, frame.base.direction) < 0.0:
        axis = axis.reversed()
    return axis.shifted(share * slat.width)


def last_rows(layout: Layout) -> Iterator[Row]:
    """Two of each hole."""
    for hole in holes(layout):
        id, across = hole.frame.coffer.id, hole.frame.stretch[1]
        for short, corner, depth in zip(hole.names, hole.corners, hole.depths, strict=True):
            ends, note = (hole.front.at(hole.front.along(corner)), corner), f"for {', '.join(chain(*hole.ids))}"
            yield Row(stage="last", card=id, short=short, design=depth * across, ends=ends, note=note)


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleWindow:
    """One measure of a hole as a person reads it: what is expected, and what it may be at the most. True mm.

    Attributes:
        coffer: id.
        name: of the measure on its coffer.
        ids: of the slats that go into the hole.
        expected: by the design.
        least: with less the rip would be narrower than the narrowest that is allowed, or something is out of place.
        most: with more no board is wide enough, or something is out of place.
    """

    coffer: str
    name: str
    ids: tuple[str, ...]
    expected: float
    least: float
    most: float


def hole_windows(config: Config, layout: Layout, limit: float) -> tuple[HoleWindow, ...]:
    """Both measures of every hole; `limit` is how far off the design a reading may be before it is read again, mm."""
    slats, rips = config.slats, {slat.id: slat for slat in layout.slats}
    found: list[HoleWindow] = []
    for hole in holes(layout):
        across, n = hole.frame.stretch[1], len(hole.ids)
        widths = [width for ids in hole.ids for width in rips[ids[0]].widths]
        narrower, wider = n * (min(widths) - slats.narrowest_rip), n * (slats.width - max(widths))
        for name, depth in zip(hole.names, hole.depths, strict=True):
            found.append(
                HoleWindow(
                    coffer=hole.frame.coffer.id,
                    name=name,
                    ids=tuple(chain(*hole.ids)),
                    expected=depth * across,
                    least=depth * across - min(limit, max(narrower, 0.0)),
                    most=depth * across + min(limit, max(wider, 0.0)),
                )
            )
    return tuple(found)


def fit_last(config: Config, layout: Layout, parts: Parts, values: Values) -> Fitted:
    """Widths of the rips whose hole is known at both ends."""
    fitted, slats = Fitted(), config.slats
    for hole in holes(layout):
        names = [f"{hole.frame.coffer.id} {name}" for name in hole.names]
        missing = [name for name in names if name not in values]
        if missing:
            fitted = fitted.waits(hole.frame.coffer.id, missing) if len(missing) < len(names) else fitted
            continue
        found, remarks = _measured(errors_of(config.survey, config.tape), hole, values)
        for ids in hole.ids:
            slat = parts[ids[0]]
            widths = _widths(config, hole, slat, found)
            row = _row(config.field.get(slat.id), slat, *(min(width, slats.width) for width in widths))
            remarks = (*remarks, *_remarks(slats, slat, found.more, widths))
            for id in ids:
                fitted = fitted.with_row(id, row, *(remarks if id == ids[0] else ()))
            remarks = ()
    return fitted


def _measured(errors: Errors, hole: Hole, values: Values) -> tuple[Measured, tuple[Remark, ...]]:
    """A hole's own readings, and what else tells how it changes from corner to corner.

    Full slats follow the start side, so the first hole changes as drawn and the last as the coffer's two widths do;
    what is told twice is weighed by how well it is known. Source: weighted mean of independent readings.
    """
    stretch, names = hole.frame.stretch[1], [f"{hole.frame.coffer.id} {name}" for name in hole.names]
    a, b = (values[name] / stretch - depth for name, depth in zip(names, hole.depths, strict=True))
    sd = errors.sd_on(fmean(hole.depths), errors.trim_mark)
    # The fence is set to a mark, and the rip cut.
    saw = math.hypot(errors.trim_mark / math.sqrt(12.0), errors.slat_cut)
    own = Measured(more=(a, b), sd=math.hypot(sd, saw))
    told = _change(errors, hole, values)
    if told is None:
        return own, ()
    change, other = told
    both, apart = math.hypot(sd, other), change - (b - a)
    if abs(apart) > CONTRADICTS * math.sqrt(2.0) * both:
        what = "from end to end it changes otherwise than its coffer; read hole and widths again; they differ by"
        return own, (Remark(where=names[0].rpartition(" at ")[0], what=what, by=abs(apart)),)
    more = apart / 2.0 * (sd / both) ** 2
    level, lean = sd / math.sqrt(2.0), sd * other / both / math.sqrt(2.0)
    return Measured(more=(a - more, b + more), sd=math.hypot(level, lean, saw)), ()


def _change(errors: Errors, hole: Hole, values: Values) -> tuple[float, float] | None:
    """How much more than drawn a hole changes from its first corner to its second, by all but its own readings.

    And the standard deviation of what tells it at each end. None where nothing does.
    """
    if hole.which == "first":
        return 0.0, errors.put_up
    if not all(name in values for name in hole.width_names):
        return None
    wide = [hole.frame.place(corner)[1] for corner in hole.corners]
    stretch = hole.frame.stretch[1]
    first, second = (values[name] / stretch - width for name, width in zip(hole.width_names, wide, strict=True))
    return second - first, math.hypot(errors.sd_on(fmean(wide), errors.slat_mark), errors.put_up)


def _widths(config: Config, hole: Hole, slat: Part, found: Measured) -> tuple[float, float]:
    """Of a rip at its own two ends; parallel where both ends of its edge gap stay PARALLEL away from what must not be.

    Args:
        config: gaps, trim, and how well a tape is read.
        hole: that it goes into.
        slat: as designed.
        found: what was measured of the hole.
    """
    more, share, wished = found.more, len(hole.ids), hole.edge_gap
    if max(map(abs, more)) <= ARITHMETIC:
        return slat.widths
    if slat.width_end is not None:
        over = wished - _safe_gap(config, wished, 0.0, found.sd)[0]
        ends = [(_along(hole, more, p) + over) / share for p in slat.axis]
        return slat.width + ends[0], slat.width_end + ends[1]
    spare = [
        depth - gap - (share - 1) * between - share * slat.width - wished
        for depth, gap, between in zip(hole.depths, hole.first_gap, hole.gap, strict=True)
    ]
    # Where slats fan their edges are not square to the hole: what the drawing spares at its tighter end stays spared.
    room, gap = [drawn - min(spare) + by for drawn, by in zip(spare, more, strict=True)], wished + min(spare)
    change = abs(room[0] - room[1])
    safe, left = _safe_gap(config, gap, change, found.sd)
    if left >= PARALLEL or change <= config.tape.fine or config.slats.wedge == "leave":
        width = slat.width + (min(room) + gap - safe) / share
        return width, width
    over = gap - _safe_gap(config, gap, 0.0, found.sd)[0]
    ends = [(_along(hole, (room[0], room[1]), p) + over) / share for p in slat.axis]
    return slat.width + ends[0], slat.width + ends[1]


def _safe_gap(config: Config, wished: float, change: float, sd: float) -> tuple[float, float]:
    """The edge gap at a hole's tighter end that keeps from the least gap and, wider by the change, from what shows.

    The nearest to the wished one; where there is no room to keep SAFE from both it lies half way between them. And how
    many standard deviations there are for each.
    """
    slats, trim = config.slats, config.trim
    low, high = min(wished, slats.least_edge_gap), trim.width - trim.least_overlap - change
    middle, left = (low + high) / 2.0, (high - low) / 2.0 / sd
    return min(max(wished, low + SAFE * sd), high - SAFE * sd) if left >= SAFE else middle, left


def _along(hole: Hole, at_corners: tuple[float, float], point: Point) -> float:
    """What is known at the two corners, at a place between them."""
    a, b = (hole.front.along(corner) for corner in hole.corners)
    share = (hole.front.along(point) - a) / (b - a)
    return at_corners[0] + share * (at_corners[1] - at_corners[0])


def _row(before: FieldRow | None, slat: Part, first: float, second: float) -> dict[str, float]:
    """Both widths where the slat tapers, did in the design, or did when it was measured before."""
    tapers = slat.width_end is not None or abs(first - second) > ARITHMETIC
    if tapers or (before is not None and before.width_end is not None):
        return {"width": first, "width_end": second}
    return {"width": first}


def _remarks(slats: Slats, slat: Part, more: Gaps, widths: tuple[float, float]) -> Iterator[Remark]:
    board, least, narrow, wide = slats.width, slats.narrowest_rip, min(widths), max(widths)
    if wide > board + ARITHMETIC:
        yield Remark(where=slat.id, what="a board is too narrow for its hole; the edge gap grows by", by=wide - board)
    if narrow < least - ARITHMETIC and min(more) < -ARITHMETIC and not math.isclose(narrow, slat.width):
        yield Remark(where=slat.id, what="it is narrower than the narrowest rip:", by=narrow)
