"""How well the readings taken so far check each other, and what one more would do to that."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from lacunar.survey.adjust import unknowns
from lacunar.survey.network import Reading
from lacunar.survey.reliability import smallest_told
from lacunar.survey.system import Array, equations, make_system
from lacunar.survey.tapes import Floor, Move, taken

SKETCHED = 500.0
"""mm. What the sketch is taken to be good to: so little that no reading leans on it. Source: own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """Readings taken so far, and the rows of those that may be.

    Attributes:
        rows: of every reading by its ends, over its standard deviation.
        slopes: of the readings taken.
        cofactor: of the unknowns.
        sds: of the readings taken, mm.
    """

    rows: Mapping[tuple[str, str], Array]
    slopes: Array
    cofactor: Array
    sds: Array

    def told(self) -> Array:
        """Least error of each reading told from one of each other, mm."""
        return smallest_told(np.eye(len(self.slopes)) - self.slopes @ self.cofactor @ self.slopes.T, self.sds)

    def grown(self, chosen: Sequence[Move]) -> "Progress":
        """With more readings taken."""
        return self.with_readings([r for move in chosen for r in move.readings])

    def with_readings(self, readings: Sequence[Reading]) -> "Progress":
        """With more readings taken, by the update of an inverse."""
        if not readings:
            return self
        more = np.vstack([self.rows[r.ends] for r in readings])
        reach = self.cofactor @ more.T
        return replace(
            self,
            slopes=np.vstack([self.slopes, more]),
            cofactor=self.cofactor - reach @ np.linalg.solve(np.eye(len(more)) + more @ reach, reach.T),
            sds=np.concatenate([self.sds, [r.sd for r in readings]]),
        )


def along_walls(floor: Floor) -> dict[str, float]:
    """Where the marks are along their walls, mm."""
    return {m: math.dist(floor.places[line[0]], floor.places[m]) for m, line in floor.network.marks.items()}


def progress_of(floor: Floor, offered: Sequence[Move]) -> Progress:
    """What is measured on the floor, with the rows of what is offered too."""
    full = taken(floor, offered)
    network = full.network
    slopes = equations(make_system(network), unknowns(network, floor.ring, along_walls(full)))[1]
    size = slopes.shape[1]
    squares = slopes[len(network.readings) :]
    nothing = Progress(
        rows={r.ends: slopes[i] for i, r in enumerate(network.readings)},
        slopes=np.zeros((0, size)),
        cofactor=np.asarray(np.linalg.inv(np.eye(size) / SKETCHED**2 + squares.T @ squares), dtype=np.float64),
        sds=np.zeros(0),
    )
    return nothing.with_readings(floor.network.readings)
