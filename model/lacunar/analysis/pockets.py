"""Every pocket: the wood left round it, the room that a drill has before it, and the trim that hides it."""

import math
from dataclasses import dataclass
from itertools import combinations

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from lacunar.analysis.bores import WoodLeft, mouth_half, step, wood_between, wood_round
from lacunar.analysis.shapes import common, without
from lacunar.analysis.subject import Subject, trim_along
from lacunar.geometry import Point
from lacunar.layout import Coffer
from lacunar.parts import Part, Pocket
from lacunar.survey import ceiling_height
from lacunar.units import INCH

DRILL = 10.0 * INCH
"""Free length before a pocket for a drill with its bit. Source: common practice, no source."""

CHUCK = 1.0 * INCH
"""From the axis of a chuck to its outside. Source: common practice, no source."""

BESIDE = INCH / 4.0
"""A mouth so near to a coffer's side lies on that side's face."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PocketFit:
    """One pocket.

    Attributes:
        part: id.
        index: its place among the pockets of its part.
        level: "high" or "low".
        wood: least wood left round it; negative where it breaks out.
        towards: what lies there, in words.
        free: how far its axis runs on from its mouth before a chuck meets a beam or wall; DRILL where it is free.
        head: from its axis to the old ceiling, at the mouth.
        behind: how far the mouth's lowest point lies above the lower face of the trim before it; None without trim.
        hidden: share of the mouth's area above that face, 0 to 1.
    """

    part: str
    index: int
    level: str
    wood: float
    towards: str
    free: float
    head: float
    behind: float | None
    hidden: float


def pocket_fits(subject: Subject) -> tuple[PocketFit, ...]:
    """Every pocket, part by part."""
    bored = [part for part in subject.parts if part.pockets]
    obstacles = _Obstacles.of(subject) if bored else None
    found: list[PocketFit] = []
    for part in bored:
        for index, pocket in enumerate(part.pockets):
            assert obstacles is not None
            wood = least_wood(part, index)
            behind = _depth_behind(subject, part, pocket)
            fit = PocketFit(
                part=part.id,
                index=index,
                level=pocket.level,
                wood=wood.thickness,
                towards=wood.towards,
                free=_free_length(obstacles, part, pocket),
                head=ceiling_height(subject.room, (pocket.mouth[0], pocket.mouth[1])) - pocket.mouth[2],
                behind=behind,
                hidden=0.0 if behind is None else share_above(behind, mouth_half(pocket)[1]),
            )
            found.append(fit)
    return tuple(found)


def least_wood(part: Part, index: int) -> WoodLeft:
    """Where a pocket leaves least: towards a face, or towards one of the pockets after it."""
    pocket = part.pockets[index]
    others = (wood_between(one, other) for one, other in combinations(part.pockets, 2) if one is pocket)
    return min((*wood_round(part, pocket), *others), key=lambda wood: wood.thickness)


@dataclass(frozen=True, slots=True)
class _Obstacles:
    """What a chuck cannot enter, grown by its radius so that its axis may be a line.

    Attributes:
        inside: where the axis keeps clear of the walls.
        bodies: beams and mouldings, grown.
        heights: lowest and highest point of each, grown.
    """

    parts: tuple[Part, ...]
    inside: BaseGeometry
    bodies: tuple[BaseGeometry, ...]
    heights: tuple[tuple[float, float], ...]

    @staticmethod
    def of(subject: Subject) -> "_Obstacles":
        hanging = subject.hanging
        return _Obstacles(
            parts=hanging,
            inside=shapely.buffer(shapely.Polygon(subject.room.points), -CHUCK, join_style="mitre"),
            bodies=tuple(shapely.buffer(subject.polygon(part.id), CHUCK, join_style="mitre") for part in hanging),
            heights=tuple((_lowest(part) - CHUCK, max(map(part.top.at, part.outline)) + CHUCK) for part in hanging),
        )


def _lowest(part: Part) -> float:
    return min(map(part.bottom.at, part.outline))


def _free_length(obstacles: _Obstacles, part: Part, pocket: Pocket) -> float:
    out = (-pocket.direction[0], -pocket.direction[1], -pocket.direction[2])
    way = shapely.LineString([pocket.mouth[:2], step(pocket.mouth, out, DRILL)[:2]])
    blocked = [without(way, [obstacles.inside])]
    for other, body, (low, high) in zip(obstacles.parts, obstacles.bodies, obstacles.heights, strict=True):
        if other.id != part.id and low < pocket.mouth[2] < high and body.intersects(way):
            blocked.append(common(way, body))
    points = np.concatenate([shapely.get_coordinates(shape) for shape in blocked])
    if len(points) == 0:
        return DRILL
    flat = np.hypot(*(points - np.array(pocket.mouth[:2])).T)
    return float(flat.min() / max(np.hypot(out[0], out[1]), 1e-9))


def share_above(behind: float, half: float) -> float:
    """Share of an ellipse's area above a level line that lies so far under its lowest point; half its height."""
    # The ellipse is a circle stretched along the face: areas above a level line keep their share.
    t = max(-1.0, min(1.0, (behind + half) / half))
    return 0.5 + (t * math.sqrt(1.0 - t * t) + math.asin(t)) / math.pi


def _depth_behind(subject: Subject, part: Part, pocket: Pocket) -> float | None:
    mouth = (pocket.mouth[0], pocket.mouth[1])
    trim = _trim_before(subject, part, mouth)
    return None if trim is None else pocket.mouth[2] - mouth_half(pocket)[1] - trim.bottom.at(mouth)


def _trim_before(subject: Subject, part: Part, mouth: Point) -> Part | None:
    for coffer in subject.layout.coffers:
        for index, side in enumerate(coffer.sides):
            if side.against == part.id and _lies_on(coffer, index, mouth):
                return trim_along(subject, coffer, index)
    return None


def _lies_on(coffer: Coffer, index: int, mouth: Point) -> bool:
    side = coffer.sides[index]
    along, length = side.line.along(mouth), side.line.along(side.end)
    return abs(side.line.offset(mouth)) <= BESIDE and -BESIDE <= along <= length + BESIDE
