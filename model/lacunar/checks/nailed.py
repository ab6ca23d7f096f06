"""Slats and furring against what holds them: which joists and strips their nails and screws really hit."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely

from lacunar.checks.shapes import Floats, Indices
from lacunar.checks.subject import Subject
from lacunar.layout import ALONG
from lacunar.parts import Part
from lacunar.tolerances import CONTACT
from lacunar.units import INCH

STRIP_SPACING = 16.0 * INCH
"""mm. Between two strips of furring: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Nailed:
    """One slat and what its nails find.

    Attributes:
        caught: ids of the strips of furring that a nail hits; where there is no furring, numbers of joists, from 1.
        from_end: least distance of a nail from either end, along the slat; infinite without nails.
        along: it runs along the joists rather than across them.
        free: longest end beyond its nails; the whole slat without any.
    """

    part: Part
    caught: tuple[str | int, ...]
    from_end: float
    along: bool
    free: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Screwed:
    """One strip of furring and what its screws find.

    Attributes:
        under_joist: it lies along its joist.
        holds: joists that a screw hits; of a strip under a joist the screws that hit it.
    """

    part: Part
    under_joist: bool
    holds: int


def nailed_slats(subject: Subject) -> tuple[Nailed, ...]:
    """Every slat in order."""
    slats = subject.of_kind("slat")
    if not slats:
        return ()
    start, finish = (np.array([part.axis[end] for part in slats]) for end in (0, 1))
    lengths = np.hypot(*(finish - start).T)
    directions = (finish - start) / lengths[:, None]
    owner, nails = _nails_in_wood(subject, slats)
    names, caught = _caught(subject, len(slats), owner, nails)
    along = np.einsum("nk,nk->n", nails - start[owner], directions[owner])
    near = np.minimum(along, lengths[owner] - along)
    first, last, from_end = lengths.copy(), lengths.copy(), np.full(len(slats), np.inf)
    np.minimum.at(first, owner, along)
    np.minimum.at(last, owner, lengths[owner] - along)
    np.minimum.at(from_end, owner, near)
    lean = _lean(subject, directions)
    return tuple(
        Nailed(
            part=part,
            caught=tuple(names[int(j)] for j in np.flatnonzero(caught[i])),
            from_end=float(from_end[i]),
            along=bool(lean[i] < ALONG),
            free=float(max(first[i], last[i])),
        )
        for i, part in enumerate(slats)
    )


def screwed_strips(subject: Subject) -> tuple[Screwed, ...]:
    """Every strip of furring in order."""
    parts = subject.of_kind("furring")
    under = {one.id: one.under_joist for one in subject.layout.furring_strips}
    owner, screws = _nails_in_wood(subject, parts)
    hit = _on_joists(subject, len(parts), owner, screws)
    return tuple(
        Screwed(
            part=part,
            under_joist=under[part.id],
            holds=int(hit[i].sum() if under[part.id] else np.count_nonzero(hit[i])),
        )
        for i, part in enumerate(parts)
    )


def bearer_spacing(subject: Subject) -> float:
    """Widest distance between neighbouring joists, or strips of furring; infinite with fewer than two joists."""
    if subject.layout.furring is not None:
        return STRIP_SPACING
    steps = [abs(one.offset(other.point)) for one, other in pairwise(subject.layout.joists.lines)]
    return max(steps, default=float("inf"))


def _nails_in_wood(subject: Subject, parts: Sequence[Part]) -> tuple[Indices, Floats]:
    """Index of its part and place of each nail that goes through its part."""
    owner = np.repeat(np.arange(len(parts)), [len(part.nails) for part in parts])
    nails = np.array([nail for part in parts for nail in part.nails]).reshape(-1, 2)
    if len(nails) == 0:
        return owner, nails
    shapes = np.array([subject.polygon(part.id) for part in parts], dtype=object)
    inside = shapely.contains_xy(shapes[owner], nails[:, 0], nails[:, 1])
    return owner[inside], nails[inside]


def _caught(subject: Subject, count: int, owner: Indices, nails: Floats) -> tuple[tuple[str | int, ...], Floats]:
    """Names of what slats are nailed to, and how many nails of each slat hit each, (slats, names)."""
    if subject.layout.furring is None:
        numbers = tuple(range(1, len(subject.layout.joists.lines) + 1))
        return numbers, _on_joists(subject, count, owner, nails)
    strips = subject.of_kind("furring")
    caught = np.zeros((count, len(strips)))
    tree = shapely.STRtree([subject.polygon(strip.id) for strip in strips])
    which, strip = tree.query(shapely.points(nails), predicate="within")
    np.add.at(caught, (owner[which], strip), 1.0)
    return tuple(strip.id for strip in strips), caught


def _on_joists(subject: Subject, count: int, owner: Indices, nails: Floats) -> Floats:
    """How many nails of each part hit each joist, (parts, joists)."""
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
