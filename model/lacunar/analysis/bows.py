"""Faces that bow, and what that does to the length of every piece that meets one."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from lacunar.analysis.subject import Subject
from lacunar.geometry import Line, Point
from lacunar.survey import Bow, find_bows

BEAM_FACES = 2.0
"""Faces that share a beam's bow; each piece meets one of them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shorter:
    """A piece by its id, and how much shorter than drawn a bow makes it, mm; negative for longer."""

    part: str
    by: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BowFit:
    """One width half way, and every piece that meets one of its two faces where they bow."""

    bow: Bow
    pieces: tuple[Shorter, ...]


def bow_fits(subject: Subject) -> tuple[BowFit, ...]:
    """Of beams, then between walls; a bowed face as a parabola."""
    bows = find_bows(subject.config, subject.room)
    return tuple(BowFit(bow=bow, pieces=tuple(_shortened(subject, bow))) for bow in bows)


def _shortened(subject: Subject, bow: Bow) -> Iterator[Shorter]:
    for piece in (*subject.layout.pieces, *subject.layout.half_beams):
        shares = [_share(subject, bow, end, meets) for end, meets in zip(piece.axis, piece.meets, strict=True)]
        if any(shares):
            yield Shorter(part=piece.id, by=math.fsum(shares) * bow.amount / BEAM_FACES)


def _share(subject: Subject, bow: Bow, end: Point, meets: str) -> float:
    """How much of the bow half way one end of a piece meets: 1 half way, 0 at the ends; -1 where a wall bows out."""
    if meets not in bow.between:
        return 0.0
    if bow.between[0] != bow.between[1]:
        start, finish = subject.room.wall(meets)
        return -_parabola(start, finish, end)
    return next((_parabola(*bar.axis, end) for bar in subject.layout.beams if bar.id == meets), 0.0)


def _parabola(start: Point, finish: Point, point: Point) -> float:
    share = Line.through(start, finish).along(point) / math.dist(start, finish)
    return max(0.0, 4.0 * share * (1.0 - share))
