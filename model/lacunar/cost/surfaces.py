"""Real areas that are painted, in m2, and lengths that are masked, in mm."""

import math
from collections.abc import Iterable, Sequence
from typing import TypeVar

from shapely import Polygon, union_all

from lacunar.config import Door, WindowTable
from lacunar.geometry import Plane, Point, Point3, Ring, area
from lacunar.layout import Bar, Layout, surface_over
from lacunar.parts import Part
from lacunar.survey import Room, ceiling_rim

AnyPoint = TypeVar("AnyPoint", Point, Point3)

M2 = 1e-6
"""m2 in a mm2."""


def whole_surface(part: Part) -> float:
    """Every face of a part: top, bottom, edges and ends. Exact for a prism between two planes; pockets left out."""
    flat = area(part.outline) - sum(area(hole) for hole in part.holes)
    around = sum(_mantle(ring, part.bottom, part.top) for ring in (part.outline, *part.holes))
    return (flat * (part.bottom.plumb + part.top.plumb) + around) * M2


def _mantle(ring: Ring, bottom: Plane, top: Plane) -> float:
    """Upright faces along a ring, mm2."""
    return sum(_face(a, b, bottom, top) for a, b in _edges(ring))


def _face(a: Point, b: Point, bottom: Plane, top: Plane) -> float:
    """The upright face between two planes over a straight edge: heights are linear along it."""
    return math.dist(a, b) * (top.at(a) - bottom.at(a) + top.at(b) - bottom.at(b)) / 2.0


def _edges(ring: Sequence[AnyPoint]) -> Iterable[tuple[AnyPoint, AnyPoint]]:
    return zip(ring, (*ring[1:], ring[0]), strict=True)


def behind_surface(room: Room, layout: Layout, parts: Sequence[Part]) -> float:
    """The old ceiling in all coffers, and the edges and ends of furring, whose underside is as large as its top."""
    ceiling = sum(_old_ceiling(room, coffer.outline) for coffer in layout.coffers)
    edges = math.fsum(_mantle(p.outline, p.bottom, p.top) for p in parts if p.kind == "furring")
    return (ceiling + edges) * M2


def refinished_beams(layout: Layout) -> tuple[Bar, ...]:
    """Existing beams whose surface does not stay as it is."""
    return tuple(bar for bar in layout.beams if bar.kind == "existing beam" and not bar.keep)


def surface_before(layout: Layout, parts: Sequence[Part]) -> float:
    """All sides and ends of every bought piece as cut, and what shows of existing beams that are refinished.

    Furring gets the paint behind the gaps instead.
    """
    wood = sum(whole_surface(part) for part in parts if part.bought and part.kind != "furring")
    return wood + _beams_showing(layout, refinished_beams(layout))


def surface_after(layout: Layout, parts: Sequence[Part]) -> float:
    """What shows from below once everything hangs: undersides, inner faces of trim, sides of beams below the trim.

    Edges inside gaps are left out: no brush gets there.
    """
    new = tuple(bar for bar in (*layout.beams, *layout.pieces, *layout.half_beams) if bar.kind != "existing beam")
    wood = _slats_showing(layout, parts) + _trim_showing(layout, parts)
    return wood + _beams_showing(layout, (*new, *refinished_beams(layout)))


def _slats_showing(layout: Layout, parts: Sequence[Part]) -> float:
    total = 0.0
    for coffer in layout.coffers:
        mine = [part for part in parts if part.coffer == coffer.id]
        trim = union_all([Polygon(part.outline) for part in mine if part.kind == "trim"])
        opening = Polygon(coffer.outline).difference(trim)
        slats = [part for part in mine if part.kind == "slat"]
        seen = (Polygon(part.outline, part.holes).intersection(opening).area * part.bottom.plumb for part in slats)
        total += math.fsum(seen)
    return total * M2


def _trim_showing(layout: Layout, parts: Sequence[Part]) -> float:
    """Underside and the face towards the coffer's middle."""
    coffers = {coffer.id: coffer for coffer in layout.coffers}
    sides = {strip.id: coffers[strip.coffer].sides[strip.side].line for strip in layout.trim}
    total = 0.0
    for part in parts:
        if part.kind != "trim":
            continue
        side = sides[part.id]
        # The coffer lies to the right of its side: the face that is seen lies farthest right.
        inner = min(_edges(part.outline), key=lambda edge: side.offset(edge[0]) + side.offset(edge[1]))
        total += area(part.outline) * part.bottom.plumb + _face(*inner, part.bottom, part.top)
    return total * M2


def _beams_showing(layout: Layout, bars: Sequence[Bar]) -> float:
    """Undersides, and each side along a coffer from the bottom up to the trim."""
    bottoms = {bar.id: bar.bottom for bar in bars}
    hidden = layout.slat.thickness + layout.trim_strip.thickness
    total = sum(area(bar.outline) * bar.bottom.plumb for bar in bars)
    for coffer in layout.coffers:
        trim_bottom = layout.backing(coffer).lifted(-hidden * coffer.ceiling.plumb)
        for side in coffer.sides:
            if side.against in bottoms:
                total += max(_face(side.start, side.end, bottoms[side.against], trim_bottom), 0.0)
    return total * M2


def masked_length(layout: Layout) -> float:
    """Tape where the finish is put on in place: along walls or mouldings, beams that stay as they are, fixtures."""
    kept = {bar.id for bar in layout.beams if bar.keep}
    beams = sum(
        math.dist(side.start, side.end) for coffer in layout.coffers for side in coffer.sides if side.against in kept
    )
    fixtures = sum(_around(cut.cover or cut.fixture) for cut in layout.cut_outs)
    return _around(layout.inner) + beams + fixtures


def _around(ring: Ring) -> float:
    return sum(math.dist(a, b) for a, b in _edges(ring))


def wall_surface(room: Room, windows: Sequence[WindowTable], doors: Sequence[Door]) -> float:
    """The walls from floor to ceiling, less windows and doors."""
    edges = _edges(tuple(ceiling_rim(room).values()))
    walls = sum(math.dist(a[:2], b[:2]) * (a[2] + b[2]) / 2.0 for a, b in edges)
    openings = sum(window.width * (window.head - window.sill) for window in windows)
    openings += sum(door.width * door.height for door in doors)
    return max(walls - openings, 0.0) * M2


def ceiling_surface(room: Room, layout: Layout) -> float:
    """The ceiling between the walls."""
    return _old_ceiling(room, layout.outline) * M2


def _old_ceiling(room: Room, ring: Ring) -> float:
    """The old ceiling over a plan ring, mm2."""
    return sum(area(piece) * plane.plumb for piece, plane in surface_over(room, ring))
