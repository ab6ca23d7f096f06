"""A ceiling cut open: exact faces of every part on an upright plane, with what is worth measuring there.

Parts are upright prisms, so a cut is closed form: the plan line's stretch inside the outline, between two planes.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import shapely

from lacunar.geometry import Line, Point, centroid
from lacunar.layout import Coffer, Layout, ceiling_gaps
from lacunar.parts import Part
from lacunar.scene.look import Look
from lacunar.scene.materials import material_of
from lacunar.scene.types import CutFace, CutView, FaceKind, Measure
from lacunar.survey import Room, ceiling_height, fold_crossings

DRAWN = 0.05
"""mm. What is thinner has no dimension."""


@dataclass(frozen=True, slots=True)
class _Plane:
    """The cut through one coffer: u runs along `line`; what lies to its left is beyond."""

    parts: tuple[Part, ...]
    room: Room
    layout: Layout
    look: Look
    coffer: Coffer
    line: Line
    low: float = 0.0
    high: float = 0.0

    def under(self, along: float) -> float:
        """Height of the old ceiling's underside."""
        return ceiling_height(self.room, self.line.at(along))

    def turns(self, low: float, high: float) -> list[float]:
        """Two places of the cut, and where the old ceiling folds between them."""
        between = sorted(along for along in fold_crossings(self.room, self.line) if low < along < high)
        return [low, *between, high]

    def stretches(self, of: shapely.Geometry) -> list[tuple[float, float]]:
        """From where to where it runs through something, in order."""
        out: list[tuple[float, float]] = []
        for piece in shapely.get_parts(of):
            if isinstance(piece, shapely.LineString) and piece.length > 1e-6:
                ends = sorted(self.line.along((float(x), float(y))) for x, y in piece.coords)
                out.append((ends[0], ends[-1]))
        return sorted(out)

    @property
    def drawn(self) -> shapely.LineString:
        """The line as far as it is shown."""
        return shapely.LineString([self.line.at(self.low), self.line.at(self.high)])

    @property
    def opening(self) -> tuple[float, float]:
        """From where to where it runs inside the coffer."""
        endless = shapely.LineString([self.line.at(-1e5), self.line.at(1e5)])
        inside = self.stretches(shapely.Polygon(self.coffer.outline).intersection(endless))
        return inside[0][0], max(end for _, end in inside)


def _faces(part: Part, plane: _Plane) -> Iterator[CutFace]:
    """Where a part is cut."""
    lean = Line.through(*part.axis).lean_to(plane.line)
    kind: FaceKind = "beam"
    if part.kind in ("slat", "trim", "furring", "moulding"):
        kind = part.kind
    material = material_of(part, plane.look)
    for a, b in plane.stretches(shapely.Polygon(part.outline, part.holes).intersection(plane.drawn)):
        ring = _upright(part, (a, plane.line.at(a)), (b, plane.line.at(b)))
        yield CutFace(name=part.id, kind=kind, material=material, ring=ring, end_grain=lean > math.pi / 4)


def _upright(part: Part, start: tuple[float, Point], end: tuple[float, Point]) -> tuple[Point, ...]:
    """A part between two places of the cut, from its underside to its top."""
    (a, p), (b, q) = start, end
    return (a, part.bottom.at(p)), (b, part.bottom.at(q)), (b, part.top.at(q)), (a, part.top.at(p))


def _beyond(plane: _Plane, reach: float) -> list[CutFace]:
    """Beams, trim and furring behind the cut as seen along it, the farthest first."""
    found: list[tuple[float, CutFace]] = []
    for part in plane.parts:
        if part.kind == "slat":
            continue
        far = [plane.line.offset(p) for p in part.outline]
        if min(far) < 1.0 or min(far) > reach:
            continue
        along = [(plane.line.along(p), p) for p in part.outline]
        start, end = min(along), max(along)
        if end[0] <= plane.low or start[0] >= plane.high:
            continue
        start, end = (_clipped(start, end, at) for at in (plane.low, plane.high))
        material, word = material_of(part, plane.look), "furring" if part.kind == "furring" else ""
        ring = _upright(part, start, end)
        found.append((min(far), CutFace(name=part.id, kind="beyond", material=material, ring=ring, word=word)))
    return [face for _, face in sorted(found, key=lambda pair: -pair[0])]


def _clipped(start: tuple[float, Point], end: tuple[float, Point], to: float) -> tuple[float, Point]:
    """The place between two that lies nearest to so far along the cut."""
    along = min(max(to, start[0]), end[0])
    share = (along - start[0]) / (end[0] - start[0])
    (ax, ay), (bx, by) = start[1], end[1]
    return along, (ax + share * (bx - ax), ay + share * (by - ay))


def _overhead(plane: _Plane) -> list[CutFace]:
    """The old ceiling and the joists above it."""
    joists, t = plane.layout.joists, plane.look.old_ceiling
    underside = [(u, plane.under(u)) for u in plane.turns(plane.low, plane.high)]
    ring = (*underside, *((u, z + t) for u, z in reversed(underside)))
    out = [CutFace(name="old ceiling", kind="old ceiling", material="plaster", ring=ring)]
    for n, joist in enumerate(joists.lines, start=1):
        if joist.lean_to(plane.line) < 0.2:
            ahead = joist.offset(plane.line.at((plane.low + plane.high) / 2))
            if abs(ahead) < 700.0 and not any(f.kind == "beyond" for f in out):
                (a, zp), (b, zq) = ((u, z + t) for u, z in (underside[0], underside[-1]))
                ring = ((a, zp), (b, zq), (b, zq + joists.height), (a, zp + joists.height))
                out.append(CutFace(name=f"joist {n}", kind="beyond", material="joist", ring=ring))
            continue
        middle = plane.line.along(plane.line.crossing(joist))
        half = joists.width / 2 / math.sin(joist.lean_to(plane.line))
        if plane.low < middle + half and middle - half < plane.high:
            z = plane.under(middle) + t
            a, b = max(middle - half, plane.low), min(middle + half, plane.high)
            ring = ((a, z), (b, z), (b, z + joists.height), (a, z + joists.height))
            out.append(CutFace(name=f"joist {n}", kind="joist", material="joist", ring=ring, end_grain=True))
    return out


def _whole(plane: _Plane, reach: float) -> tuple[CutFace, ...]:
    cut = (face for part in plane.parts for face in _faces(part, plane))
    return (*_beyond(plane, reach), *_overhead(plane), *_walls(plane), *cut)


def _walls(plane: _Plane) -> Iterator[CutFace]:
    """What lies outside the room along the cut."""
    for a, b in plane.stretches(plane.drawn.difference(shapely.Polygon(plane.layout.outline))):
        za, zb = plane.under(a), plane.under(b)
        ring = ((a, za - 1000.0), (b, zb - 1000.0), (b, zb), (a, za))
        yield CutFace(name="wall", kind="wall", material="wall", ring=ring)


def _middle_coffer(layout: Layout, room: Room) -> Coffer:
    """Without a fixture where there is one; the one with most left open above its slats, else one near the middle."""
    holed = {hole.coffer for hole in layout.cut_outs}
    gaps = {gap.coffer: gap.largest for gap in ceiling_gaps(room, layout)}

    def far(coffer: Coffer) -> tuple[bool, float, float]:
        return coffer.id in holed, -gaps[coffer.id], math.dist(centroid(coffer.outline), room.centre[:2])

    return min(layout.coffers, key=far)


def sections_of(parts: tuple[Part, ...], room: Room, layout: Layout, look: Look) -> tuple[CutView, ...]:
    """The section across the slats of one coffer, and two enlarged details: a slat's edge, a slat's end."""
    if not layout.coffers:
        return ()
    coffer = _middle_coffer(layout, room)
    outline = shapely.Polygon(coffer.outline)
    c = (float(outline.centroid.x), float(outline.centroid.y))
    along = Line(c, coffer.direction)
    slats = [p for p in parts if p.kind == "slat" and p.coffer == coffer.id]
    # Off the middle, where no joint or fixture of the neighbours disturbs the view.
    across = Line(along.at(0.0), along.left)
    if across.direction[0] < -1e-9 or (abs(across.direction[0]) < 1e-9 and across.direction[1] < 0):
        across = across.reversed()
    nearest = min(slats, key=lambda s: abs(across.along(_centre(s))), default=None)
    lengthwise = Line(_centre(nearest) if nearest else c, coffer.direction)
    if lengthwise.direction[0] < -1e-9:
        lengthwise = lengthwise.reversed()
    shown = tuple(part for part in parts if part.kind not in ("ledger", "plug"))
    plane = _Plane(shown, room, layout, look, coffer, across)
    edge = _detail(plane, f"Edge of the first slat, {coffer.id}", "edge gap")
    end = _detail(replace(plane, line=lengthwise), f"End of a slat, {coffer.id}", "end gap")
    return tuple(cut for cut in (_section(plane), edge, end) if cut is not None)


def _centre(part: Part) -> Point:
    (ax, ay), (bx, by) = part.axis
    return ((ax + bx) / 2, (ay + by) / 2)


def _section(plane: _Plane) -> CutView:
    a, b = plane.opening
    margin = max(170.0, 0.10 * (b - a))
    plane = replace(plane, low=a - margin, high=b + margin)
    z = plane.under((a + b) / 2)
    faces = _whole(plane, 4000.0)
    bars = [f for f in faces if f.kind in ("beam", "moulding")]
    lowest = min([*(f.ring[0][1] for f in bars), z - 90.0])
    slats = sorted((f for f in faces if f.kind == "slat"), key=lambda f: f.ring[0][0])
    inside = [f for f in slats if a < f.ring[0][0] < b]
    feet = [_foot(bars, at, lowest) for at in (a, b)]
    measures = [Measure(name="clear width", start=(a, feet[0]), end=(b, feet[1]), side="below")]
    if len(inside) > 2:
        k = max(1, len(inside) // 3)
        slat, one, two = inside[k], inside[-k - 1], inside[-k]
        under = min(f.ring[0][1] for f in (slat, one, two))
        measures += [
            Measure(name="slat", start=(slat.ring[0][0], under), end=(slat.ring[1][0], under), side="below"),
            Measure(name="gap", start=(one.ring[1][0], under), end=(two.ring[0][0], under), side="below"),
        ]
    bar = min((f for f in bars if f.kind == "beam"), key=lambda f: f.ring[0][0], default=None)
    if bar is not None:
        right = bar.ring[1][0]
        measures.append(Measure(name="depth", start=(right, bar.ring[1][1]), end=(right, bar.ring[2][1]), side="right"))
    measures += _thicknesses(plane, faces)
    top = max(f.ring[2][1] for f in faces if f.kind == "old ceiling" or f.name.startswith("joist"))
    return CutView(
        title=f"Section across the slats of {plane.coffer.id}",
        faces=faces,
        measures=tuple(measures),
        # Beside the cut stands how thick things are.
        window=(plane.low, plane.high + 0.24 * (b - a), lowest - 70.0, top + 12.0),
    )


def _foot(bars: list[CutFace], at: float, otherwise: float) -> float:
    """Underside of the beam that has a side at a place of the cut; of a wall there is none."""
    beside = [f.ring[0][1] for f in bars if min(abs(f.ring[0][0] - at), abs(f.ring[1][0] - at)) < 1.0]
    return min(beside, default=otherwise)


def _thicknesses(plane: _Plane, faces: tuple[CutFace, ...]) -> Iterator[Measure]:
    """Of the old ceiling and of the joist above it, at the end of the cut."""
    u = plane.high
    under = plane.under(u)
    joist = max((f for f in faces if f.name.startswith("joist")), key=lambda f: f.ring[1][0], default=None)
    if joist is not None:
        yield Measure(name="joist", start=joist.ring[1], end=joist.ring[2], side="right")
    yield Measure(name="old ceiling", start=(u, under), end=(u, under + plane.look.old_ceiling), side="right")


def _detail(plane: _Plane, title: str, gap: str) -> CutView | None:
    """The first 14 cm of a cut: how trim hides a gap."""
    a, _ = plane.opening
    plane = replace(plane, low=a - 75.0, high=a + 140.0)
    faces = _whole(plane, 0.5)
    slats = [f for f in faces if f.kind == "slat" and f.ring[1][0] > a]
    trims = [f for f in faces if f.kind == "trim" and f.ring[1][0] > a]
    if not slats or not trims:
        return None
    slat = min(slats, key=lambda f: f.ring[0][0])
    trim = min(trims, key=lambda f: f.ring[0][0])
    (s0, under), (_, top) = slat.ring[0], slat.ring[3]
    t0, t1, foot = trim.ring[0][0], trim.ring[1][0], trim.ring[0][1]
    furring = plane.layout.furring_thickness * plane.coffer.ceiling.plumb
    open_from, open_to = top + furring, plane.under(plane.high)
    # A shim is so thin that its number stands beside it.
    beside = 60.0 if open_to - open_from <= DRAWN else 110.0
    measures = (
        Measure(name=gap, start=(a, top), end=(s0, top), side="above"),
        Measure(name="overlap", start=(s0, foot), end=(t1, foot), side="below"),
        Measure(name="trim", start=(t0, foot), end=(t1, foot), side="below"),
        Measure(name="slat", start=(plane.high, under), end=(plane.high, top), side="right"),
        Measure(name="furring", start=(plane.high, top), end=(plane.high, top + furring), side="right"),
        Measure(name="shim", start=(plane.high, open_from), end=(plane.high, open_to), side="right"),
        Measure(name="trim height", start=(t1, foot), end=(t1, trim.ring[2][1]), side="right"),
    )
    return CutView(
        title=title,
        faces=faces,
        measures=tuple(m for m in measures if m.size > DRAWN),
        window=(
            plane.low,
            plane.high + beside,
            foot - 62.0,
            max(top + furring, *(plane.under(u) for u in (plane.low, plane.high))) + plane.look.old_ceiling + 34.0,
        ),
    )
