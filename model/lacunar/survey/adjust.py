"""Weighted least squares of a network of distances: the numbers behind the room."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from lacunar.geometry import Point
from lacunar.survey.network import Network
from lacunar.survey.system import Array, System, equations, make_system

SETTLED = 1e-10
"""mm. Steps below it end the iteration: the rounding of doubles in a 25 m room is 4e-12."""

NEAR = 1e-3
"""mm. Steps below it leave the last digits to plain Gauss-Newton: sums of squares are too flat there to compare."""

MOST_ROUNDS = 500
"""Steps of one adjustment; only readings that do not fit take more than some twenty."""

NOTHING = 1e-6
"""A singular value that is a smaller share of the largest one is rounding."""

FIRM = 0.01
"""Least share of the smallest singular value in the largest one: with readings good to 2 mm, some corner would be free
by about 200 mm. Source: own choice; a hall of 30 m by 1 m with one diagonal has 0.12, an L without redundancy 0.07."""

UNCHECKED = 1e-6
"""A redundancy number below it is rounding: nothing else tells of that reading."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Adjusted:
    """Stations where the sum of squares is least, and what the readings say of each other.

    Attributes:
        points: of the stations, in their order.
        marks: name to its distance along its line, mm.
        sds: of each station's x and y, mm, as far as the readings' own standard deviations tell.
        lengths: adjusted distances, in the readings' order.
        redundancy: of each reading, 0 (nothing checks it) to 1.
        w: residual over its own standard deviation; None where nothing checks it.
        chi2: sum of squares of residuals over standard deviations.
        dof: readings more than needed; negative where some are missing.
    """

    points: tuple[Point, ...]
    marks: Mapping[str, float]
    sds: tuple[Point, ...]
    lengths: tuple[float, ...]
    redundancy: tuple[float, ...]
    w: tuple[float | None, ...]
    chi2: float
    dof: int


def adjust(
    network: Network, points: Sequence[Point], marks: Mapping[str, float], rounds: int = MOST_ROUNDS
) -> Adjusted:
    """Adjust from start values. A poor start may end in a false minimum: compare `chi2` from several.

    Args:
        network: readings and stations.
        points: start of each station; fixed ones stay.
        marks: start of each mark, its distance along its line.
        rounds: steps at most; readings that fit need few.
    """
    system = make_system(network)
    return _judged(network, system, _settled(system, unknowns(network, points, marks), rounds))


def freedom(network: Network, points: Sequence[Point], marks: Mapping[str, float], least: float) -> int:
    """Number of ways in which the figure can change its shape without any reading telling; fixed stations move too.

    Args:
        network: readings and stations.
        points: where the stations are taken to be.
        marks: distances of the marks along their lines.
        least: a singular value smaller than this share of the largest counts as none.
    """
    x = unknowns(network, points, marks)
    singular = _svd(equations(make_system(network), x)[1])[1]
    firm = int((singular > least * singular.max(initial=0.0)).sum())
    # Shifting the whole figure in two directions and turning it changes no shape.
    return x.size - 3 - firm


def unknowns(network: Network, points: Sequence[Point], marks: Mapping[str, float]) -> Array:
    """Coordinates of the stations and distances of the marks, in the network's order."""
    return np.array([*(c for point in points for c in point), *(marks[m] for m in network.marks)], dtype=np.float64)


def residual_shares(network: Network, points: Sequence[Point], marks: Mapping[str, float]) -> Array:
    """Which share of an error in one reading (column) shows up in the residual of another (row), both in their sds.

    The diagonal holds the redundancy numbers; shape (readings, readings), symmetrical.
    """
    system = make_system(network)
    slopes = equations(system, unknowns(network, points, marks))[1][:, system.free]
    u, s, _ = _svd(slopes)
    u = u[:, s > NOTHING * s.max(initial=0.0)]
    n = len(network.readings)
    return np.asarray(np.eye(n) - u[:n] @ u[:n].T, dtype=np.float64)


def _settled(system: System, x: Array, rounds: int) -> Array:
    """Levenberg-Marquardt, and the last digits by Gauss-Newton."""
    free = system.free
    misfit, slopes = equations(system, x)
    slopes = slopes[:, free]
    damping = 1e-3
    for _ in range(rounds):
        step = _damped_step(misfit, slopes, damping)
        trial = x.copy()
        trial[free] += step
        after, slopes_after = equations(system, trial)
        if float(after @ after) <= float(misfit @ misfit):
            x, misfit, slopes = trial, after, slopes_after[:, free]
            damping = max(damping / 10.0, 1e-12)
        else:
            damping *= 10.0
        if float(np.abs(step).max(initial=0.0)) < NEAR:
            break
    return _polished(system, x)


def _damped_step(misfit: Array, slopes: Array, damping: float) -> Array:
    normal = slopes.T @ slopes
    side = np.arange(len(normal))
    normal[side, side] += damping * (normal[side, side] + 1e-12)
    return np.asarray(np.linalg.solve(normal, -(slopes.T @ misfit)), dtype=np.float64)


def _polished(system: System, x: Array) -> Array:
    """Gauss-Newton while each step is less than half of the one before."""
    before = 2.0 * NEAR
    for _ in range(50):
        misfit, slopes = equations(system, x)
        step = np.asarray(np.linalg.lstsq(slopes[:, system.free], -misfit, rcond=NOTHING)[0], dtype=np.float64)
        size = float(np.abs(step).max(initial=0.0))
        if size > before / 2.0:
            break
        x = x.copy()
        x[system.free] += step
        if size < SETTLED:
            break
        before = size
    return x


def _judged(network: Network, system: System, x: Array) -> Adjusted:
    misfit, slopes = equations(system, x)
    u, s, vt = _svd(slopes[:, system.free])
    keep = s > NOTHING * s.max(initial=0.0)
    u, vt = u[:, keep], vt[keep]
    n = len(network.readings)
    redundancy = np.clip(1.0 - (u * u).sum(axis=1), 0.0, 1.0)[:n]
    variance = np.zeros(x.size)
    variance[system.free] = ((vt / s[keep, None]) ** 2).sum(axis=0)
    p = len(network.stations)
    return Adjusted(
        points=_pairs(x, p),
        marks={mark: float(t) for mark, t in zip(network.marks, x[2 * p :], strict=True)},
        sds=_pairs(np.sqrt(variance), p),
        lengths=tuple(r.value + float(m) * r.sd for r, m in zip(network.readings, misfit, strict=False)),
        redundancy=tuple(float(r) for r in redundancy),
        w=tuple(
            float(m) / float(np.sqrt(r)) if r > UNCHECKED else None for m, r in zip(misfit[:n], redundancy, strict=True)
        ),
        chi2=float(misfit @ misfit),
        dof=misfit.size - system.free.size,
    )


def _pairs(flat: Array, count: int) -> tuple[Point, ...]:
    return tuple((float(flat[2 * i]), float(flat[2 * i + 1])) for i in range(count))


def _svd(slopes: Array) -> tuple[Array, Array, Array]:
    u, s, vt = np.linalg.svd(slopes, full_matrices=False)
    return u, s, vt
