"""Measurements that no room can have, in words and numbers that send a person back to the right place."""

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from lacunar.config import Config
from lacunar.errors import Problem, SurveyError
from lacunar.survey.adjust import Adjusted
from lacunar.survey.chance import W_CRITICAL
from lacunar.survey.network import Network
from lacunar.survey.start import mean_lengths
from lacunar.units import format_length

CLOSES = 1e-6
"""Sum of squares up to which measurements without redundancy fit: they fit to rounding or not at all."""


def refuse_impossible(network: Network, config: Config) -> None:
    """Look at every measured triangle, and at the walls together.

    Raises:
        SurveyError: one side is longer than the others together, by more than reading can be wrong.
    """
    problems = [*_pointed_out(list(_triangles(network, config))), *_walls(network, config)]
    if problems:
        raise SurveyError(problems)


def no_fit(network: Network, adjusted: Adjusted, config: Config) -> SurveyError:
    """The error for measurements that leave no choice and still do not fit together."""
    if network.squares:
        corners = " and ".join(corner for _, corner, _ in network.squares)
        what = f"with a square corner at {corners}, which was assumed, {_all_read(config)} do not close"
        fix = "measure these again, and a diagonal"
    else:
        worst = max(zip(network.readings, adjusted.lengths, strict=True), key=lambda pair: abs(pair[1] - pair[0].value))
        off = _words(abs(worst[1] - worst[0].value), config)
        what = f"no room has all of {_all_read(config)}: the nearest one is {off} off in {worst[0].name}"
        fix = "measure these again"
    return SurveyError([Problem(where=where(config), what=what, fix=fix)])


def no_room(config: Config) -> SurveyError:
    """The error for distances that only fit a figure whose walls cross each other."""
    what = f"{_all_read(config)} fit no room: walls cross each other"
    return SurveyError([Problem(where=where(config), what=what, fix="measure these again, and one more diagonal")])


def where(config: Config) -> str:
    """The place in the config that survey problems point at."""
    return f"{config.path.name} room.measured"


def _all_read(config: Config) -> str:
    return ", ".join(f"{name} {_words(value, config)}" for name, value in config.room.measured.items())


def _words(mm: float, config: Config) -> str:
    return format_length(mm, config.units, config.read_to, "words").removesuffix(" 0 in")


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


def _triangles(network: Network, config: Config) -> Iterator[_Impossible]:
    lengths = _with_rest_of_walls(network)
    names = {frozenset(r.ends): r.name for r in reversed(network.readings)}
    points = (*network.stations, *network.marks)
    for trio in itertools.combinations(points, 3):
        sides = [frozenset(pair) for pair in itertools.combinations(trio, 2)]
        if any(side not in lengths for side in sides) or any(set(trio) == {m, *w} for m, w in network.marks.items()):
            continue
        short, middle, long = sorted(sides, key=lambda side: (lengths[side][0], sorted(side)))
        excess = lengths[long][0] - lengths[short][0] - lengths[middle][0]
        if excess > W_CRITICAL * math.sqrt(math.fsum(lengths[side][1] ** 2 for side in sides)):
            shorter = sorted((short, middle), key=lambda side: names.get(side, "-"))
            told = tuple(names.get(side, "-".join(sorted(side))) for side in (*shorter, long))
            a, b, c = (
                f"{name} {_words(lengths[side][0], config)}" for name, side in zip(told, (*shorter, long), strict=True)
            )
            problem = Problem(
                where=where(config), what=f"{a} + {b} is shorter than {c}", fix="measure these three again"
            )
            yield _Impossible((told[0], told[1], told[2]), problem)


def _with_rest_of_walls(network: Network) -> dict[frozenset[str], tuple[float, float]]:
    """Length and standard deviation by ends; of a wall with a mark, what is left of it beyond the mark too."""
    sds = {frozenset(r.ends): r.sd for r in network.readings}
    lengths = {pair: (length, sds[pair]) for pair, length in mean_lengths(network).items()}
    for mark, (start, end) in network.marks.items():
        wall, part, rest = frozenset((start, end)), frozenset((start, mark)), frozenset((mark, end))
        if wall in lengths and part in lengths and rest not in lengths:
            lengths[rest] = (lengths[wall][0] - lengths[part][0], math.hypot(lengths[wall][1], lengths[part][1]))
    return lengths


def _walls(network: Network, config: Config) -> Iterator[Problem]:
    lengths = mean_lengths(network)
    n = len(network.stations)
    pairs = [(s, network.stations[(i + 1) % n]) for i, s in enumerate(network.stations)]
    if n < 4 or any(frozenset(pair) not in lengths for pair in pairs):
        return
    walls = {a + b: lengths[frozenset((a, b))] for a, b in pairs}
    longest = max(walls, key=lambda wall: walls[wall])
    rest = math.fsum(walls.values()) - walls[longest]
    if walls[longest] >= rest:
        others = " + ".join(f"{wall} {_words(walls[wall], config)}" for wall in walls if wall != longest)
        yield Problem(
            where=where(config),
            what=f"{others} is shorter than {longest} {_words(walls[longest], config)}",
            fix="measure the walls again",
        )
