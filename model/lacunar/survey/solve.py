"""From measurements to the room: corners adjusted, turned into the plan's frame, with every reading's misfit."""

import math
from collections.abc import Sequence

import numpy as np

from lacunar.config import Config
from lacunar.geometry import Line, Point, Ring, signed_area
from lacunar.survey.adjust import FIRM, Adjusted, adjust, freedom, residual_shares
from lacunar.survey.heights import best_plane, corner_heights, middle, with_marks
from lacunar.survey.misread import blame, named
from lacunar.survey.missing import is_rigid, not_enough, with_squares
from lacunar.survey.network import Network, in_order, read_network, sorting
from lacunar.survey.refuse import CLOSES, no_fit, no_room, refuse_impossible
from lacunar.survey.reliability import smallest_told
from lacunar.survey.room import Measured, Room
from lacunar.survey.shape import are_inside, is_simple, turns
from lacunar.survey.start import mean_lengths, starts
from lacunar.survey.unfold import unfolded

MOST_STARTS = 8
"""Start shapes that are adjusted, the likeliest first."""

SAME_SHAPE = 50.0
"""mm. A start whose corners all lie nearer than this to a shape already adjusted ends there too.
Source: own choice; folding the smallest alcove moves a corner further."""

KNOT = 100.0
"""A figure with crossing walls that fits so many times better than any room: the corners are lettered wrongly, or two
distances were swapped. Source: own choice; a single misread distance does not fit a crossing figure at all."""

USUAL_TURN = math.radians(45.0)
USUAL_TURN_SD = math.radians(5.0)
"""Walls meet at multiples of 45 degrees, give or take 5: decides between shapes that fit the distances equally well.
Source: common practice, no source."""


def solve_survey(config: Config) -> Room:
    """Adjust the measurements to one room.

    A quadrilateral without a diagonal is taken as square at A (three walls: at the two corners between them; two walls:
    a rectangle). Everything else is weighted least squares over all distances, the ones of marks from their corners
    too. The order of the measurements does not matter.

    Raises:
        SurveyError: a triangle is impossible, distances are missing, or nothing fits.
    """
    network = in_order(read_network(config))
    refuse_impossible(network, config)
    network, adjusted = _determined(network, config)
    if adjusted.dof == 0 and adjusted.chi2 > CLOSES:
        raise no_fit(network, adjusted, config)
    return _room(config, network, adjusted)


def _determined(network: Network, config: Config) -> tuple[Network, Adjusted]:
    """The shape that fits best, with corners assumed as square where the distances leave them free."""
    found: Adjusted | None = None
    for tried in (network, with_squares(network)):
        if tried is None or not is_rigid(tried):
            continue
        found = _best_shape(tried, config)
        if freedom(tried, found.points, found.marks, FIRM) == 0:
            return tried, found
        if tried.squares and found.chi2 > CLOSES:
            raise no_fit(tried, found, config)
    raise not_enough(network, config, found.points if found else None)


def _best_shape(network: Network, config: Config) -> Adjusted:
    """Adjust from several starts; the room that most tapes stay inside, then the one that fits best.

    Raises:
        SurveyError: walls cross in every shape.
    """
    found: list[Adjusted] = []
    for shape in _likeliest_first(network):
        if any(_is_near(shape, adjusted.points) for adjusted in found):
            continue
        if found and found[0].chi2 <= KNOT and _flaws(network, shape) > _flaws(network, found[0].points):
            continue
        found.append(_adjusted_from(network, shape))
    rooms = [adjusted for adjusted in found if _is_room(adjusted.points)]
    knots = [adjusted for adjusted in found if not _is_room(adjusted.points)]
    best = min(rooms, key=lambda adjusted: _unlikely(network, adjusted.points, adjusted.chi2), default=None)
    knot = min((adjusted.chi2 for adjusted in knots), default=math.inf)
    if best is None or best.chi2 > KNOT * (knot + 1.0):
        raise no_room(config)
    return best if best.chi2 <= KNOT else _unfolded(network, best)


def _unfolded(network: Network, best: Adjusted) -> Adjusted:
    """A room that does not fit may be folded: the likelier one of it and what unfolding makes of it."""
    other = unfolded(network, best)
    if not _is_room(other.points) or signed_area(other.points) > 0.0:
        return best
    return min((best, other), key=lambda adjusted: _unlikely(network, adjusted.points, adjusted.chi2))


def _adjusted_from(network: Network, shape: Sequence[Point]) -> Adjusted:
    """Adjust, and turn over what came out as the room's mirror image: distances cannot tell the two apart."""
    marks = {mark: mean_lengths(network)[frozenset((wall[0], mark))] for mark, wall in network.marks.items()}
    adjusted = adjust(network, shape, marks)
    if signed_area(adjusted.points) > 0.0:
        mirrored = [(x, -y) for x, y in adjusted.points]
        adjusted = adjust(network, mirrored, adjusted.marks)
    return adjusted


def _framed(shape: Ring) -> Ring:
    """First corner at the origin, where the network holds it, second on the x axis, clockwise."""
    line = Line.through(shape[0], shape[1])
    side = 1.0 if signed_area(shape) < 0.0 else -1.0
    return tuple((line.along(point), side * line.offset(point)) for point in shape)


def _is_near(shape: Ring, other: Ring) -> bool:
    return all(math.dist(p, q) <= SAME_SHAPE for p, q in zip(shape, other, strict=True))


def _likeliest_first(network: Network) -> list[Ring]:
    shapes = sorted(
        filter(_has_walls, starts(network)), key=lambda shape: _unlikely(network, shape, _misfit(network, shape))
    )
    return [_framed(shape) for shape in shapes[:MOST_STARTS]]


def _misfit(network: Network, shape: Ring) -> float:
    places = dict(zip(network.stations, shape, strict=True))
    for mark, (start, end) in network.marks.items():
        along = mean_lengths(network)[frozenset((start, mark))]
        places[mark] = Line.through(places[start], places[end]).at(along)
    return math.fsum(((math.dist(*(places[e] for e in r.ends)) - r.value) / r.sd) ** 2 for r in network.readings)


def _unlikely(network: Network, shape: Ring, misfit: float) -> tuple[tuple[bool, int], float]:
    """What speaks against a shape: walls that cross, tapes through walls, misfit and odd corners."""
    odd = math.fsum((_off_usual(turn) / USUAL_TURN_SD) ** 2 for turn in turns(shape))
    return _flaws(network, shape), misfit + odd


def _flaws(network: Network, shape: Ring) -> tuple[bool, int]:
    """Whether walls cross, and how many tapes would go through walls."""
    places = dict(zip(network.stations, shape, strict=True))
    across = [r.ends for r in network.readings if places.keys() >= set(r.ends) and not _is_wall(network, r.ends)]
    seen = are_inside(shape, [places[a] for a, _ in across], [places[b] for _, b in across])
    return not is_simple(shape), seen.count(False)


def _is_room(shape: Ring) -> bool:
    return _has_walls(shape) and is_simple(shape)


def _has_walls(shape: Ring) -> bool:
    return all(math.dist(a, b) >= 1.0 for a, b in zip(shape, shape[1:] + shape[:1], strict=True))


def _is_wall(network: Network, ends: tuple[str, str]) -> bool:
    apart = abs(network.stations.index(ends[0]) - network.stations.index(ends[1]))
    return apart in (1, len(network.stations) - 1)


def _off_usual(turn: float) -> float:
    return abs(turn - USUAL_TURN * round(turn / USUAL_TURN))


def _room(config: Config, network: Network, adjusted: Adjusted) -> Room:
    left = min(x for x, _ in adjusted.points)
    low = min(y for _, y in adjusted.points)
    points = tuple((x - left, y - low) for x, y in adjusted.points)
    places = dict(zip(network.stations, points, strict=True))
    heights = corner_heights(network.stations, config.room.heights or {}, config.room.height)
    x, y = middle(points)
    centre = (x, y, (config.room.heights or {}).get("centre", math.fsum(heights) / len(heights)))
    marks = {
        name: Line.through(*(places[c] for c in network.marks[name])).at(adjusted.marks[name])
        for name in read_network(config).marks
    }
    walls = {name: mark.wall for name, mark in config.room.marks.items() if name in config.room.heights}
    corners = {name: (*point, z) for name, point, z in zip(network.stations, points, heights, strict=True)}
    rim = with_marks(corners, {name: (wall, (*marks[name], config.room.heights[name])) for name, wall in walls.items()})
    return Room(
        corners=network.stations,
        points=points,
        heights=heights,
        centre=centre,
        marks=marks,
        measured=_measured(config, network, adjusted),
        dof=adjusted.dof,
        chi2=adjusted.chi2,
        ceiling=best_plane([*rim.values(), centre]),
        square_assumed=bool(network.squares),
        sd=dict(zip(network.stations, adjusted.sds, strict=True)),
        rim=rim if walls else {},
    )


def _measured(config: Config, network: Network, adjusted: Adjusted) -> tuple[Measured, ...]:
    """Every reading in the config's order; those of marks from their corners last."""
    suspect = named(blame(network, adjusted))
    numbers = sorting(read_network(config).readings)
    told = _told(network, adjusted)
    rows = zip(numbers, network.readings, adjusted.lengths, adjusted.w, adjusted.redundancy, strict=True)
    done = {
        number: Measured(
            between=reading.name,
            read=reading.value,
            adjusted=length,
            residual=length - reading.value,
            sd=reading.sd,
            w=w,
            suspect=place == suspect,
            redundancy=redundancy,
            finds=told[place][0],
            names=told[place][1],
        )
        for place, (number, reading, length, w, redundancy) in enumerate(rows)
    }
    return tuple(done[number] for number in sorted(done))


def _told(network: Network, adjusted: Adjusted) -> list[tuple[float | None, float | None]]:
    """Least error of each reading that would be found, and that would be named, mm."""
    shares = residual_shares(network, adjusted.points, adjusted.marks)
    told = smallest_told(shares, np.array([r.sd for r in network.readings]))
    rows = zip(np.diagonal(told), told.max(axis=1), strict=True)
    return [(_finite(float(own)), _finite(float(most))) for own, most in rows]


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None
