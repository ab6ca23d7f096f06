"""What the rules between keys look at, and how they say what is broken."""

from dataclasses import dataclass

from lacunar.config.config import Config
from lacunar.config.defaults import walls_of
from lacunar.config.lengths import plain_length
from lacunar.config.lines import KeyPath
from lacunar.config.words import distance_ends
from lacunar.units import INCH


@dataclass(frozen=True, slots=True, kw_only=True)
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """A config with its defaults filled in, without what is wrong by itself.

    Attributes:
        config: the config.
        given: every key that stands in the file.
    """

    config: Config
    given: frozenset[str]

    @property
    def walls(self) -> tuple[str, ...]:
        """Wall names in the order of the corners."""
        return walls_of(self.config.room.corners)

    def length(self, mm: float) -> str:
        """A length as the config's units print it."""
        return plain_length(mm, self.config.units)

    def fine(self, mm: float) -> str:
        """A length too small for a tape, as a decimal."""
        return f"{mm / INCH:.3g} in" if self.config.units == "in" else f"{mm:.3g} mm"

    def wall_length(self, wall: str) -> float | None:
        """A wall's length as measured; None where it was not."""
        for key, size in self.config.room.measured.items():
            if set(distance_ends(key)) == set(wall):
                return size
        return None

    def longest(self) -> float | None:
        """The longest distance measured: nothing in the room lies farther from anything."""
        return max(self.config.room.measured.values(), default=None)

    def neighbours(self, one: str, other: str) -> bool:
        """Whether two walls share one corner."""
        return len(set(one) & set(other)) == 1

    def four(self) -> bool:
        """Whether the room has four corners."""
        return len(self.config.room.corners) == 4

    def height(self) -> float | None:
        """The greatest ceiling height given."""
        room = self.config.room
        return room.height if room.height is not None else max(room.heights.values(), default=None)
