"""What is seen of ripped slats, between slats and beside them, measured from the slats as cut."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

import shapely
from shapely.geometry.base import BaseGeometry

from lacunar.analysis.shapes import Floats, common, polygons_in, without
from lacunar.analysis.subject import Subject
from lacunar.geometry import Line, Point, dot
from lacunar.layout import Coffer
from lacunar.parts import Part
from lacunar.units import INCH

WIDER_SHOWS = INCH / 8.0
"""mm. A slat or gap wider by more than is meant is seen to be. Source: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RipView:
    """What is seen of one ripped slat between the trim.

    Attributes:
        part: id.
        widths: seen at its two ends, across its axis, the end nearer A first.
        shown: the narrower of them; of slats at an angle, that a corner of the coffer cuts to triangles, the widest.
    """

    part: str
    widths: tuple[float, float]
    shown: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SlatGap:
    """The gap between two neighbouring slats, at both ends of the stretch where they lie side by side.

    Attributes:
        coffer: id.
        slats: ids.
        widths: at the two ends.
    """

    coffer: str
    slats: tuple[str, str]
    widths: tuple[float, float]

    @property
    def opens(self) -> float:
        """How much wider it is at one end than at the other."""
        return abs(self.widths[1] - self.widths[0])


@dataclass(frozen=True, slots=True, kw_only=True)
class BarePlaces:
    """What neither slat, trim nor canopy covers in a coffer, wider than is meant.

    Attributes:
        coffer: id.
        limit: the widest gap that is meant, and as much more as nobody sees.
        count: places wider than that.
        width: narrowest width of the widest of them.
    """

    coffer: str
    limit: float
    count: int
    width: float


def rip_views(subject: Subject) -> tuple[RipView, ...]:
    """Every ripped slat of which anything is seen, in order."""
    coffers = {coffer.id: coffer for coffer in subject.layout.coffers}
    ripped = [(part, coffers.get(part.coffer or "")) for part in subject.of_kind("slat") if part.ripped]
    views = [_rip_view(subject, part, coffer) for part, coffer in ripped if coffer is not None]
    return tuple(view for view in views if view is not None)


def _rip_view(subject: Subject, part: Part, coffer: Coffer) -> RipView | None:
    seen = common(subject.polygon(part.id), subject.openings[coffer.id])
    points = shapely.get_coordinates(seen)
    if len(points) < 3:
        return None
    axis = Line.through(*part.axis)
    along = [axis.along((float(x), float(y))) for x, y in points]
    across = [axis.offset((float(x), float(y))) for x, y in points]
    middle = (min(along) + max(along)) / 2.0
    first, last = (
        _spread([o for a, o in zip(along, across, strict=True) if (a > middle) == far]) for far in (False, True)
    )
    shown = _spread(across) if coffer.cut_to_shape else min(first, last)
    return RipView(part=part.id, widths=(first, last), shown=shown)


def _spread(values: Sequence[float]) -> float:
    return max(values) - min(values) if values else 0.0


@dataclass(frozen=True, slots=True)
class _Lane:
    """One slat in its coffer's frame: along the slats and across them.

    Attributes:
        middle: offset of the middle of its corners.
        low: its edge with the smaller offset, by two points (along, offset).
        high: the other edge.
    """

    part: Part
    middle: float
    low: tuple[Point, Point]
    high: tuple[Point, Point]

    @staticmethod
    def of(frame: Line, part: Part) -> "_Lane":
        points = [(frame.along(point), frame.offset(point)) for point in part.outline]
        edges = [_edge(part, frame, points, low=low) for low in (True, False)]
        return _Lane(part, sum(offset for _, offset in points) / len(points), edges[0], edges[1])


def _edge(part: Part, frame: Line, points: Sequence[Point], *, low: bool) -> tuple[Point, Point]:
    """A long edge, from the corners furthest out across the slat; corners that notches cut back do not count."""
    axis = Line.through(*part.axis)
    same = dot(axis.direction, frame.direction) > 0.0
    across = [axis.offset(point) if same else -axis.offset(point) for point in part.outline]
    outermost = (min if low else max)(across)
    slack = abs((part.width_end or part.width) - part.width) / 2.0 + 1e-3
    edge = [point for point, at in zip(points, across, strict=True) if abs(at - outermost) <= slack]
    return min(edge), max(edge)


def _at(edge: tuple[Point, Point], along: float) -> float:
    (a, low), (b, high) = edge
    return low if b - a < 1e-3 else low + (along - a) / (b - a) * (high - low)


def slat_gaps(subject: Subject) -> tuple[SlatGap, ...]:
    """Every gap between neighbours, coffer by coffer, from slat 1 on."""
    numbers = {slat.id: slat.number for slat in subject.layout.slats}
    by_coffer: dict[str, list[Part]] = {coffer.id: [] for coffer in subject.layout.coffers}
    for part in subject.of_kind("slat"):
        if part.coffer in by_coffer and part.id in numbers:
            by_coffer[part.coffer].append(part)
    found: list[SlatGap] = []
    for coffer in subject.layout.coffers:
        frame = Line(coffer.sides[coffer.start_side].start, coffer.direction)
        mine = sorted(by_coffer[coffer.id], key=lambda part: numbers[part.id])
        rows = {n: [_Lane.of(frame, p) for p in row] for n, row in groupby(mine, key=lambda part: numbers[part.id])}
        for number, row in rows.items():
            pairs = (_between(coffer, one, other) for one in row for other in rows.get(number + 1, ()))
            found += [gap for gap in pairs if gap is not None]
    return tuple(found)


def _between(coffer: Coffer, one: _Lane, other: _Lane) -> SlatGap | None:
    """The gap where both slats have an edge: past the end of either there is nothing to see a gap beside."""
    near, far = (one, other) if one.middle < other.middle else (other, one)
    start, end = max(near.high[0][0], far.low[0][0]), min(near.high[1][0], far.low[1][0])
    if end <= start:
        return None
    first, second = (_at(far.low, at) - _at(near.high, at) for at in (start, end))
    return SlatGap(coffer=coffer.id, slats=(one.part.id, other.part.id), widths=(first, second))


def bare_places(subject: Subject) -> tuple[BarePlaces, ...]:
    """Every coffer that has any, in order."""
    return tuple(bare for coffer in subject.layout.coffers if (bare := _bare(subject, coffer)) is not None)


def _bare(subject: Subject, coffer: Coffer) -> BarePlaces | None:
    widest = max(coffer.gap, coffer.gap_end) + WIDER_SHOWS
    slats = [subject.polygon(part.id) for part in subject.of_kind("slat") if part.coffer == coffer.id]
    covered = [*slats, *(shapely.Polygon(cut.cover or cut.outline) for cut in subject.layout.cut_outs)]
    core = shapely.buffer(without(subject.openings[coffer.id], covered), -widest / 2.0, join_style="mitre")
    cores = polygons_in(core)
    if not cores:
        return None
    width = max(_reach(core, widest) for core in cores)
    return BarePlaces(coffer=coffer.id, limit=widest, count=len(cores), width=width)


def _reach(core: BaseGeometry, widest: float) -> float:
    """Narrowest width of the bare place that a core stands in."""
    points: Floats = shapely.get_coordinates(shapely.minimum_rotated_rectangle(core))
    if len(points) < 3:
        return widest
    (x0, y0), (x1, y1), (x2, y2) = points[:3]
    sides = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5, ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    return widest + float(min(sides))
