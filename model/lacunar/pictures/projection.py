"""Where a point of the scene lies in a picture."""

import numpy as np
import numpy.typing as npt

from lacunar.scene import Viewpoint, vector

Doubles = npt.NDArray[np.float64]


def _axes(camera: Viewpoint) -> tuple[Doubles, Doubles, Doubles]:
    eye, towards, up = (np.array(v, dtype=float) for v in (camera.eye, camera.towards, camera.up))
    forward = towards - eye
    forward /= np.linalg.norm(forward)
    right = np.cross(forward, up)
    right /= np.linalg.norm(right)
    return right, np.cross(right, forward), forward


def project(camera: Viewpoint, points: npt.ArrayLike, size: tuple[int, int]) -> Doubles:
    """Pixels (x right, y down) and distance ahead of points, shape (n, 3)."""
    width, height = size
    right, up, forward = _axes(camera)
    step = np.asarray(points, dtype=float).reshape(-1, 3) - np.array(camera.eye)
    ahead = step @ forward
    if camera.parallel:
        x, y = step @ right / (camera.parallel * width / height), step @ up / camera.parallel
    else:
        depth = np.maximum(ahead, 1e-6) * camera.half_width
        x, y = step @ right / depth, step @ up / (depth * height / width)
    # The shift moves the frame, so what is in it moves the other way.
    x, y = x - camera.shift[0], y - camera.shift[1]
    return np.stack([(x + 1) / 2 * width, (1 - y) / 2 * height, ahead], 1)


def directions(camera: Viewpoint, size: tuple[int, int]) -> Doubles:
    """Where the middle of each pixel looks to from an eye, unit, shape (height, width, 3); `project` the other way."""
    width, height = size
    right, up, forward = _axes(camera)
    x = (2 * (np.arange(width) + 0.5) / width - 1 + camera.shift[0]) * camera.half_width
    y = (1 - 2 * (np.arange(height) + 0.5) / height + camera.shift[1]) * camera.half_width * height / width
    out = forward + x[None, :, None] * right + y[:, None, None] * up
    return out / np.linalg.norm(out, axis=2, keepdims=True)


def framed(
    points: npt.ArrayLike, towards: npt.ArrayLike, aspect: float, margin: tuple[float, float, float, float]
) -> Viewpoint:
    """A parallel view along a direction that just holds all points; margins left, right, top, bottom as shares."""
    p = np.asarray(points, dtype=float)
    d = np.asarray(towards, dtype=float)
    d = d / np.linalg.norm(d)
    middle = (p.min(axis=0) + p.max(axis=0)) / 2
    probe = Viewpoint(name="", eye=vector(middle - 60 * d), towards=vector(middle), parallel=1.0)
    right, up, _ = _axes(probe)
    x, y = (p - middle) @ right, (p - middle) @ up
    left, right_, top, bottom = margin
    half = max((x.max() - x.min()) / 2 / aspect / (1 - left - right_), (y.max() - y.min()) / 2 / (1 - top - bottom))
    cx = (x.max() + x.min()) / 2 + half * aspect * (right_ - left)
    cy = (y.max() + y.min()) / 2 + half * (top - bottom)
    centre = middle + cx * right + cy * up
    return Viewpoint(name="", eye=vector(centre - 60 * d), towards=vector(centre), parallel=float(half))
