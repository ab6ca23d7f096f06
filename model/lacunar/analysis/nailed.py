"""Slats and furring against what holds them: which joists and strips their nails and screws really hit."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from lacunar.analysis.shapes import Floats, Indices
from lacunar.analysis.subject import Subject
from lacunar.layout import ALONG
from lacunar.parts import Part
from lacunar.tolerances import CONTACT


@dataclass(frozen=True, slots=True, kw_only=True)
class Grip:
    """How a board is held: by those of its nails that hit something.

    Attributes:
        nails: how many.
        apart: greatest distance between two neighbouring ones along it; 0 with fewer than two.
        free: its longest end beyond them; its whole length without any.
    """

    nails: int
    apart: float
    free: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NailedSlat:
    """One slat and what its nails find.

    Attributes:
        part: id.
        caught: ids of the strips of furring that a nail hits; where there is no furring, numbers of joists, from 1.
        from_end: least distance of a nail from either end, along the slat; None without nails in it.
        nearest_end: the end, 0 or 1, that a nail stands nearest to; None without nails.
        along: it runs along the joists rather than across them.
    """

    part: str
    caught: tuple[str | int, ...]
    from_end: float | None
    nearest_end: int | None
    along: bool
    grip: Grip


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewedStrip:
    """One strip of furring and what its screws find.

    Attributes:
        part: id.
        thickness: of the strip.
        under_joist: it lies along its joist.
        holds: joists that a screw hits; of a strip under a joist the screws that hit it.
    """

    part: str
    thickness: float
    under_joist: bool
    holds: int
    grip: Grip


def nailed_slats(subject: Subject) -> tuple[NailedSlat, ...]:
    """Every slat in order."""
    slats = subject.of_kind("slat")
    if not slats:
        return ()
    nails = _nails_in_wood(subject, slats)
    on_joists = subject.layout.furring is None
    hits = _on_joists(subject, nails) if on_joists else _on_strips(subject, nails)
    names = tuple(
        range(1, len(subject.layout.joists.lines) + 1)
        if on_joists
        else (strip.id for strip in subject.of_kind("furring"))
    )
    grips = _grips(nails, hits)
    caught = _caught(len(slats), len(names), nails, hits)
    from_end = np.full(len(slats), np.inf)
    np.minimum.at(from_end, nails.owner, np.minimum(nails.along, nails.lengths[nails.owner] - nails.along))
    lean = _lean(subject, nails.directions)
    return tuple(
        NailedSlat(
            part=part.id,
            caught=tuple(names[int(j)] for j in np.flatnonzero(caught[i])),
            from_end=float(from_end[i]) if np.isfinite(from_end[i]) else None,
            nearest_end=_nearest_end(part),
            along=bool(lean[i] < ALONG),
            grip=grips[i],
        )
        for i, part in enumerate(slats)
    )


def _nearest_end(part: Part) -> int | None:
    ways = ((math.dist(nail, point), end) for nail in part.nails for end, point in enumerate(part.axis))
    return min(ways, default=(0.0, None))[1]


def screwed_strips(subject: Subject) -> tuple[ScrewedStrip, ...]:
    """Every strip of furring in order."""
    parts = subject.of_kind("furring")
    if not parts:
        return ()
    under = {one.id: one.under_joist for one in subject.layout.furring_strips}
    screws = _nails_in_wood(subject, parts)
    hits = _on_joists(subject, screws)
    caught = _caught(len(parts), len(subject.layout.joists.lines), screws, hits)
    return tuple(
        ScrewedStrip(
            part=part.id,
            thickness=part.thickness,
            under_joist=under[part.id],
            holds=int(caught[i].sum() if under[part.id] else np.count_nonzero(caught[i])),
            grip=grip,
        )
        for i, (part, grip) in enumerate(zip(parts, _grips(screws, hits), strict=True))
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Nails:
    """Nails that go through their board.

    Attributes:
        owner: (n,) index of the board of each.
        places: (n, 2) in the plan.
        along: (n,) from the first end of its board.
        lengths: (boards,) in the plan.
        directions: (boards, 2).
    """

    owner: Indices
    places: Floats
    along: Floats
    lengths: Floats
    directions: Floats


def _nails_in_wood(subject: Subject, parts: Sequence[Part]) -> _Nails:
    start, finish = (np.array([part.axis[end] for part in parts]) for end in (0, 1))
    lengths = np.hypot(*(finish - start).T)
    directions = (finish - start) / lengths[:, None]
    owner = np.repeat(np.arange(len(parts)), [len(part.nails) for part in parts])
    places = np.array([nail for part in parts for nail in part.nails]).reshape(-1, 2)
    shapes = np.array([subject.polygon(part.id) for part in parts], dtype=object)
    inside = shapely.contains_xy(shapes[owner], places[:, 0], places[:, 1])
    owner, places = owner[inside], places[inside]
    along = np.einsum("nk,nk->n", places - start[owner], directions[owner])
    return _Nails(owner=owner, places=places, along=along, lengths=lengths, directions=directions)


def _on_strips(subject: Subject, nails: _Nails) -> tuple[Indices, Indices]:
    """Pairs of a nail and the strip of furring that it hits."""
    tree = shapely.STRtree([subject.polygon(strip.id) for strip in subject.of_kind("furring")])
    which, strip = tree.query(shapely.points(nails.places), predicate="within")
    return which, strip


def _on_joists(subject: Subject, nails: _Nails) -> tuple[Indices, Indices]:
    """Pairs of a nail and the joist that it hits."""
    joists = subject.layout.joists
    points, lefts = (
        np.array([getattr(line, end) for line in joists.lines]).reshape(-1, 2) for end in ("point", "left")
    )
    off = np.abs(nails.places @ lefts.T - np.einsum("jk,jk->j", points, lefts))
    which, joist = np.nonzero(off <= joists.width / 2.0 + CONTACT)
    return which, joist


def _caught(boards: int, names: int, nails: _Nails, hits: tuple[Indices, Indices]) -> Floats:
    """How many nails of each board hit each joist or strip, (boards, names)."""
    caught = np.zeros((boards, names))
    np.add.at(caught, (nails.owner[hits[0]], hits[1]), 1.0)
    return caught


def _grips(nails: _Nails, hits: tuple[Indices, Indices]) -> tuple[Grip, ...]:
    good = np.unique(hits[0])
    order = good[np.lexsort((nails.along[good], nails.owner[good]))]
    firsts, counts = (
        np.searchsorted(nails.owner[order], np.arange(len(nails.lengths)), side) for side in ("left", "right")
    )
    found: list[Grip] = []
    for length, first, end in zip(nails.lengths.tolist(), firsts.tolist(), counts.tolist(), strict=True):
        at = nails.along[order[first:end]]
        if len(at) == 0:
            found.append(Grip(nails=0, apart=0.0, free=length))
            continue
        apart = float(np.diff(at).max()) if len(at) > 1 else 0.0
        found.append(Grip(nails=len(at), apart=apart, free=max(float(at[0]), length - float(at[-1]))))
    return tuple(found)


def _lean(subject: Subject, directions: Floats) -> Floats:
    """Sine of the angle between each slat and the joist it lies nearest along; 1 without joists."""
    lean = np.ones(len(directions))
    for line in subject.layout.joists.lines:
        lean = np.minimum(lean, np.abs(directions @ np.array(line.left)))
    return lean
