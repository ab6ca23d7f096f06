"""What lies above the slats, for views that take the ceiling apart: the old finish as one plate, and the joists."""

import itertools
from collections.abc import Iterator

import numpy as np
import shapely

from lacunar.geometry import Line, Ring
from lacunar.layout import Layout, surface_over
from lacunar.scene.look import Look
from lacunar.scene.shape import Doubles, Shape, box, joined, sheet
from lacunar.scene.shell import ceiling_shape
from lacunar.survey import Room, ceiling_height, ceiling_rim


def plate(room: Room, look: Look) -> tuple[Shape, Doubles]:
    """The old ceiling as a plate of its own thickness, and its edges and folds as lines, mm."""
    ring, thick = tuple(reversed(room.points)), look.old_ceiling
    shapes = [ceiling_shape(room, ring, False, 400.0), ceiling_shape(room, ring, True, 400.0, thick)]
    rim = np.array(tuple(ceiling_rim(room).values()))[::-1]
    for a, b in zip(rim, np.roll(rim, -1, axis=0), strict=True):
        length = float(np.linalg.norm(b - a))
        shapes.append(sheet(a, (b - a) / length, [0.0, 0.0, 1.0], [0.0, length], [0.0, thick]))
    return joined(shapes), _edges(room, ring, thick)


def _edges(room: Room, ring: Ring, thick: float) -> Doubles:
    up = np.array([0.0, 0.0, thick])
    foot = np.array([[*p, ceiling_height(room, p)] for p in ring])
    lines = [np.stack([foot, foot + up], 1)]
    for piece, plane in surface_over(room, ring):
        low = np.array([[*p, plane.at(p)] for p in piece])
        lines += [np.stack([low + by, np.roll(low, -1, axis=0) + by], 1) for by in (0.0 * up, up)]
    return np.concatenate(lines)


def joists(room: Room, layout: Layout, look: Look) -> Iterator[tuple[str, Shape, Doubles]]:
    """Each joist's name, shape and edges, mm, cut off at the walls."""
    inside = shapely.Polygon(layout.outline)
    for n, line in enumerate(layout.joists.lines, start=1):
        cut = inside.intersection(shapely.LineString([line.at(-1e5), line.at(1e5)]))
        for piece in shapely.get_parts(cut):
            if isinstance(piece, shapely.LineString) and piece.length > 100.0:
                yield f"joist {n}", *_stick(room, line, piece, layout, look)


def _stick(room: Room, line: Line, piece: shapely.LineString, layout: Layout, look: Look) -> tuple[Shape, Doubles]:
    start, end = sorted(line.along((float(x), float(y))) for x, y in piece.coords)
    w, h = layout.joists.width, layout.joists.height
    first, half, last = (ceiling_height(room, line.at(at)) for at in (start, (start + end) / 2, end))
    # Straight and level: on a ceiling that sags it lies on its ends.
    foot = max(half, (first + last) / 2) + look.old_ceiling
    d, left = np.array([*line.direction, 0.0]), np.array([*line.left, 0.0])
    origin = np.array([*line.at(start, -w / 2), foot])
    axes = np.array([d, left, [0.0, 0.0, 1.0]])
    ways = itertools.product((0, 1), repeat=3)
    corners = [origin + a * (end - start) * d + b * w * left + np.array([0, 0, c * h]) for a, b, c in ways]
    pairs = [(0, 1), (2, 3), (4, 5), (6, 7), (0, 2), (1, 3), (4, 6), (5, 7), (0, 4), (1, 5), (2, 6), (3, 7)]
    edges = np.array([[corners[i], corners[j]] for i, j in pairs])
    return box(origin, axes, (end - start, w, h), 500.0), edges
