"""Triangles in millimetres with the probes that light them."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from lacunar.scene.types import Indices

Doubles = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """Triangles in mm with what the light needs.

    Attributes:
        points: (n, 3).
        faces: (m, 3), counter-clockwise from outside.
        normals: (n, 3), unit.
        uv: (n, 2).
        probes: (k, 3): where light is sampled, a little off the surface.
        probe_normals: (k, 3).
        lit_by: (n, 2): the two probes whose mean light a vertex takes.
        share: (n,): of that light.
    """

    points: Doubles
    faces: Indices
    normals: Doubles
    uv: Doubles
    probes: Doubles
    probe_normals: Doubles
    lit_by: Indices
    share: Doubles


OFF = 3.0
"""mm. Probes stand so far off their surface: embree works in single precision (about 1e-3 mm in a room of 10 m)."""


def surface(
    points: Doubles,
    faces: npt.ArrayLike,
    normals: Doubles,
    *,
    probes: Doubles | None = None,
    uv: Doubles | None = None,
) -> Shape:
    """Triangles whose vertices are lit by a probe each; without `probes` they stand off the surface at the vertices."""
    own = np.arange(len(points), dtype=np.int32)
    return Shape(
        points=points,
        faces=np.asarray(faces, dtype=np.int32),
        normals=normals,
        uv=np.zeros((len(points), 2)) if uv is None else uv,
        probes=points + OFF * normals if probes is None else probes,
        probe_normals=normals,
        lit_by=np.stack([own, own], 1),
        share=np.ones(len(points)),
    )


def joined(shapes: Sequence[Shape]) -> Shape:
    """Several shapes as one."""
    n = np.cumsum([0, *(len(s.points) for s in shapes)])
    k = np.cumsum([0, *(len(s.probes) for s in shapes)])
    together = {
        name: np.concatenate([getattr(s, name) for s in shapes])
        for name in ("points", "normals", "uv", "probes", "probe_normals", "share")
    }
    return Shape(
        faces=np.concatenate([s.faces + n[i] for i, s in enumerate(shapes)]).astype(np.int32),
        lit_by=np.concatenate([s.lit_by + k[i] for i, s in enumerate(shapes)]).astype(np.int32),
        **together,
    )


def sheet(
    origin: npt.ArrayLike,
    across: npt.ArrayLike,
    up: npt.ArrayLike,
    xs: npt.ArrayLike,
    ys: npt.ArrayLike,
    keep: npt.NDArray[np.bool_] | None = None,
    scale: float = 1000.0,
) -> Shape:
    """A flat rectangle of cells at `xs` and `ys` along two unit vectors; its normal is across x up.

    Args:
        origin: where x = y = 0, mm.
        across: unit vector.
        up: unit vector.
        xs: cell borders, rising.
        ys: cell borders, rising.
        keep: which cells are there, shape (len(ys) - 1, len(xs) - 1); None for all.
        scale: mm for one turn of the texture.
    """
    x, y = np.asarray(xs, dtype=float), np.asarray(ys, dtype=float)
    o, a, u = (np.asarray(v, dtype=float) for v in (origin, across, up))
    normal = np.cross(a, u)
    gx, gy = np.meshgrid(x, y)
    points = o + gx.reshape(-1, 1) * a + gy.reshape(-1, 1) * u
    # Corners are sampled a little inside, or half of their rays would start in the neighbouring wall.
    px, py = _inside(gx, x), _inside(gy, y)
    probes = o + px.reshape(-1, 1) * a + py.reshape(-1, 1) * u + OFF * normal
    i = np.arange(len(points)).reshape(gx.shape)
    cells = np.stack([i[:-1, :-1], i[:-1, 1:], i[1:, 1:], i[1:, :-1]], -1)
    quads = cells[keep] if keep is not None else cells.reshape(-1, 4)
    faces = np.concatenate([quads[:, [0, 1, 2]], quads[:, [0, 2, 3]]])
    uv = np.stack([gx.ravel(), -gy.ravel()], 1) / scale
    return surface(points, faces, np.broadcast_to(normal, points.shape), probes=probes, uv=uv)


def _inside(grid: Doubles, borders: Doubles) -> Doubles:
    margin = min(8.0, 0.2 * float(borders[-1] - borders[0]))
    return np.clip(grid, borders[0] + margin, borders[-1] - margin)


def splits(start: float, end: float, step: float) -> Doubles:
    """Evenly spread borders, no cell longer than `step`."""
    return np.linspace(start, end, max(1, int(np.ceil((end - start) / step - 1e-9))) + 1)


def box(
    origin: npt.ArrayLike,
    axes: npt.ArrayLike,
    size: tuple[float, float, float],
    step: float = 400.0,
    open_sides: Sequence[int] = (),
) -> Shape:
    """An upright or lying box.

    Args:
        origin: the corner at which all three lengths start, mm.
        axes: three unit vectors, right-handed, shape (3, 3).
        size: lengths along them.
        step: longest cell.
        open_sides: sides left out because nothing sees them: 0 and 1 across the first axis (near, far), 2 and 3 the
            second, 4 and 5 the third.
    """
    o, a = np.asarray(origin, dtype=float), np.asarray(axes, dtype=float)
    shapes: list[Shape] = []
    for axis in range(3):
        u, v = (axis + 1) % 3, (axis + 2) % 3
        us, vs = splits(0, size[u], step), splits(0, size[v], step)
        if 2 * axis not in open_sides:
            shapes.append(sheet(o, a[v], a[u], vs, us))
        if 2 * axis + 1 not in open_sides:
            shapes.append(sheet(o + size[axis] * a[axis], a[u], a[v], us, vs))
    return joined(shapes)
