"""A template for each hole in the slats: its outline with the edges of the slats that it cuts, as seen from below."""

from collections.abc import Iterator, Sequence
from typing import Final

import shapely

from lacunar.book.flat_templates import Template
from lacunar.drawings import Spot, Stroke, Text
from lacunar.geometry import Point
from lacunar.layout import Coffer, CutOut, Layout, Slat

ROUND_IT: Final = 30.0
"""mm. Of the slats that are shown round a hole."""


def hole_templates(layout: Layout) -> Iterator[Template]:
    """One for each hole in a coffer that has slats."""
    for hole in layout.cut_outs:
        slats = [slat for slat in layout.slats if slat.coffer == hole.coffer]
        if hole.coffer is not None and slats:
            yield _template(hole, layout.coffer(hole.coffer), slats)


def _template(hole: CutOut, coffer: Coffer, slats: Sequence[Slat]) -> Template:
    start = coffer.sides[coffer.start_side]
    rings = [hole.outline, *([hole.cover] if hole.cover else [])]
    line = start.line
    stretch = coffer.ceiling.stretch(line.direction), coffer.ceiling.stretch(line.left)

    def flat(point: Point) -> Spot:
        """Seen from below with the start side above: along it towards its first corner, and away from it."""
        return -line.along(point) * stretch[0], -line.offset(point) * stretch[1]

    spots = [flat(point) for ring in rings for point in ring]
    left, top = (min(one) - ROUND_IT for one in zip(*spots, strict=True))
    right, foot = (max(one) + ROUND_IT for one in zip(*spots, strict=True))

    def placed(ring: Sequence[Point]) -> tuple[Spot, ...]:
        return tuple((x - left, y - top) for x, y in (flat(point) for point in (*ring, ring[0])))

    size = (right - left, foot - top)
    box = shapely.box(0.0, 0.0, *size)
    strokes = [Stroke(points=placed(hole.outline), width=0.6, layer="room")]
    if hole.cover:
        strokes.append(Stroke(points=placed(hole.cover), width=0.3, dashed=True, layer="room"))
    labels: list[Text] = []
    for slat in slats:
        outline = placed(slat.outline)
        shown = shapely.intersection(shapely.Polygon(outline), box)
        if shown.is_empty:
            continue
        strokes.append(Stroke(points=outline, width=0.3, layer="wood"))
        beside = shapely.intersection(shown, shapely.LineString([(ROUND_IT / 2.0, 0.0), (ROUND_IT / 2.0, size[1])]))
        at = shapely.point_on_surface(shown) if beside.is_empty else shapely.centroid(beside)
        labels.append(Text(at=(at.x, at.y), text=slat.id, size=9.0, bold=True, anchor="centre", layer="wood"))
    labels += _sides(coffer, size)
    (x, y) = (flat(hole.centre)[0] - left, flat(hole.centre)[1] - top)
    strokes += [Stroke(points=((x - dx, y - dy), (x + dx, y + dy)), width=0.2) for dx, dy in ((8.0, 0.0), (0.0, 8.0))]
    shows = f"the hole in {hole.coffer}, seen from below" + (", its cover dashed" if hole.cover else "")
    return Template(name=hole.name, shows=shows, size=size, strokes=tuple(strokes), labels=tuple(labels))


def _sides(coffer: Coffer, size: Spot) -> Iterator[Text]:
    """Which way is which."""
    at, n = coffer.start_side, len(coffer.sides)
    yield Text(at=(size[0] / 2.0, 4.0), text=f"start side: {coffer.sides[at].against}", size=8.0, anchor="centre")
    yield Text(at=(size[0] - 2.0, 10.0), text=f"to {coffer.sides[at - 1].against}", size=8.0, anchor="right")
    yield Text(at=(2.0, 10.0), text=f"to {coffer.sides[(at + 1) % n].against}", size=8.0)
