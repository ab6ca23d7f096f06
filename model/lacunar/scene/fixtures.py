"""What hangs from the ceiling: a lamp by its kind, or a plate where the fixture is no light; and lamps that stand."""

import itertools
from collections.abc import Callable, Sequence

import numpy as np

from lacunar.geometry import Point, Ring
from lacunar.scene.shape import OFF, Doubles, Shape, surface

GLOBE = 130.0
"""mm, radius of the glass globe. Source: chosen for the pictures."""

HEADROOM = 2050.0
"""mm above the floor that a pendant stays clear of in the pictures. Source: chosen for the pictures."""


def _turned(profile: Sequence[tuple[float, float]], centre: Doubles, n: int) -> Shape:
    """A profile of (radius, height) turned about a plumb axis, from the top down for outward faces."""
    turn = np.arange(n) * (2 * np.pi / n)
    ring = np.stack([np.cos(turn), np.sin(turn)], 1)
    points: list[Doubles] = []
    normals: list[Doubles] = []
    faces: list[tuple[int, int, int]] = []
    for (ra, za), (rb, zb) in itertools.pairwise(profile):
        base = len(points) * n
        slope = np.array([za - zb, rb - ra])
        slope = slope / (np.linalg.norm(slope) or 1.0)
        for r, z in ((ra, za), (rb, zb)):
            points.append(np.column_stack([centre[:2] + r * ring, np.full(n, centre[2] + z)]))
            normals.append(np.column_stack([slope[0] * ring, np.full(n, slope[1])]))
        for k in range(n):
            j = (k + 1) % n
            faces += [(base + k, base + n + k, base + n + j), (base + k, base + n + j, base + j)]
    return surface(np.concatenate(points), faces, np.concatenate(normals))


def ball(centre: Doubles, radius: float, n: int) -> Shape:
    """A ball of n steps round."""
    turn = np.linspace(0, np.pi, n // 2 + 1)
    profile = [(radius * float(np.sin(t)), radius * float(np.cos(t))) for t in turn]
    smooth = _turned(profile, centre, n)
    normals = (smooth.points - centre) / radius
    return surface(smooth.points, smooth.faces, normals, probes=centre + normals * (radius + OFF))


def pendant(at: Point, below: float, canopy: float) -> tuple[Shape, Shape, Doubles, float]:
    """Metal, glass, the globe's middle and radius of a lamp under a ceiling face at height `below`."""
    radius = GLOBE if below > 2300.0 else 100.0
    drop = max(90.0, min(0.32 * (below - HEADROOM) + 120.0, below - HEADROOM - 2 * radius))
    top = np.array([at[0], at[1], below])
    metal = _turned(
        [
            (0.0, 0.0),
            (canopy / 2, 0.0),
            (canopy / 2, -8.0),
            (canopy / 2 - 14.0, -24.0),
            (9.0, -30.0),
            (7.0, -drop),
            (38.0, -drop - 6.0),
            (46.0, -drop - 34.0),
            (40.0, -drop - 40.0),
        ],
        top,
        32,
    )
    middle = top - np.array([0.0, 0.0, drop + 30.0 + radius * 0.9])
    return metal, ball(middle, radius, 40), middle, radius


def standing(at: Point) -> tuple[Shape, Shape, Doubles, float]:
    """Metal, glass, the globe's middle and radius of a lamp that stands on the floor."""
    radius = 110.0
    foot = [(0.0, 1340.0), (11.0, 1340.0), (11.0, 22.0), (120.0, 18.0), (130.0, 0.0)]
    middle = np.array([at[0], at[1], 1330.0 + radius])
    return _turned(foot, np.array([at[0], at[1], 0.0]), 24), ball(middle, radius, 32), middle, radius


def recessed(at: Point, below: float, canopy: float) -> tuple[Shape, Shape, Doubles, float]:
    """As `pendant`: a ring in the ceiling's face, its glass a little up in it."""
    top, wide, bore = np.array([at[0], at[1], below]), canopy / 2, 0.39 * canopy
    metal = _turned([(wide, 0.0), (wide, -3.0), (bore + 3.0, -5.0), (bore, -5.0), (bore, -1.0)], top, 32)
    # Its light leaves downwards: from so near the face hardly any falls on it.
    return metal, _turned([(bore, -2.0), (0.0, -2.0)], top, 32), top - np.array([0.0, 0.0, 16.0]), 12.0


def dome(at: Point, below: float, canopy: float) -> tuple[Shape, Shape, Doubles, float]:
    """As `pendant`: a rim under the ceiling's face with a shallow bowl of glass."""
    top, wide, rim = np.array([at[0], at[1], below]), max(canopy, 260.0) / 2, 16.0
    metal = _turned([(wide, 0.0), (wide, -rim), (wide - 6.0, -rim)], top, 40)
    deep, turn = 0.55 * wide, np.linspace(0, np.pi / 2, 9)
    bowl = [((wide - 6.0) * float(np.cos(t)), -rim - deep * float(np.sin(t))) for t in turn]
    return metal, _turned(bowl, top, 40), top - np.array([0.0, 0.0, rim + 0.6 * deep]), 0.5 * deep


LAMPS = {
    ("recess", "downlight", "down light", "spot", "can "): recessed,
    ("flush", "dome", "bowl", "panel", "bulkhead"): dome,
    ("light", "lamp", "box", "pendant", "chandelier", "lantern"): pendant,
}
"""By words in a fixture's kind, the first that fit, what a lamp looks like; on a box hangs a pendant."""


def lamp_of(kind: str) -> Callable[[Point, float, float], tuple[Shape, Shape, Doubles, float]] | None:
    """What makes the lamp that a fixture is; None where it is none."""
    words = f"{kind.lower()} "
    return next((make for names, make in LAMPS.items() if any(name in words for name in names)), None)


def plate(outline: Ring, below: float) -> Shape:
    """A shallow lid over a cut-out: a vent, a speaker, a detector."""
    ring = np.array(outline)
    middle = ring.mean(axis=0)
    size = float(np.max(np.hypot(*(ring - middle).T)))
    ring = middle + (ring - middle) * ((size + 8.0) / size)
    n = len(ring)
    lip, face = np.column_stack([ring, np.full(n, below)]), np.column_stack([ring, np.full(n, below - 9.0)])
    quads: list[Doubles] = []
    normals: list[Doubles] = []
    for k in range(n):
        j = (k + 1) % n
        d = (ring[j] - ring[k]) / np.hypot(*(ring[j] - ring[k]))
        quads += [face[[k, j]], lip[[j, k]]]
        normals += [np.tile([d[1], -d[0], 0.0], (4, 1))]
    side, base = np.concatenate(quads), 4 * n
    centre = np.array([[*middle, below - 9.0]])
    p = np.concatenate([side, face, centre])
    m = np.concatenate([*normals, np.tile([0.0, 0.0, -1.0], (n + 1, 1))])
    f = [(4 * k, 4 * k + 1, 4 * k + 2) for k in range(n)] + [(4 * k, 4 * k + 2, 4 * k + 3) for k in range(n)]
    f += [(base + (k + 1) % n, base + k, base + n) for k in range(n)]
    return surface(p, f, m)


def hollow_cylinder(start: Doubles, end: Doubles, radius: float, n: int = 14) -> Shape:
    """A rod between two points, closed: a pocket's bore or pilot for the x-ray."""
    axis = end - start
    axis = axis / np.linalg.norm(axis)
    side = np.cross(axis, [0.0, 0.0, 1.0])
    side = side / np.linalg.norm(side)
    other = np.cross(axis, side)
    turn = np.arange(n) * (2 * np.pi / n)
    out = np.cos(turn)[:, None] * side + np.sin(turn)[:, None] * other
    p = np.concatenate([start + radius * out, end + radius * out, [start], [end]])
    m = np.concatenate([out, out, [-axis], [axis]])
    f: list[tuple[int, int, int]] = []
    for k in range(n):
        j = (k + 1) % n
        f += [(k, j, n + j), (k, n + j, n + k), (j, k, 2 * n), (n + k, n + j, 2 * n + 1)]
    return surface(p, f, m, probes=p)
