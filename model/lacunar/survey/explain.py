"""Distances that make no room: which single one, misread by a usual slip, would have spoilt one."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from lacunar.config import Config
from lacunar.errors import Problem, SurveyError
from lacunar.survey.adjust import Adjusted, adjust
from lacunar.survey.chance import ALONE, W_CRITICAL, agree
from lacunar.survey.missing import is_rigid, with_squares
from lacunar.survey.network import Network, in_order, read_network
from lacunar.survey.notebook import Notebook, notebook_of
from lacunar.survey.refuse import CLOSES, MisfitError, is_possible, odd_corners
from lacunar.survey.room import Room
from lacunar.survey.search import FITS_WITHIN, best_shape, oddness
from lacunar.survey.slips import usual_slips

NEAR = 150.0
"""mm. A usual slip is tried where the others make the distance so nearly what it would be: whether it then fits is
for the statistics. Source: own choice."""

SQUARE_ENOUGH = 4.0
"""Mean square of how far corners are off the usual ones, in standard deviations, up to which a room speaks for itself
where nothing else does: two standard deviations. Source: own choice."""

MOST_NAMED = 4
"""Distances that one sentence can hold."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspect:
    """One distance that another value would make fit.

    Attributes:
        name: of the reading.
        value: what it may be, mm.
        how: the slip; "" where it is none of the usual ones.
        odd: how unlike a room's corners those of the room would be, as `oddness` says.
    """

    name: str
    value: float
    how: str
    odd: float


def explained(misfit: MisfitError, network: Network, book: Notebook) -> SurveyError:
    """The error with what to measure again, as far as the distances tell."""
    doubts = find_doubts(network, book)
    if not doubts:
        return SurveyError(misfit.problems)
    fix = _advice(doubts, book)
    return SurveyError([replace(problem, fix=fix) for problem in misfit.problems])


def distrust(config: Config, room: Room) -> tuple[Problem, ...]:
    """What to say of the distances where their room takes no ceiling; nothing where they agree."""
    if agree(room.chi2, room.dof):
        return ()
    book = notebook_of(config)
    worst = max(room.measured, key=lambda one: abs(one.residual))
    doubts = find_doubts(in_order(read_network(book)), book)
    what = f"the distances disagree, by {book.tape.words(abs(worst.residual))} in {worst.between} in the nearest room"
    return (book.problem(what, _advice(doubts, book) if doubts else "measure them again"),)


def find_doubts(network: Network, book: Notebook) -> tuple[Suspect, ...]:
    """Single distances that would make the room fit if they were others, the likeliest first; one a reading.

    Where usual slips explain it, nothing else is told; where one room has by far the likeliest corners, only that.
    """
    numbers = range(len(network.readings))
    found = sorted((doubt for i in numbers for doubt in _doubts_of(network, i, book)), key=lambda doubt: doubt.odd)
    found = [doubt for doubt in found if doubt.how] or found
    likely = [doubt for doubt in found if doubt.odd < found[0].odd + ALONE]
    return tuple({doubt.name: doubt for doubt in reversed(likely)}.values())[::-1]


def _advice(doubts: Sequence[Suspect], book: Notebook) -> str:
    told = [_told(doubt, book) for doubt in doubts[:MOST_NAMED]]
    if len(doubts) == 1:
        return f"measure {doubts[0].name} again: {told[0]}"
    if len(doubts) > MOST_NAMED:
        names = ", ".join(doubt.name for doubt in doubts)
        return f"one of {names} may be misread ({'; '.join(told)}): measure these again"
    return f"one of these may be misread: {'; '.join(told)}; measure them again"


def _told(doubt: Suspect, book: Notebook) -> str:
    value = book.tape.words(doubt.value)
    return f"{doubt.name} may be {value}, {doubt.how}" if doubt.how else f"{doubt.name} {value} would fit the others"


def _doubts_of(network: Network, number: int, book: Notebook) -> list[Suspect]:
    reading = network.readings[number]
    # What places a mark cannot be left out: it says as good as nothing instead.
    rest = network.with_instead(number, *([reading.loose] if network.is_along(reading) else []))
    if not is_rigid(rest):
        return _guesses(network, number, book)
    shape = best_shape(rest, fitting=True)
    if shape is None or not _is_good(rest, shape):
        return []
    places = rest.places(shape.points, shape.marks)
    value = math.dist(*(places[end] for end in reading.ends))
    if abs(value - reading.value) <= W_CRITICAL * reading.sd:
        return []
    odd = _odd(shape)
    slips = [
        Suspect(name=reading.name, value=slip, how=how, odd=odd)
        for slip, how in usual_slips(reading.value, book.tape.units)
        if abs(slip - value) < NEAR
        and _fits(adjust(_read_as(network, number, slip), shape.points, shape.marks, FITS_WITHIN))
    ]
    return slips or [Suspect(name=reading.name, value=value, how="", odd=odd)]


def _guesses(network: Network, number: int, book: Notebook) -> list[Suspect]:
    """Of a distance that nothing checks: the usual slips that make a room with usual corners."""
    reading = network.readings[number]
    found: list[Suspect] = []
    for slip, how in usual_slips(reading.value, book.tape.units):
        tried = _read_as(network, number, slip)
        tried = tried if is_rigid(tried) else with_squares(tried) or tried
        shape = best_shape(tried, fitting=True) if is_possible(tried, book) else None
        if shape is not None and _is_good(tried, shape):
            found.append(Suspect(name=reading.name, value=slip, how=how, odd=_odd(shape)))
    return found


def _read_as(network: Network, number: int, value: float) -> Network:
    return network.with_instead(number, replace(network.readings[number], value=value))


def _is_good(network: Network, shape: Adjusted) -> bool:
    """A room; where nothing checks its readings, one with usual corners."""
    firm = shape.dof > 0 or _odd(shape) <= SQUARE_ENOUGH * len(shape.points)
    return firm and _fits(shape) and not odd_corners(shape.points, bool(network.squares))


def _odd(shape: Adjusted) -> float:
    """How unlike those of a room its corners are; four corners are square."""
    return oddness(shape.points, math.pi / 2.0) if len(shape.points) == 4 else oddness(shape.points)


def _fits(shape: Adjusted) -> bool:
    """Within reading error; without redundancy, to rounding."""
    return agree(shape.chi2, shape.dof) if shape.dof > 0 else shape.chi2 <= CLOSES
