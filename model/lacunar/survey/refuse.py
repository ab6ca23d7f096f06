"""Measurements that no room can have, in words and numbers that send a person back to the right place."""

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from lacunar.errors import Problem, SurveyError
from lacunar.geometry import Ring
from lacunar.survey.adjust import Adjusted
from lacunar.survey.chance import W_CRITICAL
from lacunar.survey.network import Network
from lacunar.survey.notebook import Notebook
from lacunar.survey.shape import turns

CLOSES = 1e-6
"""Sum of squares up to which measurements without redundancy fit: they fit to rounding or not at all."""


FLAT = 50.0
"""mm. A flat triangle that lacks less is adjusted like any other misfit, so that all readings are asked which one is
wrong. Source: own choice."""

SHARPEST = math.radians(40.0)
"""Least angle between two walls, inside the room or outside it, and of four walls the least that one is off straight:
what is less is misread. Source: own choice; the sharpest corner of a bay or under a stair is 45 degrees."""

OFF_SQUARE = math.radians(20.0)
"""Where a corner is assumed as square, the others may be off square by so much: walls that make them lean more are no
reason to assume it. Source: own choice."""

SHARPEST_OF_THREE = math.radians(20.0)
"""The same for a room of three walls."""


class MisfitError(SurveyError):
    """Distances that make no room; what was misread is still to be looked for."""


def refuse_impossible(network: Network, book: Notebook) -> None:
    """Look at every measured triangle, and at the walls together.

    Raises:
        MisfitError: one side is longer than the others together, by more than reading can be wrong.
    """
    problems = [*_pointed_out(list(_triangles(network, book))), *_walls(network, book)]
    if problems:
        raise MisfitError(problems)


def is_possible(network: Network, book: Notebook) -> bool:
    """Every measured triangle can be, and so can the walls together."""
    return not any((*_triangles(network, book), *_walls(network, book)))


def odd_corners(points: Ring, assumed: bool) -> Mapping[int, float]:
    """Corners that no room has, by their number, with the angle between their walls, radians.

    Args:
        points: of the corners, clockwise.
        assumed: some corner was taken as square.
    """
    least, most = _angles(len(points), assumed)
    angles = {i: math.pi + turn for i, turn in enumerate(turns(points))}
    return {i: angle for i, angle in angles.items() if not least <= angle <= most}


def _angles(corners: int, assumed: bool) -> tuple[float, float]:
    """Least and greatest angle between two walls."""
    if assumed:
        return math.pi / 2.0 - OFF_SQUARE, math.pi / 2.0 + OFF_SQUARE
    if corners == 3:
        return SHARPEST_OF_THREE, math.pi - SHARPEST_OF_THREE
    return SHARPEST, (math.pi if corners == 4 else 2.0 * math.pi) - SHARPEST


def refuse_odd_corners(network: Network, adjusted: Adjusted, book: Notebook) -> None:
    """Look at the corners of the room that was found.

    Raises:
        MisfitError: two walls meet at an angle that no room has.
    """
    n = len(network.stations)
    assumed = bool(network.squares)
    least, most = (round(math.degrees(angle)) for angle in _angles(n, assumed))
    for i, angle in odd_corners(adjusted.points, assumed).items():
        before, corner, after = (network.stations[(i + k) % n] for k in (-1, 0, 1))
        what = (
            f"{_assumption(network)}{book.all_read} make {math.degrees(angle):.0f} degrees between "
            f"{before}{corner} and {corner}{after}, must be {least} to {most}"
        )
        fix = "measure these again" + (", and a diagonal" if assumed else "")
        raise MisfitError([book.problem(what, fix)])


def no_fit(network: Network, adjusted: Adjusted, book: Notebook) -> MisfitError:
    """The error for measurements that leave no choice and still do not fit together."""
    if network.squares:
        what = f"{_assumption(network)}{book.all_read} do not close"
        fix = "measure these again, and a diagonal"
    else:
        worst = max(zip(network.readings, adjusted.lengths, strict=True), key=lambda pair: abs(pair[1] - pair[0].value))
        off = book.tape.words(abs(worst[1] - worst[0].value))
        what = f"no room has all of {book.all_read}: the nearest one is {off} off in {worst[0].name}"
        fix = "measure these again"
    return MisfitError([book.problem(what, fix)])


def _assumption(network: Network) -> str:
    corners = " and ".join(corner for _, corner, _ in network.squares)
    return f"with a square corner at {corners}, which was assumed, " if corners else ""


def no_room(book: Notebook) -> MisfitError:
    """The error for distances that only fit a figure whose walls cross each other."""
    what = f"{book.all_read} fit no room: walls cross each other"
    return MisfitError([book.problem(what, "measure these again, and one more diagonal")])


def flat_room(book: Notebook) -> MisfitError:
    """The error for distances that are all there, and make a figure so flat that it still bends."""
    what = f"{book.all_read} fit no room: the nearest figure lies flat"
    return MisfitError([book.problem(what, "measure these again")])


@dataclass(frozen=True, slots=True)
class _Impossible:
    """A triangle with a side too long, and the names of its sides."""

    sides: tuple[str, str, str]
    problem: Problem


def _pointed_out(found: Sequence[_Impossible]) -> Iterator[Problem]:
    """Where one distance is part of every impossible triangle, it is the one to measure again."""
    shared = [name for name in found[0].sides if all(name in one.sides for one in found)] if len(found) > 1 else []
    for one in found:
        fix = f"measure {shared[0]} again: it is in each of these" if len(shared) == 1 else one.problem.fix
        yield replace(one.problem, fix=fix)


def _triangles(network: Network, book: Notebook) -> Iterator[_Impossible]:
    lengths = _with_rest_of_walls(network)
    names = {frozenset(r.ends): r.name for r in reversed(network.readings)}
    points = (*network.stations, *network.marks)
    for trio in itertools.combinations(points, 3):
        sides = [frozenset(pair) for pair in itertools.combinations(trio, 2)]
        if any(side not in lengths for side in sides) or any(set(trio) == {m, *w} for m, w in network.marks.items()):
            continue
        short, middle, long = sorted(sides, key=lambda side: (lengths[side][0], sorted(side)))
        excess = lengths[long][0] - lengths[short][0] - lengths[middle][0]
        if excess > FLAT + W_CRITICAL * math.sqrt(math.fsum(lengths[side][1] ** 2 for side in sides)):
            shorter = sorted((short, middle), key=lambda side: names.get(side, "-"))
            told = tuple(names.get(side, "-".join(sorted(side))) for side in (*shorter, long))
            a, b, c = (
                f"{name} {book.tape.words(lengths[side][0])}" for name, side in zip(told, (*shorter, long), strict=True)
            )
            problem = book.problem(f"{a} + {b} is shorter than {c}", "measure these three again")
            yield _Impossible((told[0], told[1], told[2]), problem)


def _with_rest_of_walls(network: Network) -> dict[frozenset[str], tuple[float, float]]:
    """Length and standard deviation by ends; of a wall with a mark, what is left of it beyond the mark too."""
    sds = {frozenset(r.ends): r.sd for r in network.readings}
    lengths = {pair: (length, sds[pair]) for pair, length in network.lengths().items()}
    for mark, (start, end) in network.marks.items():
        wall, part, rest = frozenset((start, end)), frozenset((start, mark)), frozenset((mark, end))
        if wall in lengths and part in lengths and rest not in lengths:
            lengths[rest] = (lengths[wall][0] - lengths[part][0], math.hypot(lengths[wall][1], lengths[part][1]))
    return lengths


def _walls(network: Network, book: Notebook) -> Iterator[Problem]:
    lengths = network.lengths()
    if len(network.walls) < 4 or any(frozenset(pair) not in lengths for pair in network.walls):
        return
    walls = {a + b: lengths[frozenset((a, b))] for a, b in network.walls}
    longest = max(walls, key=lambda wall: walls[wall])
    rest = math.fsum(walls.values()) - walls[longest]
    if walls[longest] >= rest:
        others = " + ".join(f"{wall} {book.tape.words(walls[wall])}" for wall in walls if wall != longest)
        what = f"{others} is shorter than {longest} {book.tape.words(walls[longest])}"
        yield book.problem(what, "measure the walls again")
