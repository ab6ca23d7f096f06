"""Smooth random fields that repeat without a seam, made by small matrix products."""

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float32]


def f32(values: npt.ArrayLike) -> Floats:
    """Values in single precision, which is all that pictures need."""
    return np.asarray(values, dtype=np.float32)


def spline(n: int, knots: int) -> Floats:
    """Weights that carry `knots` values on a circle to `n` places on it, shape (n, knots).

    Uniform cubic B-spline: smooth, and a product with it costs a thousandth of a call per pixel.
    """
    at = np.arange(n) * (knots / n)
    first = np.floor(at).astype(int)
    t = at - first
    weights = ((1 - t) ** 3, 3 * t**3 - 6 * t**2 + 4, -3 * t**3 + 3 * t**2 + 3 * t + 1, t**3)
    out = np.zeros((n, knots), dtype=np.float32)
    for k, weight in enumerate(weights):
        np.add.at(out, (np.arange(n), (first + k - 1) % knots), weight / 6)
    return out


def field(rng: np.random.Generator, shape: tuple[int, int], knots: tuple[int, int]) -> Floats:
    """A field of the given shape with about unit spread, `knots` bumps down and across, seamless both ways."""
    down, across = (max(4, k) for k in knots)
    rows, columns = shape
    grid = rng.standard_normal((down, across)).astype(np.float32)
    # B-spline weights flatten white noise: 1.5 a side brings the spread back to about one.
    wide = grid if across >= columns else grid @ (f32(spline(columns, across).T * 1.5))
    wide = wide[:, :columns]
    return f32(wide if down >= rows else f32(spline(rows, down) * 1.5) @ wide)


def wander(rng: np.random.Generator, n: int, knots: int) -> Floats:
    """One seamless line of `n` values with about unit spread."""
    values = rng.standard_normal(max(4, knots)).astype(np.float32)
    return f32(f32(spline(n, max(4, knots)) * 1.5) @ values)


def smooth(low: float, high: float, x: Floats) -> Floats:
    """0 below `low`, 1 above `high`, smooth between; falls where `low` is the greater."""
    t = np.clip((x - np.float32(low)) * np.float32(1.0 / (high - low)), 0, 1)
    return f32(t * t * (3 - 2 * t))
