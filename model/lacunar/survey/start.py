"""Start values for the adjustment: shapes that the measurements suggest, best ones first."""

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from lacunar.geometry import Line, Point
from lacunar.survey.network import Network

MOST_TRACES = 200
"""Half-built shapes that are carried on: all of them up to a room of nine corners."""

HOPELESS = 100.0
"""A half-built shape goes when its squared misfit is so many times the best one's, and more than WAY_OFF's.
Source: own choice; one misread distance spoils the right shape less than that."""

WAY_OFF = 300.0
"""mm. A misfit that no shape is dropped for. Source: own choice."""

MOST_TURNED = 12
"""Rooms of right angles that are tried, the best closing ones first."""

MOST_CORNERS = 16
"""Right-angle patterns of more corners (8,008 of 16) are not listed."""

Shape = tuple[Point, ...]


def starts(network: Network) -> Iterator[Shape]:
    """Shapes to adjust from, each as a point per corner; none is turned or shifted into place yet."""
    yield from traced(network)
    yield from turned(network)
    yield _round(network)


def crossings(p: Point, from_p: float, q: Point, from_q: float) -> tuple[Point, ...]:
    """The points at given distances from two points; where the circles miss each other, the one between them."""
    base = math.dist(p, q)
    if base == 0.0:
        return ()
    line = Line.through(p, q)
    along = (base * base + from_p * from_p - from_q * from_q) / (2.0 * base)
    square = from_p * from_p - along * along
    if square <= 0.0:
        return (line.at(math.copysign(from_p, along)),)
    return line.at(along, math.sqrt(square)), line.at(along, -math.sqrt(square))


@dataclass(frozen=True, slots=True)
class _Trace:
    points: Mapping[str, Point]
    misfit: float


def traced(network: Network) -> Iterator[Shape]:
    """Corner by corner, each from two points already there, on both sides; the best fitting shapes first."""
    lengths = network.lengths()
    first = network.stations[0]
    second = next((s for s in network.stations[1:] if frozenset((first, s)) in lengths), None)
    if second is None:
        return
    traces = [_Trace({first: (0.0, 0.0), second: (lengths[frozenset((first, second))], 0.0)}, 0.0)]
    for _ in network.stations[2:]:
        corner, known = _next_corner(network, lengths, tuple(traces[0].points))
        if len(known) < 2:
            return
        grown = [_grown(network, lengths, trace, corner, known) for trace in traces]
        traces = sorted(itertools.chain.from_iterable(grown), key=lambda trace: trace.misfit)[:MOST_TRACES]
        if not traces:
            return
        limit = HOPELESS * traces[0].misfit + WAY_OFF**2
        traces = [trace for trace in traces if trace.misfit <= limit]
    for trace in traces:
        yield tuple(trace.points[s] for s in network.stations)


def _next_corner(
    network: Network, lengths: Mapping[frozenset[str], float], placed: Sequence[str]
) -> tuple[str, tuple[str, ...]]:
    """The corner that most placed points were measured to, and those points."""
    there = [*placed, *(m for m, wall in network.marks.items() if set(wall) <= set(placed))]
    open_corners = [s for s in network.stations if s not in placed]
    seen = {s: tuple(p for p in there if frozenset((p, s)) in lengths) for s in open_corners}
    best = max(open_corners, key=lambda s: len(seen[s]))
    return best, seen[best]


def _grown(
    network: Network, lengths: Mapping[frozenset[str], float], trace: _Trace, corner: str, known: Sequence[str]
) -> list[_Trace]:
    places = {name: _place(network, lengths, trace.points, name) for name in known}
    reach = {name: lengths[frozenset((name, corner))] for name in known}
    found: list[tuple[float, tuple[Point, ...]]] = []
    for p, q in itertools.combinations(known, 2):
        points = crossings(places[p], reach[p], places[q], reach[q])
        if points:
            found.append((_cut(points[0], places[p], places[q]), points))
    if not found:
        return []
    _, points = max(found)
    return [
        _Trace(
            {**trace.points, corner: point},
            trace.misfit + math.fsum((math.dist(point, places[n]) - reach[n]) ** 2 for n in known),
        )
        for point in points
    ]


def _place(network: Network, lengths: Mapping[frozenset[str], float], points: Mapping[str, Point], name: str) -> Point:
    if name in points:
        return points[name]
    start, end = network.marks[name]
    return Line.through(points[start], points[end]).at(lengths[frozenset((start, name))])


def _cut(point: Point, p: Point, q: Point) -> float:
    """Sine of the angle at which two tapes meet: the nearer to 1, the firmer the point."""
    a, b = math.dist(point, p), math.dist(point, q)
    if a == 0.0 or b == 0.0:
        return 0.0
    return abs((p[0] - point[0]) * (q[1] - point[1]) - (q[0] - point[0]) * (p[1] - point[1])) / (a * b)


def turned(network: Network) -> Iterator[Shape]:
    """Rooms of right angles only, clockwise, the best closing ones first."""
    n = len(network.stations)
    if n % 2 or n > MOST_CORNERS:
        return
    lengths = network.lengths()
    walls = [lengths.get(frozenset(pair)) for pair in network.walls]
    found: list[tuple[float, tuple[int, ...], Shape]] = []
    for lefts in itertools.combinations(range(n), (n - 4) // 2):
        miss, shape = _walked(walls, frozenset(lefts))
        found.append((miss, lefts, shape))
    yield from (shape for _, _, shape in sorted(found)[:MOST_TURNED])


_STEPS = ((1.0, 0.0), (0.0, -1.0), (-1.0, 0.0), (0.0, 1.0))


def _walked(walls: Sequence[float | None], lefts: frozenset[int]) -> tuple[float, Shape]:
    """How far a walk round the walls misses its start, and its corners; unread walls take up what they can."""
    heading = 0
    steps: list[Point] = []
    for i in range(len(walls)):
        if i:
            heading += -1 if i in lefts else 1
        steps.append(_STEPS[heading % 4])
    known = [wall if wall is not None else 0.0 for wall in walls]
    miss = 0.0
    for axis in (0, 1):
        gap = -math.fsum(wall * step[axis] for wall, step in zip(known, steps, strict=True))
        fills = [i for i, wall in enumerate(walls) if wall is None and steps[i][axis] * gap > 0.0]
        for i in fills:
            known[i] = abs(gap) / len(fills)
        miss += 0.0 if fills else abs(gap)
    spare = math.fsum(known) / len(known)
    x = y = 0.0
    shape: list[Point] = []
    for wall, step in zip((wall or spare for wall in known), steps, strict=True):
        shape.append((x, y))
        x, y = x + wall * step[0], y + wall * step[1]
    return miss, tuple(shape)


def _round(network: Network) -> Shape:
    """Corners on a circle, clockwise, with the walls as arcs."""
    lengths = network.lengths()
    fill = math.fsum(lengths.values()) / len(lengths)
    walls = [lengths.get(frozenset(pair), fill) for pair in network.walls]
    total = math.fsum(walls)
    radius = total / (2.0 * math.pi)
    angle = 0.0
    shape: list[Point] = []
    for wall in walls:
        shape.append((radius * math.cos(angle), radius * math.sin(angle)))
        angle -= 2.0 * math.pi * wall / total
    return tuple(shape)
