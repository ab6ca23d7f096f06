"""Slats against the joists: which joists their nails really hit."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely

from lacunar.checks.shapes import Floats, Indices
from lacunar.checks.subject import Subject
from lacunar.parts import Part
from lacunar.tolerances import CONTACT

ALONG = 0.5
"""A slat runs along the joists where the sine of the angle between them is less than this (30 degrees)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Nailed:
    """One slat and what its nails find.

    Attributes:
        joists: numbers of the joists that a nail hits, from 1.
        from_end: least distance of a nail from either end, along the slat; infinite without nails.
        along: it runs along the joists rather than across them.
        free: longest end beyond its nails; the whole slat without any.
    """

    part: Part
    joists: tuple[int, ...]
    from_end: float
    along: bool
    free: float


def nailed_slats(subject: Subject) -> tuple[Nailed, ...]:
    """Every slat in order."""
    slats = subject.of_kind("slat")
    if not slats:
        return ()
    start, finish = (np.array([part.axis[end] for part in slats]) for end in (0, 1))
    lengths = np.hypot(*(finish - start).T)
    directions = (finish - start) / lengths[:, None]
    owner, nails = _nails_in_wood(subject, slats)
    along = np.einsum("nk,nk->n", nails - start[owner], directions[owner])
    near = np.minimum(along, lengths[owner] - along)
    first, last, from_end = lengths.copy(), lengths.copy(), np.full(len(slats), np.inf)
    np.minimum.at(first, owner, along)
    np.minimum.at(last, owner, lengths[owner] - along)
    np.minimum.at(from_end, owner, near)
    caught = _caught(subject, len(slats), owner, nails)
    lean = _lean(subject, directions)
    return tuple(
        Nailed(
            part=part,
            joists=tuple(int(j) + 1 for j in np.flatnonzero(caught[i])),
            from_end=float(from_end[i]),
            along=bool(lean[i] < ALONG),
            free=float(max(first[i], last[i])),
        )
        for i, part in enumerate(slats)
    )


def joist_spacing(subject: Subject) -> float:
    """Widest distance between neighbouring joists; infinite where there are fewer than two."""
    steps = [abs(one.offset(other.point)) for one, other in pairwise(subject.layout.joists.lines)]
    return max(steps, default=float("inf"))


def _nails_in_wood(subject: Subject, slats: tuple[Part, ...]) -> tuple[Indices, Floats]:
    """Index of its slat and place of each nail that goes through its slat."""
    owner = np.repeat(np.arange(len(slats)), [len(part.nails) for part in slats])
    nails = np.array([nail for part in slats for nail in part.nails]).reshape(-1, 2)
    if len(nails) == 0:
        return owner, nails
    shapes = np.array([subject.polygon(part.id) for part in slats], dtype=object)
    inside = shapely.contains_xy(shapes[owner], nails[:, 0], nails[:, 1])
    return owner[inside], nails[inside]


def _caught(subject: Subject, count: int, owner: Indices, nails: Floats) -> Floats:
    """How many nails of each slat hit each joist, (slats, joists)."""
    joists = subject.layout.joists
    caught = np.zeros((count, len(joists.lines)))
    for j, line in enumerate(joists.lines):
        off = np.abs((nails - np.array(line.point)) @ np.array(line.left))
        np.add.at(caught[:, j], owner[off <= joists.width / 2.0 + CONTACT], 1.0)
    return caught


def _lean(subject: Subject, directions: Floats) -> Floats:
    """Sine of the angle between each slat and the joist it lies nearest along; 1 without joists."""
    lean = np.ones(len(directions))
    for line in subject.layout.joists.lines:
        lean = np.minimum(lean, np.abs(directions @ np.array(line.left)))
    return lean
