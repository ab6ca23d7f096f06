"""From measurements to the room: corners adjusted, turned into the plan's frame, with every reading's misfit."""

import math

import numpy as np

from lacunar.config import Config
from lacunar.geometry import Line
from lacunar.survey.adjust import FIRM, Adjusted, freedom, residual_shares
from lacunar.survey.explain import explained
from lacunar.survey.heights import best_plane, corner_heights, middle, with_marks
from lacunar.survey.misread import Blame, blame, named
from lacunar.survey.missing import is_rigid, not_enough, with_squares
from lacunar.survey.network import Network, in_order, read_network, sorting
from lacunar.survey.refuse import CLOSES, MisfitError, no_fit, no_room, refuse_impossible, refuse_odd_corners
from lacunar.survey.reliability import smallest_told
from lacunar.survey.room import Measured, Room
from lacunar.survey.search import best_shape

GROSS = 600.0
"""mm. A distance that is off by more than about 2 ft makes no room worth drawing. Source: own choice."""


def solve_survey(config: Config) -> Room:
    """Adjust the measurements to one room.

    A quadrilateral without a diagonal is taken as square at A (three walls: at the two corners between them; two walls:
    a rectangle). Everything else is weighted least squares over all distances, the ones of marks from their corners
    too. The order of the measurements does not matter.

    Raises:
        SurveyError: a triangle is impossible, distances are missing, or they fit no room or none worth drawing.
    """
    network = in_order(read_network(config))
    try:
        refuse_impossible(network, config)
        network, adjusted = _determined(network, config)
        blamed = blame(network, adjusted)
        if _fits_nothing(adjusted, blamed):
            raise no_fit(network, adjusted, config)
        refuse_odd_corners(network, adjusted, config)
    except MisfitError as misfit:
        raise explained(misfit, network, config) from None
    return _room(config, network, adjusted, blamed)


def _fits_nothing(adjusted: Adjusted, blamed: Blame | None) -> bool:
    if adjusted.dof == 0:
        return adjusted.chi2 > CLOSES
    return blamed is not None and min(abs(off) for off in blamed.off) > GROSS


def _determined(network: Network, config: Config) -> tuple[Network, Adjusted]:
    """The shape that fits best, with corners assumed as square where the distances leave them free."""
    found: Adjusted | None = None
    for tried in (network, with_squares(network)):
        if tried is None or not is_rigid(tried):
            continue
        found = best_shape(tried)
        if found is None:
            raise no_room(config)
        if freedom(tried, found.points, found.marks, FIRM) == 0:
            return tried, found
        if tried.squares and found.chi2 > CLOSES:
            raise no_fit(tried, found, config)
    raise not_enough(network, config, found.points if found else None)


def _room(config: Config, network: Network, adjusted: Adjusted, blamed: Blame | None) -> Room:
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
        measured=_measured(config, network, adjusted, named(blamed)),
        dof=adjusted.dof,
        chi2=adjusted.chi2,
        ceiling=best_plane([*rim.values(), centre]),
        square_assumed=bool(network.squares),
        sd=dict(zip(network.stations, adjusted.sds, strict=True)),
        rim=rim if walls else {},
    )


def _measured(config: Config, network: Network, adjusted: Adjusted, suspect: int | None) -> tuple[Measured, ...]:
    """Every reading in the config's order; those of marks from their corners last."""
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
