"""The equations of a network of distances: every misfit over its standard deviation, and how it changes."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from lacunar.survey.network import Network

Array = npt.NDArray[np.float64]
Index = npt.NDArray[np.intp]

SQUARE_SD = 2e-4
"""rad. Standard deviation of an assumed square corner: 0.8 mm over 4 m, so that readings give way to it.
Source: own choice; without redundancy the corner comes out square whatever this is."""

SPOT = 1e-9
"""mm. Two points nearer than this point nowhere."""


@dataclass(frozen=True, slots=True, kw_only=True)
class System:
    """A network as arrays. Places are the stations, then the marks; unknowns x and y of each station, then the marks.

    Attributes:
        ends: places of each reading's two ends, shape (readings, 2).
        values: of the readings, mm.
        sds: of the readings, mm.
        lines: the two stations of each mark's line, shape (marks, 2).
        squares: neighbour, corner, neighbour of each assumed square corner, shape (squares, 3).
        free: unknowns that are not fixed.
        slopes: of each place by the unknowns, shape (places, 2, unknowns); those of marks still without the stations.
    """

    ends: Index
    values: Array
    sds: Array
    lines: Index
    squares: Index
    free: Index
    slopes: Array


def make_system(network: Network) -> System:
    """Names become numbers, once for all iterations."""
    number = {name: i for i, name in enumerate((*network.stations, *network.marks))}
    p, m = len(network.stations), len(network.marks)
    held = [h for station in network.stations for h in network.fixed.get(station, (False, False))]
    slopes = np.zeros((p + m, 2, 2 * p + m))
    stations = np.arange(p)
    slopes[stations, 0, 2 * stations] = 1.0
    slopes[stations, 1, 2 * stations + 1] = 1.0
    return System(
        ends=_numbers([[number[e] for e in r.ends] for r in network.readings], 2),
        values=np.array([r.value for r in network.readings], dtype=np.float64),
        sds=np.array([r.sd for r in network.readings], dtype=np.float64),
        lines=_numbers([[number[e] for e in line] for line in network.marks.values()], 2),
        squares=_numbers([[number[e] for e in trio] for trio in network.squares], 3),
        free=np.flatnonzero(~np.array([*held, *(False for _ in network.marks)], dtype=bool)),
        slopes=slopes,
    )


def _numbers(rows: list[list[int]], width: int) -> Index:
    return np.array(rows, dtype=np.intp).reshape(-1, width)


def equations(system: System, x: Array) -> tuple[Array, Array]:
    """Misfits over their standard deviations, readings first, and their slopes by all unknowns."""
    points, slopes = _places(system, x)
    first, second = system.ends[:, 0], system.ends[:, 1]
    length, unit = _lengths(points[second] - points[first])
    misfits = (length - system.values) / system.sds
    rows = np.einsum("rk,rku->ru", unit / system.sds[:, None], slopes[second] - slopes[first])
    if not system.squares.size:
        return misfits, rows
    cosines, more = _squares(system, points, slopes)
    return np.concatenate([misfits, cosines / SQUARE_SD]), np.vstack([rows, more / SQUARE_SD])


def _lengths(away: Array) -> tuple[Array, Array]:
    """Lengths of vectors, and their directions; of none, x: any direction gets the iteration away from there."""
    length = np.hypot(away[:, 0], away[:, 1])
    none = length < SPOT
    unit = away / np.where(none, 1.0, length)[:, None]
    unit[none] = (1.0, 0.0)
    return length, unit


def _places(system: System, x: Array) -> tuple[Array, Array]:
    """Points of all places, and their slopes by the unknowns."""
    m = len(system.lines)
    p = len(system.slopes) - m
    points = x[: 2 * p].reshape(p, 2)
    if not m:
        return points, system.slopes
    along = x[2 * p :]
    first, second = system.lines[:, 0], system.lines[:, 1]
    length, unit = _lengths(points[second] - points[first])
    turning = (np.eye(2) - unit[:, :, None] * unit[:, None, :]) * (along / np.maximum(length, SPOT))[:, None, None]
    slopes = system.slopes.copy()
    slopes[p:] = slopes[first] + np.einsum("mij,mju->miu", turning, slopes[second] - slopes[first])
    marks = np.arange(m)
    slopes[p + marks, :, 2 * p + marks] += unit
    return np.vstack([points, points[first] + along[:, None] * unit]), slopes


def _squares(system: System, points: Array, slopes: Array) -> tuple[Array, Array]:
    """Cosine of each assumed square corner, and its slopes."""
    before, corner, after = system.squares.T
    length_b, unit_b = _lengths(points[before] - points[corner])
    length_a, unit_a = _lengths(points[after] - points[corner])
    cosine = (unit_b * unit_a).sum(axis=1)
    by_b = (unit_a - cosine[:, None] * unit_b) / np.maximum(length_b, SPOT)[:, None]
    by_a = (unit_b - cosine[:, None] * unit_a) / np.maximum(length_a, SPOT)[:, None]
    return cosine, np.einsum("sk,sku->su", by_b, slopes[before] - slopes[corner]) + np.einsum(
        "sk,sku->su", by_a, slopes[after] - slopes[corner]
    )
