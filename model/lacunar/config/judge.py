"""What the rules between keys look at, and how they say what is broken."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from lacunar.config.config import Config
from lacunar.config.lengths import plain_length
from lacunar.config.lines import KeyPath
from lacunar.units import INCH


@dataclass(frozen=True, slots=True)
class Breach:
    """One rule broken.

    Attributes:
        path: key that is told of.
        what: what was got and what must be.
        fix: what to do.
        also: other keys that the rule hangs on; where one is wrong by itself, the rule says nothing.
    """

    path: KeyPath
    what: str
    fix: str = ""
    also: tuple[KeyPath, ...] = ()


Breaches = Iterator[Breach]
"""What the rules of some tables find."""


def below(table: KeyPath | str, *names: str) -> tuple[KeyPath, ...]:
    """Several keys of one table."""
    path = (table,) if isinstance(table, str) else table
    return tuple((*path, name) for name in names)


@dataclass(frozen=True, slots=True, kw_only=True)
class Judge:
    """Looks at a config with its defaults filled in, without what is wrong by itself."""

    config: Config

    def length(self, mm: float) -> str:
        """A length as the config's units print it."""
        return plain_length(mm, self.config.units)

    def fine(self, mm: float) -> str:
        """A length too small for a tape, as a decimal."""
        return f"{mm / INCH:.3g} in" if self.config.units == "in" else f"{mm:.3g} mm"

    def longest(self) -> float | None:
        """The longest distance measured: nothing in the room lies farther from anything."""
        return max(self.config.room.measured.values(), default=None)

    def neighbours(self, one: str, other: str) -> bool:
        """Whether two walls share one corner."""
        return len(set(one) & set(other)) == 1

    def four(self) -> bool:
        """Whether the room has four corners."""
        return len(self.config.room.corners) == 4

    def size(
        self, path: KeyPath, got: float, must: str, limit: float, fix: str = "", also: tuple[KeyPath, ...] = ()
    ) -> Breach:
        """A length on the wrong side of another, for which {} stands in what it must be."""
        return Breach(path, f"got {self.length(got)}, must be {must.format(self.length(limit))}", fix, also)

    def below_ceiling(self, path: KeyPath, top: float, fix: str = "", *, touching: bool = False) -> Breaches:
        """What stands on the floor ends under the ceiling where that is highest, or at it."""
        room = self.config.room
        height = room.height if room.height is not None else max(room.heights.values(), default=None)
        if height is not None and (top > height or (top == height and not touching)):
            yield self.size(path, top, "below the ceiling at {}", height, fix, below("room", "height", "heights"))

    def in_reach(self, distances: Mapping[KeyPath, float]) -> Breaches:
        """No distance from a wall is longer than the longest one measured."""
        longest = self.longest()
        for path, distance in distances.items():
            if longest is not None and distance > longest:
                must = "less than the longest distance measured, {}"
                yield self.size(path, distance, must, longest, also=below("room", "measured"))

    def placed(self, at: Mapping[str, float], path: KeyPath) -> Breaches:
        """Two walls that share a corner, and distances that stay in the room."""
        walls = tuple(at)
        if self.four() and len(walls) == 2 and not self.neighbours(*walls):
            told = f"got {walls[0]} and {walls[1]}, which face each other"
            yield Breach(path, f"{told}, must be two walls that meet at a corner")
        yield from self.in_reach({(*path, wall): distance for wall, distance in at.items()})


def unique(names: Mapping[KeyPath, str], what: str) -> Breaches:
    """No name stands twice, nor with other capitals: files of two such names may be one."""
    seen: dict[str, str] = {}
    for path, name in names.items():
        other = seen.get(name.casefold())
        if other is not None:
            same = "" if other == name else f' ("{other}" differs in capitals only)'
            yield Breach(path, f'got "{name}", must be a name that no other {what} has{same}')
        seen[name.casefold()] = name
