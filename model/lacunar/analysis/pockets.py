"""Every pocket: the wood left round it, the room that a drill has before it, and the trim that hides it."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from lacunar.analysis.bores import mouth_half, step, wood_between, wood_round
from lacunar.analysis.shapes import common, without
from lacunar.analysis.subject import Subject, lies_on, trim_along
from lacunar.parts import Part, Pocket
from lacunar.survey import ceiling_height
from lacunar.units import INCH

DRILL = 10.0 * INCH
"""Free length before a pocket for a drill with its bit. Source: common practice, no source."""

CHUCK = 1.0 * INCH
"""From the axis of a chuck to its outside. Source: common practice, no source."""

BESIDE = INCH / 4.0
"""A mouth so near to a coffer's side lies on that side's face."""


WHOLE = 1.0 - 1e-9
"""Share of a mouth that is all of it, but for rounding."""

Fate = Literal["seen", "plugged", "hidden"]
"""What becomes of a pocket in the room: open to view, plugged below the trim, behind slat and trim."""


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

    @property
    def fate(self) -> Fate:
        """What checks count and pictures show."""
        if self.level == "low":
            return "plugged"
        return "hidden" if self.hidden >= WHOLE else "seen"


def pocket_fits(subject: Subject) -> tuple[PocketFit, ...]:
    """Every pocket, part by part."""
    found: list[PocketFit] = []
    obstacles = _obstacles(subject) if any(part.pockets for part in subject.parts) else []
    inside = shapely.buffer(shapely.Polygon(subject.room.points), -CHUCK, join_style="mitre")
    for part in subject.parts:
        for index, pocket in enumerate(part.pockets):
            (towards, wood), behind = _least_wood(part, index), _depth_behind(subject, part, pocket)
            fit = PocketFit(
                part=part.id,
                index=index,
                level=pocket.level,
                wood=wood,
                towards=towards,
                free=_free_length(inside, obstacles, part, pocket),
                head=ceiling_height(subject.room, pocket.mouth[:2]) - pocket.mouth[2],
                behind=behind,
                hidden=0.0 if behind is None else _share_above(behind, mouth_half(pocket)[1]),
            )
            found.append(fit)
    return tuple(found)


def _least_wood(part: Part, index: int) -> tuple[str, float]:
    """Where a pocket leaves least: towards a face, or towards one of the pockets after it."""
    pocket, woods = part.pockets[index], wood_round(part, part.pockets[index])
    if others := part.pockets[index + 1 :]:
        woods["the pocket beside it"] = min(wood_between(pocket, other) for other in others)
    return min(woods.items(), key=lambda item: item[1])


Obstacle = tuple[str, BaseGeometry, float, float]
"""Id of a beam or moulding, its outline grown by a chuck's radius so that an axis may be a line, and its heights."""


def _obstacles(subject: Subject) -> list[Obstacle]:
    found: list[Obstacle] = []
    for part in subject.hanging:
        low, high = min(map(part.bottom.at, part.outline)), max(map(part.top.at, part.outline))
        body = shapely.buffer(subject.polygon(part.id), CHUCK, join_style="mitre")
        found.append((part.id, body, low - CHUCK, high + CHUCK))
    return found


def _free_length(inside: BaseGeometry, obstacles: Sequence[Obstacle], part: Part, pocket: Pocket) -> float:
    """Before a chuck leaves what is inside the walls, or meets an obstacle."""
    out = (-pocket.direction[0], -pocket.direction[1], -pocket.direction[2])
    way = shapely.LineString([pocket.mouth[:2], step(pocket.mouth, out, DRILL)[:2]])
    blocked = [without(way, [inside])]
    for name, body, low, high in obstacles:
        if name != part.id and low < pocket.mouth[2] < high and body.intersects(way):
            blocked.append(common(way, body))
    points = np.concatenate([shapely.get_coordinates(shape) for shape in blocked])
    if len(points) == 0:
        return DRILL
    flat = np.hypot(*(points - np.array(pocket.mouth[:2])).T)
    return float(flat.min() / max(np.hypot(out[0], out[1]), 1e-9))


def _share_above(behind: float, half: float) -> float:
    """Share of an ellipse's area above a level line that lies so far under its lowest point; half its height."""
    # The ellipse is a circle stretched along the face: areas above a level line keep their share.
    t = max(-1.0, min(1.0, (behind + half) / half))
    return 0.5 + (t * math.sqrt(1.0 - t * t) + math.asin(t)) / math.pi


def _depth_behind(subject: Subject, part: Part, pocket: Pocket) -> float | None:
    mouth = pocket.mouth[:2]
    for coffer in subject.layout.coffers:
        for index, side in enumerate(coffer.sides):
            if side.against == part.id and lies_on(side, mouth, BESIDE):
                trim = trim_along(subject, coffer, index)
                return None if trim is None else pocket.mouth[2] - mouth_half(pocket)[1] - trim.bottom.at(mouth)
    return None
