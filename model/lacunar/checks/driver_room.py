"""Can a drill and a driver reach every pocket?

What: the axis of each pocket, carried on out of its mouth, against the old ceiling above it and the next beam or
wall before it.
Why: a drill that does not fit in bores the pocket at another angle, and the screw comes out through the side.
Fix: bore the pockets on the bench before the piece goes up; drive with a long bit, a right-angle attachment or a
flexible shaft; move the row further from the wall.
Source: 10 in for a drill with its bit, 4 in for a right-angle attachment, 1 in from a chuck's axis to its outside:
common practice, no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from lacunar.checks.bores import step
from lacunar.checks.finding import Finding
from lacunar.checks.shapes import common, without
from lacunar.checks.subject import Subject
from lacunar.checks.voice import Voice, settle, tell_once
from lacunar.parts import Part, Pocket, pocket_name
from lacunar.survey import ceiling_height
from lacunar.tolerances import CONTACT
from lacunar.units import INCH

NAME = "driver-room"
SOURCE = "common practice, no source"

DRILL = 10.0 * INCH
"""Free length before a pocket for a drill with its bit. Source: common practice, no source."""

ATTACHMENT = 4.0 * INCH
"""The same for a right-angle attachment: with less nothing goes in. Source: common practice, no source."""

CHUCK = 1.0 * INCH
"""From the axis of a chuck to its outside. Source: common practice, no source."""


def check_driver_room(subject: Subject) -> tuple[Finding, ...]:
    """Findings on the room for a drill under the ceiling."""
    voice = Voice(check=NAME, source=SOURCE, subject=subject)
    pockets = [(part, pocket) for part in subject.parts for pocket in part.pockets]
    if not pockets:
        return (voice.say("pass", "the ceiling", "no piece has a pocket"),)
    obstacles = obstacles_of(subject)
    frees = [(part, pocket, free_length(obstacles, part, pocket)) for part, pocket in pockets]
    heads = [(part, pocket, head_length(subject, pocket)) for part, pocket in pockets]
    ahead = [_ahead(voice, *room) for room in _least(frees) if room[2] < DRILL - CONTACT]
    above = [_above(voice, *room) for room in _least(heads) if room[2] < CHUCK - CONTACT]
    part, _, free = min(frees, key=lambda room: room[2])
    head = min(head for _, _, head in heads)
    message = (
        f"at least {voice.length(min(free, DRILL))} are free before every pocket"
        f" and {voice.length(head)} above its axis"
    )
    passed = voice.say("pass", part.id, message, value=free, limit=DRILL)
    return settle([*tell_once(ahead, "pieces"), *tell_once(above, "pieces")], passed)


def _least(rooms: Sequence[tuple[Part, Pocket, float]]) -> list[tuple[Part, Pocket, float]]:
    """Of each part the pocket with the least value."""
    least: dict[str, tuple[Part, Pocket, float]] = {}
    for part, pocket, value in rooms:
        if part.id not in least or value < least[part.id][2]:
            least[part.id] = (part, pocket, value)
    return list(least.values())


def _ahead(voice: Voice, part: Part, pocket: Pocket, free: float) -> Finding:
    needed = voice.length(DRILL)
    message = (
        f"only {voice.length(free)} is free before the {pocket_name(part, pocket)}, a drill with its bit needs {needed}"
    )
    if free < ATTACHMENT:
        fix = "bore that pocket from the other side face, or move the row"
        return voice.say("fail", part.id, message, value=free, limit=DRILL, fix=fix)
    fix = "bore on the bench; drive with a right-angle attachment or a flexible shaft"
    return voice.say("warn", part.id, message, value=free, limit=DRILL, fix=fix)


def _above(voice: Voice, part: Part, pocket: Pocket, head: float) -> Finding:
    needed = voice.length(CHUCK)
    message = (
        f"only {voice.length(max(head, 0.0))} is free between the old ceiling and the axis of the "
        f"{pocket_name(part, pocket)}, a chuck needs {needed}"
    )
    fix = f"drive with a long bit, or lower the pockets by {voice.at_least(CHUCK - head)} (cross_beams.joint.drop)"
    return voice.say("warn", part.id, message, value=head, limit=CHUCK, fix=fix)


@dataclass(frozen=True, slots=True)
class Obstacles:
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


def obstacles_of(subject: Subject) -> Obstacles:
    """Every beam and moulding, and the walls."""
    hanging = subject.hanging
    return Obstacles(
        parts=hanging,
        inside=shapely.buffer(shapely.Polygon(subject.room.points), -CHUCK, join_style="mitre"),
        bodies=tuple(shapely.buffer(subject.polygon(part.id), CHUCK, join_style="mitre") for part in hanging),
        heights=tuple(
            (
                min(part.bottom.at(point) for point in part.outline) - CHUCK,
                max(part.top.at(point) for point in part.outline) + CHUCK,
            )
            for part in hanging
        ),
    )


def free_length(obstacles: Obstacles, part: Part, pocket: Pocket) -> float:
    """How far the pocket's axis runs on from its mouth before a chuck meets a beam or wall; DRILL where it is free."""
    out = (-pocket.direction[0], -pocket.direction[1], -pocket.direction[2])
    far = step(pocket.mouth, out, DRILL)
    way = shapely.LineString([pocket.mouth[:2], far[:2]])
    blocked = [without(way, [obstacles.inside])]
    for other, body, (low, high) in zip(obstacles.parts, obstacles.bodies, obstacles.heights, strict=True):
        if other.id != part.id and low < pocket.mouth[2] < high and body.intersects(way):
            blocked.append(common(way, body))
    points = np.concatenate([shapely.get_coordinates(shape) for shape in blocked])
    if len(points) == 0:
        return DRILL
    flat = np.hypot(*(points - np.array(pocket.mouth[:2])).T)
    return float(flat.min() / max(np.hypot(out[0], out[1]), 1e-9))


def head_length(subject: Subject, pocket: Pocket) -> float:
    """From the pocket's axis to the old ceiling, at the mouth."""
    return ceiling_height(subject.room, (pocket.mouth[0], pocket.mouth[1])) - pocket.mouth[2]
