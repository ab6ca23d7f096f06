"""Bodies of one shape: which of them are others moved, and by what, so that the shape is told once."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from lacunar.scene import Body

Doubles = npt.NDArray[np.float64]

NEAR = 0.0001
"""Metres by which a vertex of a moved shape may lie off its own place: half of what a quantised one may."""

SAME_GRAIN = 0.0005
"""Of an image's side by which a place in it may be off: half a pixel of a thousand."""


@dataclass(frozen=True, slots=True)
class Placed:
    """One body as its pattern moved.

    Attributes:
        body: itself.
        rows: shape (3, 4): its place is this times the pattern's own (x, y, z, 1).
        grain: along each side of the image a factor and a shift from the pattern's place in it, ends left as they are.
    """

    body: Body
    rows: Doubles
    grain: tuple[float, float, float, float]


@dataclass(slots=True)
class Pattern:
    """One shape, in its own place round 0, and all bodies that have it.

    Attributes:
        first: the body that it is taken from.
        points: shape (n, 3), metres.
        fixed: shape (n,): vertices whose place in the image is the same in all bodies, on end grain.
        placed: bodies, the first one among them.
    """

    first: Body
    points: Doubles
    fixed: npt.NDArray[np.bool_]
    placed: list[Placed] = field(default_factory=list[Placed])


def patterns_of(bodies: Iterable[Body]) -> tuple[Pattern, ...]:
    """Every shape among bodies of one material; one that only one body has is a pattern too."""
    found: dict[object, list[Pattern]] = {}
    for body in bodies:
        points = body.points.astype(float)
        alike = found.setdefault((len(points), body.faces.tobytes()), [])
        if not any(_joins(pattern, body, points) for pattern in alike):
            alike.append(_pattern(body, points))
    return tuple(pattern for group in found.values() for pattern in group)


def _pattern(body: Body, points: Doubles) -> Pattern:
    middle = points.mean(axis=0)
    fixed = np.abs(body.normals.astype(float) @ _along(points)) > END
    pattern = Pattern(body, points - middle, fixed)
    rows = np.column_stack([np.eye(3), middle])
    pattern.placed.append(Placed(body, rows, (1.0, 0.0, 1.0, 0.0)))
    return pattern


END = 0.5
"""Of a face's normal along its piece from where on it is an end, mitred ones too."""


def _along(points: Doubles) -> Doubles:
    """The level direction in which points reach farthest."""
    flat = points[:, :2] - points[:, :2].mean(axis=0)
    _, _, ways = np.linalg.svd(flat, full_matrices=False)
    return np.array([*ways[0], 0.0])


def _joins(pattern: Pattern, body: Body, points: Doubles) -> bool:
    rows = _moved(pattern.points, points)
    grain = None if rows is None else _turned(pattern, body)
    if rows is None or grain is None:
        return False
    pattern.placed.append(Placed(body, rows, grain))
    return True


def _moved(pattern: Doubles, points: Doubles) -> Doubles | None:
    """Turned about the plumb line, shifted, sheared along it as a sloping ceiling does; None where that is not all."""
    middle = points.mean(axis=0)
    there = points - middle
    (ax, ay), (bx, by) = pattern[:, :2].T, there[:, :2].T
    angle = np.arctan2(float(ax @ by - ay @ bx), float(ax @ bx + ay @ by))
    turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    if np.abs(pattern[:, :2] @ turn.T - there[:, :2]).max() > NEAR:
        return None
    rise = there[:, 2] - pattern[:, 2]
    slope = np.linalg.pinv(pattern[:, :2]) @ rise
    if np.abs(pattern[:, :2] @ slope - rise).max() > NEAR:
        return None
    return np.column_stack([np.vstack([np.column_stack([turn, [0.0, 0.0]]), [*slope, 1.0]]), middle])


def _turned(pattern: Pattern, body: Body) -> tuple[float, float, float, float] | None:
    """How its places in the image come from the pattern's; None where they do not."""
    mine, here, ends = body.uv.astype(float), pattern.first.uv.astype(float), pattern.fixed
    if np.abs(mine[ends] - here[ends]).max(initial=0.0) > SAME_GRAIN:
        return None
    found: list[float] = []
    for axis in (0, 1):
        x, y = here[~ends, axis], mine[~ends, axis]
        factor, shift = np.polyfit(x, y, 1) if np.ptp(x) > 1e-6 else (1.0, float(np.mean(y - x)))
        if np.abs(factor * x + shift - y).max(initial=0.0) > SAME_GRAIN:
            return None
        found += [float(factor), float(shift)]
    a, b, c, d = found
    return a, b, c, d


def shared(patterns: Sequence[Pattern], least: int) -> tuple[list[Pattern], list[Body]]:
    """Patterns that so many bodies have, and the bodies of the others."""
    often = [pattern for pattern in patterns if len(pattern.placed) >= least]
    rare = [placed.body for pattern in patterns if len(pattern.placed) < least for placed in pattern.placed]
    return often, rare
