"""From measurements to the room: corners adjusted, turned into the plan's frame, with every reading's misfit."""

import math

import numpy as np

from lacunar.config import Config, RoomTable
from lacunar.survey.adjust import FIRM, Adjusted, freedom, residual_shares
from lacunar.survey.explain import explained
from lacunar.survey.heights import best_plane, corner_heights, middle, with_marks
from lacunar.survey.misread import Blame, blame, named
from lacunar.survey.missing import is_rigid, not_enough, with_squares
from lacunar.survey.network import Network, in_order, read_network, sorting
from lacunar.survey.notebook import Notebook, notebook_of
from lacunar.survey.refuse import CLOSES, MisfitError, no_fit, no_room, refuse_impossible, refuse_odd_corners
from lacunar.survey.reliability import smallest_told
from lacunar.survey.room import Measured, Room
from lacunar.survey.search import best_shape
from lacunar.survey.shape import on_page

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
    return solved(notebook_of(config))


def solved(book: Notebook) -> Room:
    """The room of what stands in a notebook, as `solve_survey` has it."""
    read = read_network(book)
    network = in_order(read)
    try:
        refuse_impossible(network, book)
        network, adjusted = _determined(network, book)
        blamed = blame(network, adjusted)
        if _fits_nothing(adjusted, blamed):
            raise no_fit(network, adjusted, book)
        refuse_odd_corners(network, adjusted, book)
    except MisfitError as misfit:
        raise explained(misfit, network, book) from None
    return _room(book.room, read, network, adjusted, named(blamed))


def _fits_nothing(adjusted: Adjusted, blamed: Blame | None) -> bool:
    if adjusted.dof == 0:
        return adjusted.chi2 > CLOSES
    return blamed is not None and min(abs(off) for off in blamed.off) > GROSS


def _determined(network: Network, book: Notebook) -> tuple[Network, Adjusted]:
    """The shape that fits best, with corners assumed as square where the distances leave them free."""
    found: Adjusted | None = None
    for tried in (network, with_squares(network)):
        if tried is None or not is_rigid(tried):
            continue
        found = best_shape(tried)
        if found is None:
            raise no_room(book)
        if freedom(tried, found.points, found.marks, FIRM) == 0:
            return tried, found
        if tried.squares and found.chi2 > CLOSES:
            raise no_fit(tried, found, book)
    raise not_enough(network, book, found.points if found else None)


def _room(given: RoomTable, read: Network, network: Network, adjusted: Adjusted, suspect: int | None) -> Room:
    points = on_page(adjusted.points)
    places = network.places(points, adjusted.marks)
    heights = corner_heights(network.stations, given.heights, given.height)
    x, y = middle(points)
    centre = (x, y, given.heights.get("centre", math.fsum(heights) / len(heights)))
    marks = {name: places[name] for name in read.marks}
    walls = {name: mark.wall for name, mark in given.marks.items() if name in given.heights}
    corners = {name: (*point, z) for name, point, z in zip(network.stations, points, heights, strict=True)}
    rim = with_marks(corners, {name: (wall, (*marks[name], given.heights[name])) for name, wall in walls.items()})
    return Room(
        corners=network.stations,
        points=points,
        heights=heights,
        centre=centre,
        marks=marks,
        measured=_measured(read, network, adjusted, suspect),
        dof=adjusted.dof,
        chi2=adjusted.chi2,
        ceiling=best_plane([*rim.values(), centre]),
        square_assumed=bool(network.squares),
        sd=dict(zip(network.stations, adjusted.sds, strict=True)),
        rim=rim if walls else {},
    )


def _measured(read: Network, network: Network, adjusted: Adjusted, suspect: int | None) -> tuple[Measured, ...]:
    """Every reading in the order of those that were read; those of marks from their corners last."""
    shares = residual_shares(network, adjusted.points, adjusted.marks)
    told = smallest_told(shares, np.array([r.sd for r in network.readings]))
    numbers = sorting(read.readings)
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
            finds=_finite(told[place, place]),
            names=_finite(told[place].max()),
        )
        for place, (number, reading, length, w, redundancy) in enumerate(rows)
    }
    return tuple(done[number] for number in sorted(done))


def _finite(value: float) -> float | None:
    return float(value) if math.isfinite(value) else None
