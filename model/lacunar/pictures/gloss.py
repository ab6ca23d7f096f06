"""How varnish smears what it reflects: a lobe by roughness, of which a window's share has a closed form.

A cosine lobe, stretched and tilted, stands for each lobe of the usual microfacet model (GGX); the light that comes
through a rectangle is then that of a matt surface under the rectangle turned back by the same stretch.
Source: E. Heitz, J. Dupuy, S. Hill, D. Neubauer, Real-time polygonal-light shading with linearly transformed cosines,
2016; visible normals: E. Heitz, Sampling the GGX distribution of visible normals, 2018. Their fitted tables are not
used: medians of the lobe give the stretch.
"""

from collections.abc import Iterator
from functools import lru_cache

import numpy as np
import numpy.typing as npt

Doubles = npt.NDArray[np.float64]

FLAT = 0.04
"""What varnish reflects when looked at square. Source: (1.5 - 1)^2 / (1.5 + 1)^2, a refractive index of 1.5."""

SAMPLES, ANGLES, DEGREE = 2048, 24, 6
"""Directions in a lobe, views looked from, and degree of the polynomial through them, which is 3 % off at most."""


def _spread() -> tuple[Doubles, Doubles]:
    """Evenly spread pairs in the unit square. Source: M. Roberts, the R2 sequence, 2018."""
    i = np.arange(SAMPLES, dtype=float) + 0.5
    return i * 0.7548776662466927 % 1.0, i * 0.5698402909980532 % 1.0


def _lobe(alpha: float, view: Doubles) -> tuple[Doubles, Doubles]:
    """Directions that a surface facing +z sends light from `view` to, (n, 3), and the weight of each."""
    first, second = _spread()
    bent = np.array([alpha * view[0], 0.0, view[2]])
    bent /= np.linalg.norm(bent)
    a, b = np.sqrt(first) * np.cos(2 * np.pi * second), np.sqrt(first) * np.sin(2 * np.pi * second)
    half = 0.5 * (1.0 + bent[2])
    b = (1.0 - half) * np.sqrt(1.0 - a * a) + half * b
    up = np.sqrt(np.maximum(0.0, 1.0 - a * a - b * b))
    aside = np.array([0.0, 1.0, 0.0])
    facet = a[:, None] * aside + b[:, None] * np.cross(bent, aside) + up[:, None] * bent
    facet = facet * np.array([alpha, alpha, 1.0])
    facet /= np.linalg.norm(facet, axis=1, keepdims=True)
    at = facet @ view
    out = 2.0 * at[:, None] * facet - view

    def hides(cosine: Doubles) -> Doubles:
        c = np.maximum(cosine, 1e-6)
        return 0.5 * np.sqrt(1.0 + alpha**2 * (1.0 / c**2 - 1.0)) - 0.5

    own = hides(view[2:])
    seen = (1.0 + own) / (1.0 + own + hides(out[:, 2])) * (out[:, 2] > 0)
    return out, seen * (FLAT + (1.0 - FLAT) * (1.0 - np.clip(at, 0.0, 1.0)) ** 5)


def _median(values: Doubles, weights: Doubles) -> float:
    order = np.argsort(values)
    total = np.cumsum(weights[order])
    return float(values[order][np.searchsorted(total, 0.5 * total[-1])])


def _stretch(directions: Doubles, weights: Doubles, middle: Doubles) -> Iterator[float]:
    """Median slope from the middle in the plane of the view and square to it."""
    ahead = np.maximum(directions @ middle, 1e-6)
    for axis in (np.array([middle[2], 0.0, -middle[0]]), np.array([0.0, 1.0, 0.0])):
        yield _median(np.abs(directions @ axis) / ahead, weights)


def cosine_lobe(rough: float, cosine: float) -> tuple[float, float, float, float]:
    """Stretch in the plane of the view and across it, tilt away from the viewer, and share of the light reflected.

    Args:
        rough: 0 mirror, 1 matt.
        cosine: of the angle between view and normal.
    """
    view = np.array([np.sqrt(1.0 - cosine * cosine), 0.0, cosine])
    directions, weights = _lobe(max(rough, 0.05) ** 2, view)
    middle = _middle(directions, weights)
    # The lobe's densest half says where it points: its tail is cut off by the surface.
    for _ in range(4):
        ahead = directions @ middle
        middle = _middle(directions, weights * (ahead >= _median(ahead, weights)))
    first, second = _spread()
    matt = np.stack([np.sqrt(first) * np.cos(2 * np.pi * second), np.sqrt(1.0 - first)], 1)
    usual = _median(np.abs(matt[:, 0]) / matt[:, 1], np.ones(SAMPLES))
    along, across = (slope / usual for slope in _stretch(directions, weights, middle))
    return along, across, float(np.arctan2(-middle[0], middle[2])), float(weights.mean())


def _middle(directions: Doubles, weights: Doubles) -> Doubles:
    mean = weights @ directions
    mean[1] = 0.0
    return mean / np.linalg.norm(mean)


@lru_cache(maxsize=32)
def lobe_code(rough: float) -> str:
    """A function for the graphics library: `vec4 lobe(float cosine)`, as `cosine_lobe`; a polynomial through it."""
    cosines = (np.arange(ANGLES) + 0.5) / ANGLES
    table = np.array([cosine_lobe(rough, float(c)) for c in cosines])
    # Roots even out what rises steeply towards a grazing view.
    rows = np.polynomial.polynomial.polyfit(cosines, np.sqrt(table), DEGREE)
    nested = ""
    for row in rows[::-1]:
        value = f"vec4({', '.join(f'{v:.6f}' for v in row)})"
        nested = f"{value} + c * ({nested})" if nested else value
    return f"vec4 lobe(float c) {{ vec4 root = {nested}; return root * root; }}\n"
