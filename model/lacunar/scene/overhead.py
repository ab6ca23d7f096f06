"""What lies above the slats, for views that take the ceiling apart: the old finish as one plate, and the joists."""

from collections.abc import Iterator

import numpy as np
import shapely

from lacunar.geometry import Line, Plane, Ring
from lacunar.layout import Layout
from lacunar.scene.look import Look
from lacunar.scene.shape import Doubles, Shape, box, joined, sheet
from lacunar.scene.shell import flat_shape


def plate(layout: Layout, look: Look) -> tuple[Shape, Doubles]:
    """The old ceiling as a plate of its own thickness, and its edges as lines, mm."""
    ring, low, high = layout.outline, layout.ceiling, layout.ceiling.lifted(look.old_ceiling)
    shapes = [flat_shape(ring, low, False, 400.0), flat_shape(ring, high, True, 400.0)]
    for a, b in zip(ring, ring[1:] + ring[:1], strict=True):
        d = np.array([b[0] - a[0], b[1] - a[1], 0.0])
        length = float(np.linalg.norm(d))
        shapes.append(sheet([*a, low.at(a)], d / length, [0.0, 0.0, 1.0], [0.0, length], [0.0, look.old_ceiling]))
    return joined(shapes), _edges(ring, low, high)


def _edges(ring: Ring, low: Plane, high: Plane) -> Doubles:
    bottom = np.array([[*p, low.at(p)] for p in ring])
    top = np.array([[*p, high.at(p)] for p in ring])
    rings = [np.stack([e, np.roll(e, -1, axis=0)], 1) for e in (bottom, top)]
    return np.concatenate([*rings, np.stack([bottom, top], 1)])


def joists(layout: Layout, look: Look) -> Iterator[tuple[str, Shape, Doubles]]:
    """Each joist's name, shape and edges, mm, cut off at the walls."""
    room = shapely.Polygon(layout.outline)
    for n, line in enumerate(layout.joists.lines, start=1):
        cut = room.intersection(shapely.LineString([line.at(-1e5), line.at(1e5)]))
        for piece in shapely.get_parts(cut):
            if isinstance(piece, shapely.LineString) and piece.length > 100.0:
                yield f"joist {n}", *_stick(line, piece, layout, look)


def _stick(line: Line, piece: shapely.LineString, layout: Layout, look: Look) -> tuple[Shape, Doubles]:
    start, end = sorted(line.along((float(x), float(y))) for x, y in piece.coords)
    w, h = layout.joists.width, look.joist
    foot = layout.ceiling.at(line.at((start + end) / 2)) + look.old_ceiling
    d, left = np.array([*line.direction, 0.0]), np.array([*line.left, 0.0])
    origin = np.array([*line.at(start, -w / 2), foot])
    axes = np.array([d, left, [0.0, 0.0, 1.0]])
    corners = [
        origin + a * (end - start) * d + b * w * left + np.array([0, 0, c * h])
        for a in (0, 1)
        for b in (0, 1)
        for c in (0, 1)
    ]
    pairs = [(0, 1), (2, 3), (4, 5), (6, 7), (0, 2), (1, 3), (4, 6), (5, 7), (0, 4), (1, 5), (2, 6), (3, 7)]
    edges = np.array([[corners[i], corners[j]] for i, j in pairs])
    return box(origin, axes, (end - start, w, h), 500.0), edges
