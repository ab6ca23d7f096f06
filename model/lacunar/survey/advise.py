"""Which distances to measure: before anyone has, and where those taken leave a doubt."""

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from lacunar.config import Config
from lacunar.errors import SurveyError
from lacunar.geometry import Point, Ring
from lacunar.survey.adjust import FIRM, freedom
from lacunar.survey.network import Network, Reading, in_order, read_network
from lacunar.survey.notebook import Notebook, notebook_of
from lacunar.survey.progress import SKETCHED, along_walls, progress_of
from lacunar.survey.shape import framed, on_page
from lacunar.survey.solve import solved
from lacunar.survey.start import starts, turned
from lacunar.survey.system import Array
from lacunar.survey.tapes import Floor, Move, moves, repeats, taken, walls_to_read, without

MISREAD = 20.0
"""mm. A misreading that a good set of distances finds and names: about 3/4 in. Source: own choice."""

MOST = 80
"""Distances advised, at most."""

EFFORT = 0.1
"""Readings that one more measurement must tell apart to be worth taking. Source: own choice."""

MOST_TRIED = 16
"""Measurements that are tried in pairs, those that tell most by themselves first."""

NEARLY = 0.9
"""More measurements are only asked for where they tell an error of so much less. Source: own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """One distance to measure.

    Attributes:
        between: as `room.measured` names it ("AC", "mAB-C"); for a mark, its corner and it ("A-mAB").
        kind: along a wall, across the room, or along a wall from a corner to where a mark is to be made.
        expected: mm, as far as the shape is known; a mark is to be made here.
        wall: of the mark at one end; "" where there is none.
        start: plan point of the first end.
        end: plan point of the other.
        again: it has been taken from the other end before: read it afresh.
        names: least misreading, mm, of any one distance that is named once this and all before it are taken; None
            where some could be misread by any amount.
    """

    between: str
    kind: Literal["wall", "across", "mark"]
    expected: float
    wall: str
    start: Point
    end: Point
    again: bool
    names: float | None


def recommend(config: Config) -> tuple[Advice, ...]:
    """A set of distances that names a misreading of `MISREAD` in any one, the most telling first.

    What has been measured only tells the shape; all of it is advised anew. A room too large for such a set with one
    tape a distance gets the set that comes nearest.
    """
    floor = sketched(notebook_of(config))
    floor = taken(floor, walls_to_read(floor))
    for offer in (moves, repeats):
        floor = _grown(floor, offer)
    return _in_words(_pruned(floor))


def _grown(floor: Floor, offer: Callable[[Floor], tuple[Move, ...]]) -> Floor:
    """With the best of what is offered, again and again: as far as a misreading small enough is named, or it helps."""
    best, least = floor, worst(floor)
    while least > MISREAD and len(floor.network.readings) < MOST and (offered := offer(floor)):
        floor = taken(floor, [_best_move(floor, offered)])
        if (now := worst(floor)) < NEARLY * least or now <= MISREAD:
            best, least = floor, now
    return best if math.isfinite(least) else floor


def would_tell(floor: Floor, doubtful: Sequence[str], off: Sequence[float]) -> tuple[tuple[Advice, ...], int]:
    """One or two more measurements (with a mark on a wall, where they need one) that tell doubtful readings apart.

    Args:
        floor: the room with all that was measured.
        doubtful: names of the readings.
        off: mm; what each of them seems to be misread by.

    Returns:
        What to measure, none where nothing helps; and how many readings may still be alike then, 1 where they tell.
    """
    rows = [i for i, r in enumerate(floor.network.readings) if r.name in doubtful]
    size = {name: abs(by) for name, by in zip(doubtful, off, strict=True)}
    errors = np.array([size[floor.network.readings[i].name] for i in rows])
    offered = (*moves(floor), *repeats(floor))
    state = progress_of(floor, offered)

    def rated(chosen: tuple[Move, ...]) -> tuple[float, int]:
        told = state.grown(chosen).told()[np.ix_(rows, rows)]
        np.fill_diagonal(told, np.inf)
        alike = (told > errors[:, None]).sum(axis=1)
        return float(alike.mean()) + EFFORT * sum(len(move.readings) for move in chosen), int(alike.max())

    single = sorted(((move,) for move in offered), key=lambda chosen: rated(chosen)[0])
    pairs = ((*first, *second) for first, second in itertools.combinations(single[:MOST_TRIED], 2))
    best = min([(), *single, *(p for p in pairs if _apart(p))], key=lambda chosen: rated(chosen)[0])
    after = taken(floor, best)
    return tuple(_advice(after, r, None) for move in best for r in move.readings), rated(best)[1]


def _apart(pair: Sequence[Move]) -> bool:
    """Two moves that make no mark twice."""
    return not pair[0].mark or pair[0].mark != pair[1].mark


def sketched(book: Notebook) -> Floor:
    """The room's shape as far as it is known, with nothing measured on it."""
    network = in_order(read_network(book))
    points = _sketch(book, network)
    return Floor(
        places=dict(zip(network.stations, points, strict=True)),
        ring=points,
        network=replace(network, readings=(), marks={}, squares=()),
        book=book,
    )


def worst(floor: Floor) -> float:
    """Least misreading, mm, that is found and named in whichever distance it is made."""
    return float(progress_of(floor, ()).told().max(initial=0.0))


def _best_move(floor: Floor, offered: Sequence[Move]) -> Move:
    """First what holds the corners best, until they are held; then what tells most."""
    state = progress_of(floor, offered)
    if _is_held(floor):
        return min(offered, key=lambda move: _grief(state.grown((move,)).told()))
    corners = 2 * len(floor.ring)
    return min(offered, key=lambda move: float(np.trace(state.grown((move,)).cofactor[:corners, :corners])))


def _is_held(floor: Floor) -> bool:
    return freedom(floor.network, floor.ring, along_walls(floor), FIRM) == 0


def _grief(told: Array) -> float:
    """What is not told yet: of each reading the worst, and on an average the others. A sum: new readings add to it."""
    missed = 1.0 - np.minimum(1.0, MISREAD / told)
    return float(missed.max(axis=1).sum() + missed.mean(axis=1).sum())


def _pruned(floor: Floor) -> Floor:
    """Without the marks and tapes that the rest does as well without, the longest ones first."""
    goal = max(MISREAD, worst(floor))
    network = floor.network
    groups = [[r for r in network.readings if mark in r.ends] for mark in network.marks]
    groups += [[tape] for tape in sorted(network.readings, key=lambda r: -r.value) if not _is_needed(floor, tape)]
    for group in groups:
        less = without(floor, group)
        if worst(less) <= goal:
            floor = less
    return floor


def _is_needed(floor: Floor, reading: Reading) -> bool:
    """A wall, or what places a mark."""
    return reading.ends in floor.network.walls or floor.network.is_along(reading)


def _in_words(floor: Floor) -> tuple[Advice, ...]:
    """Each distance in the order of measuring, with what is named by then."""
    state = progress_of(
        replace(floor, network=replace(floor.network, readings=())), (Move(readings=floor.network.readings),)
    )
    found: list[Advice] = []
    for reading in floor.network.readings:
        state = state.with_readings((reading,))
        least = float(state.told().max())
        found.append(_advice(floor, reading, least if least < SKETCHED / 2.0 else None))
    return tuple(found)


def _advice(floor: Floor, reading: Reading, names: float | None) -> Advice:
    start, end = reading.ends
    network = floor.network
    on = next((line for mark, line in network.marks.items() if mark in reading.ends), ("", ""))
    is_wall = network.is_wall(reading.ends) or bool(set(reading.ends) & set(on))
    return Advice(
        between=reading.name,
        kind="mark" if network.is_along(reading) else "wall" if is_wall else "across",
        expected=reading.value,
        wall="".join(on),
        start=floor.places[start],
        end=floor.places[end],
        again=reading.ends not in _first(floor),
        names=names,
    )


def _first(floor: Floor) -> set[tuple[str, str]]:
    """Ends of the readings that were the first between them."""
    pairs: dict[frozenset[str], tuple[str, str]] = {}
    for reading in floor.network.readings:
        pairs.setdefault(frozenset(reading.ends), reading.ends)
    return set(pairs.values())


def _sketch(book: Notebook, network: Network) -> Ring:
    """The corners as far as the distances tell, in the plan's frame."""
    try:
        return solved(book).points
    except SurveyError:
        shape = next(turned(network), None) or list(starts(network))[-1]
    return on_page(framed(shape))
