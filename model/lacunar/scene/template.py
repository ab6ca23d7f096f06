"""The template of a stick: where its vertices and light probes stand along, across and up a piece with four corners.

Sections run from the right edge to the left one seen along the piece; they are repeated at every stop along it.
"""

import itertools
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from lacunar.scene.types import Indices

Doubles = npt.NDArray[np.float64]
BOTTOM, RIGHT, LEFT, RIGHT_ARRIS, LEFT_ARRIS, TOP, START, END = range(8)


@dataclass(frozen=True, slots=True)
class Template:
    """Vertices by stop, share across (0 right, 1 left), inset in arrises, share of height, arrises up, and face."""

    stop: Indices
    across: Doubles
    inset: Doubles
    height: Doubles
    raised: Doubles
    group: Indices
    faces: Indices
    probe_stop: Indices
    probe_across: Doubles
    probe_height: Doubles
    probe_group: Indices
    lit_by: Indices
    share: Doubles


def stops(length: float, step: float) -> Doubles:
    """Fractions of a length where it is cut for the light: close together at the ends, where shadows are."""
    near = [d for d in (0.0, 30.0, 80.0, 160.0) if d < 0.4 * length]
    first, last = near[-1], length - near[-1]
    n = max(1, round((last - first) / step))
    middle = np.linspace(first, last, n + 1)
    return np.concatenate([near[:-1], middle, [length - d for d in reversed(near[:-1])]]) / length


Strip = tuple[list[tuple[float, float, float, float]], int, list[tuple[int, int, float]]]
"""Quads side by side: across, inset, height and raised of their columns; their face; the two probes of each column
with their share of light."""


@lru_cache(maxsize=256)
def template(n: int, columns: tuple[float, ...], rows: tuple[float, ...], slat: bool) -> Template:
    """Sections from right to left at `columns`, up the sides at `rows`, at `n` stops.

    A slat is lit from below alone: its sides take what its underside has, the less the deeper in the gap.
    """
    nc, nr = len(columns), len(rows)
    right, left = nc, nc + nr  # probe columns: bottom, then right side, then left side
    bottom = [(c, 1.0 if c == 0 else -1.0 if c == 1 else 0.0, 0.0, 0.0) for c in columns]
    # Nothing but the gap's own little light reaches a slat's sides; it dies within the board's thickness.
    side = [0.5 * (1 - h) ** 2 + 0.02 if slat else 1.0 for h in rows]
    pairs_r = [(0, 0, s) if slat else (right + i, right + i, s) for i, s in enumerate(side)]
    pairs_l = [(nc - 1, nc - 1, s) if slat else (left + i, left + i, s) for i, s in enumerate(side)]
    edge_r = [(0, 0 if slat else right, 0.85 if slat else 1.0)] * 2
    edge_l = [(nc - 1, nc - 1 if slat else left, 0.85 if slat else 1.0)] * 2
    strips: list[Strip] = [
        (bottom, BOTTOM, [(i, i, 1.0) for i in range(nc)]),
        ([(0.0, 0.0, 0.0, 1.0), (0.0, 1.0, 0.0, 0.0)], RIGHT_ARRIS, edge_r),
        ([(1.0, -1.0, 0.0, 0.0), (1.0, 0.0, 0.0, 1.0)], LEFT_ARRIS, edge_l),
        ([(0.0, 0.0, h, 1.0 - h) for h in reversed(rows)], RIGHT, pairs_r[::-1]),
        ([(1.0, 0.0, h, 1.0 - h) for h in rows], LEFT, pairs_l),
        ([(1.0, 0.0, 1.0, 0.0), (0.0, 0.0, 1.0, 0.0)], TOP, [(0, 0, 0.02)] * 2),
    ]
    return _assemble(strips, n, columns, rows, slat)


def _assemble(strips: list[Strip], n: int, columns: tuple[float, ...], rows: tuple[float, ...], slat: bool) -> Template:
    table = np.array([(*place, group) for places, group, _ in strips for place in places])
    lit = np.array([pair for _, _, pairs in strips for pair in pairs])
    firsts = np.cumsum([0, *(len(places) for places, _, _ in strips)])
    quads = np.array([(i, i + 1) for a, b in itertools.pairwise(firsts) for i in range(a, b - 1)])
    m, k = len(table), len(columns) + (0 if slat else 2 * len(rows))
    stop = np.repeat(np.arange(n), m)
    at = (np.arange(n - 1) * m)[:, None]
    a, b = (at + quads[:, 0]).ravel(), (at + quads[:, 1]).ravel()
    faces = np.concatenate([np.stack([a, b, b + m], 1), np.stack([a, b + m, a + m], 1)])
    ends = np.array([(0.0, 1, 0, 0), (0, 0, 0, 1), (0, 0, 1, 0), (1, 0, 1, 0), (1, 0, 0, 1), (1, -1.0, 0, 0)])
    fan = np.array([(0, 1, 5), (1, 4, 5), (1, 2, 4), (2, 3, 4)])
    parts = [table[np.tile(np.arange(m), n)], np.c_[ends, np.full(6, START)], np.c_[ends, np.full(6, END)]]
    full = np.concatenate(parts)
    lit_by = np.concatenate(
        [
            (lit[:, :2][None] + (np.arange(n) * k)[:, None, None]).reshape(-1, 2),
            np.zeros((6, 2)),
            np.full((6, 2), (n - 1) * k),
        ]
    )
    share = np.concatenate([np.tile(lit[:, 2], n), np.full(12, 0.05 if slat else 0.6)])
    probe = [(c, 0.0, BOTTOM) for c in columns]
    if not slat:
        probe += [(0.0, h, RIGHT) for h in rows] + [(1.0, h, LEFT) for h in rows]
    across, height, group = (np.tile(np.array(column, dtype=float), n) for column in zip(*probe, strict=True))
    return Template(
        stop=np.concatenate([stop, np.zeros(6), np.full(6, n - 1)]).astype(np.int32),
        across=full[:, 0],
        inset=full[:, 1],
        height=full[:, 2],
        raised=full[:, 3],
        group=full[:, 4].astype(np.int32),
        faces=np.concatenate([faces, fan + n * m, fan[:, ::-1] + n * m + 6]).astype(np.int32),
        probe_stop=np.repeat(np.arange(n), k).astype(np.int32),
        probe_across=across,
        probe_height=height,
        probe_group=group.astype(np.int32),
        lit_by=lit_by.astype(np.int32),
        share=share,
    )
