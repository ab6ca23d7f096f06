"""What covers a coffer, as it lies in the plan: slats with their ids, joists, strips, holes, forbidden zones."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import shapely
from shapely import LineString, Polygon

from lacunar.drawings.drawing import GREY, PALE, WHITE, Disc, Outline, Stroke, Text, Thing
from lacunar.drawings.lettering import cut_short, text_width
from lacunar.drawings.plan_view import PlanView, hole_outline
from lacunar.drawings.plates import plate, plated, turn_along
from lacunar.drawings.running import height_of
from lacunar.drawings.spots import between
from lacunar.geometry import Line, Ring
from lacunar.layout import Coffer, CutOut, Layout, NoNailZone, OverheadLines
from lacunar.parts import Part

NO_NAIL: Final = "NO NAIL"
TOUCH: Final = 0.2
"""mm2. Patches under letters may overlap by as much."""
LONGEST: Final = 40.0
"""mm. Of a fixture's name on its hole."""
SHARES: Final = (0.5, 0.38, 0.62, 0.27, 0.73, 0.18, 0.82)
"""Where along a slat its id may stand, the likeliest first."""
PITCH: Final = 3.0
"""mm. Between the strokes over a zone where no nail may go."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wood:
    """What lies in one coffer, and how it is lettered.

    Attributes:
        parts: slats, trim and furring of the coffer, as cut.
        numbered: numbers of the slats that bear their ids however narrow they are drawn.
        size: of the letters, points.
    """

    layout: Layout
    coffer: Coffer
    parts: Sequence[Part]
    overhead: Sequence[OverheadLines]
    zones: Sequence[NoNailZone]
    numbered: frozenset[str]
    view: PlanView
    size: float

    def of_kind(self, kind: str) -> list[Part]:
        """In order."""
        return [part for part in self.parts if part.kind == kind]

    @property
    def holes(self) -> list[CutOut]:
        """Of the coffer's fixtures."""
        return [hole for hole in self.layout.cut_outs if hole.coffer == self.coffer.id]


def draw_wood(wood: Wood) -> Iterator[Thing]:
    """From what lies lowest on the paper up: slats, joists and strips over them, holes, zones, then all letters."""
    view, slats = wood.view, wood.of_kind("slat")
    for part in slats:
        fill = PALE if part.ripped and any(part.sawn_edges) else WHITE
        yield Outline(points=view.spots(part.outline), width=0.2, colour=GREY, fill=fill, layer="wood")
        yield from (Outline(points=view.spots(hole), width=0.2, colour=GREY, fill=WHITE) for hole in part.holes)
    for part in wood.of_kind("trim"):
        yield Outline(points=view.spots(part.outline), width=0.15, layer="wood")
    for lines in wood.overhead:
        yield from _lines(lines, wood.parts, view)
    for hole in wood.holes:
        yield Outline(points=hole_outline(view, hole).points, width=0.5, fill=WHITE, layer="room")
    for nail in (nail for part in slats for nail in part.nails):
        yield Disc(at=view.spot(nail), radius=0.45, width=0.0, fill=GREY, layer="measures")
    yield Outline(points=view.spots(wood.coffer.outline), width=0.6, layer="room")
    yield from (thing for piece in _pieces(wood) for thing in _zone(piece, view))
    yield from _letters(wood, slats)


def _letters(wood: Wood, slats: Sequence[Part]) -> Iterator[Thing]:
    """Names of fixtures and zones; ids of slats clear of them."""
    names = [_beside(wood, hole) for hole in wood.holes] + [_forbidding(wood, piece) for piece in _pieces(wood)]
    hard = [Polygon(wood.view.spots(hole.outline)) for hole in wood.holes] + [Polygon(plate(name)) for name in names]
    hard += [Polygon(wood.view.spots(zone.outline)) for zone in wood.zones]
    soft = [LineString(wood.view.spots(mark.ends)) for lines in wood.overhead for mark in lines.marks]
    for part in sorted(slats, key=lambda part: part.id not in wood.numbered):
        label = _id(wood, part, hard, soft)
        if label is not None:
            hard.append(Polygon(plate(label)))
            yield from plated(label)
    for name in names:
        yield from plated(name)


def _beside(wood: Wood, hole: CutOut) -> Text:
    """A fixture's name, right of it; left where the coffer ends there, on it where that is no better."""
    xs = [x for x, _ in wood.view.spots(hole.outline)]
    name, (x, y) = _short(hole.name, wood.size), wood.view.spot(hole.centre)
    half, coffer = text_width(name, wood.size, bold=True) / 2.0, Polygon(wood.view.spots(wood.coffer.outline))
    texts = [
        Text(at=(at, y), text=name, size=wood.size, anchor="centre", bold=True, layer="room")
        for at in (max(xs) + 1.0 + half, min(xs) - 1.0 - half, x)
    ]
    return next((text for text in texts if coffer.covers(Polygon(plate(text)))), texts[-1])


def _short(name: str, size: float) -> str:
    return cut_short(name, LONGEST, lambda text: text_width(text, size, bold=True))


def _lines(lines: OverheadLines, parts: Sequence[Part], view: PlanView) -> Iterator[Thing]:
    """Joists dashed; strips by both of their edges."""
    if lines.kind == "joist":
        for mark in lines.marks:
            yield Stroke(points=view.spots(mark.ends), width=0.3, dashed=True, layer="measures")
    else:
        names = {mark.name for mark in lines.marks}
        for part in (part for part in parts if part.id in names):
            yield Outline(points=view.spots(part.outline), width=0.25, dashed=True, layer="wood")


def _id(wood: Wood, part: Part, hard: Sequence[Polygon], soft: Sequence[LineString]) -> Text | None:
    """Along a slat, where no fixture, forbidden zone and other id is and, if it can be, no joist."""
    a, b = wood.view.spots(part.axis)
    wide, size = text_width(part.id, wood.size) + 1.0, wood.size
    narrow = height_of(size) * 0.75 > wood.view.scale * min(part.widths)
    if wide > math.dist(a, b) or (narrow and part.id not in wood.numbered):
        return None
    turn = turn_along(a, b)
    spare = 0.5 - wide / 2.0 / math.dist(a, b)
    best: tuple[float, Text] | None = None
    for share in (share for share in SHARES if abs(share - 0.5) <= spare):
        text = Text(at=between(a, b, share), text=part.id, size=size, anchor="centre", turn=turn, layer="wood")
        box = Polygon(plate(text))
        if any(box.intersection(other).area > TOUCH for other in hard):
            continue
        badness = sum(box.intersects(line) for line in soft) + abs(share - 0.5)
        if best is None or badness < best[0]:
            best = (badness, text)
    return None if best is None else best[1]


def _pieces(wood: Wood) -> list[Polygon]:
    """What of the zones lies in the coffer."""
    coffer = Polygon(wood.coffer.outline)
    cut = [coffer.intersection(Polygon(zone.outline)) for zone in wood.zones]
    parts = [part for found in cut for part in shapely.get_parts(found)]
    return [part for part in parts if isinstance(part, Polygon) and part.area > 1.0]


def _zone(piece: Polygon, view: PlanView) -> Iterator[Thing]:
    """Its edge and strokes across it."""
    ring: Ring = tuple((x, y) for x, y in piece.exterior.coords[:-1])
    yield Outline(points=view.spots(ring), width=0.6, layer="measures")
    yield from _strokes(piece, view)


def _forbidding(wood: Wood, piece: Polygon) -> Text:
    """What a zone means, in it."""
    at = piece.representative_point()
    spot = wood.view.spot((at.x, at.y))
    return Text(at=spot, text=NO_NAIL, size=wood.size, anchor="centre", bold=True, layer="measures")


def _strokes(piece: Polygon, view: PlanView) -> Iterator[Thing]:
    left, low, right, high = piece.bounds
    line, reach = Line((left, high), (0.5**0.5, 0.5**0.5)), (right - left) + (high - low)
    pitch = PITCH / view.scale
    for i in range(1, int(2.0 * reach / pitch)):
        down = line.shifted(reach - i * pitch)
        cut = piece.intersection(LineString([down.at(-2.0 * reach), down.at(2.0 * reach)]))
        for part in shapely.get_parts(cut):
            if isinstance(part, LineString) and part.length * view.scale > 0.3:
                (ax, ay), (bx, by) = part.coords
                yield Stroke(points=view.spots(((ax, ay), (bx, by))), width=0.25, layer="measures")
