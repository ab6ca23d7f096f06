"""How much may be tried. Counted in work, so that a plan does not depend on how fast the machine is."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Effort:
    """Limits of a search.

    Attributes:
        work: units of about a second each; the same on every machine.
        tidy: look for less board length and fewer settings at the same cost, on top.
    """

    work: float = 6.0
    tidy: bool = True


USUAL = Effort()
"""Where nothing else is asked for."""


class Budget:
    """What has been spent of an effort."""

    def __init__(self, effort: Effort) -> None:
        """Nothing yet."""
        self.effort = effort
        self.spent = 0.0
        self.by_clock = False
        self.is_met = False

    def charge(self, cells: int, iterations: int, rows: int) -> None:
        """Count a table of so many cells and a linear program's pivots in so many rows."""
        self.spent += 1.2e-9 * cells + iterations * (5e-5 + 8e-8 * rows)

    def flat(self, calls: int) -> None:
        """Count what every call costs, however small."""
        self.spent += 8e-4 * calls

    def late(self, seconds: float) -> None:
        """Count what the clock had to end."""
        self.spent += seconds
        self.by_clock = True

    def part(self, share: float) -> float:
        """The share of all work up to which one may spend that much more."""
        return self.spent / self.effort.work + share if self.effort.work else 0.0

    def is_left(self, share: float = 1.0) -> bool:
        """Work, or this share of all work, is left."""
        return not self.is_met and self.spent < self.effort.work * share
