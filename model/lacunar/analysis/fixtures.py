"""Fixtures and the doors' sweeps: which parts stand in them, and how deep."""

import math
from collections.abc import Collection
from dataclasses import dataclass

import shapely
from shapely import Polygon

from lacunar.analysis.overlap import plan_depth
from lacunar.analysis.shapes import distances
from lacunar.analysis.standing import Standing
from lacunar.analysis.subject import HANGING, Subject
from lacunar.geometry import Line, Ring
from lacunar.layout import CutOut
from lacunar.parts import Part
from lacunar.survey import wall_point
from lacunar.tolerances import CONTACT

SWEEP_STEPS = 24


@dataclass(frozen=True, slots=True, kw_only=True)
class FixtureFit:
    """One fixture.

    Attributes:
        name: the fixture's.
        coffer: id of the one that holds its centre, or None.
        in_body: parts that stand in the fixture itself, in order.
        in_hole: beams, mouldings, trim and slats that stand in its cut-out, the deepest first.
        in_canopy: beams, mouldings and trim that its canopy stands on, the deepest first.
        hides: how far its canopy reaches past the hole at the least place; negative where the hole shows; None without.
        slats: slats that the cut-out takes something out of, the two halves of a severed one counted once.
    """

    name: str
    coffer: str | None
    in_body: tuple[Standing, ...]
    in_hole: tuple[Standing, ...]
    in_canopy: tuple[Standing, ...]
    hides: float | None
    slats: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DoorSweep:
    """A door that opens into the room.

    Attributes:
        door: its place in the config, from 1.
        parts: ids of those over its sweep whose bottom is lower than its head, in order.
    """

    door: int
    parts: tuple[str, ...]


def fixture_fits(subject: Subject) -> tuple[FixtureFit, ...]:
    """Every fixture in order."""
    return tuple(_fixture_fit(subject, cut_out) for cut_out in subject.layout.cut_outs)


def _fixture_fit(subject: Subject, cut_out: CutOut) -> FixtureFit:
    numbers = {slat.id: (slat.coffer, slat.number) for slat in subject.layout.slats}
    slats = [p for p in subject.of_kind("slat") if any(notch.fixture == cut_out.name for notch in p.notches)]
    return FixtureFit(
        name=cut_out.name,
        coffer=cut_out.coffer,
        in_body=standing_in(subject, Polygon(cut_out.fixture)),
        in_hole=_deepest_first(subject, cut_out.outline, {*HANGING, "trim", "slat"}),
        in_canopy=_deepest_first(subject, cut_out.cover or cut_out.outline, {*HANGING, "trim"}),
        hides=None if cut_out.cover is None else cover_overlap(cut_out.outline, cut_out.cover),
        slats=len({numbers.get(part.id, (part.id, 0)) for part in slats}),
    )


def standing_in(subject: Subject, shape: Polygon, kinds: Collection[str] | None = None) -> tuple[Standing, ...]:
    """Parts of these kinds, or of all, that overlap a shape, in order."""
    at = sorted(int(i) for i in shapely.STRtree(subject.polygons).query(shape, predicate="intersects"))
    depths = {
        subject.parts[i].id: plan_depth(subject.polygons[i], shape)
        for i in at
        if kinds is None or subject.parts[i].kind in kinds
    }
    return tuple(Standing(part=name, depth=depth) for name, depth in depths.items() if depth > CONTACT)


def _deepest_first(subject: Subject, ring: Ring, kinds: Collection[str]) -> tuple[Standing, ...]:
    return tuple(sorted(standing_in(subject, Polygon(ring), kinds), key=lambda one: -one.depth))


def cover_overlap(outline: Ring, canopy: Ring) -> float:
    """How far a canopy reaches past a hole at the least place; negative where the hole shows."""
    hole, cover = Polygon(outline), Polygon(canopy)
    if cover.covers(hole):
        return float(cover.exterior.distance(hole.exterior))
    corners = [shapely.Point(corner) for corner in outline]
    return -float(distances(corners, [cover] * len(corners)).max())


def door_sweeps(subject: Subject) -> tuple[DoorSweep, ...]:
    """Doors that open into the room, in order."""
    doors = [(number, door) for number, door in enumerate(subject.config.door, start=1) if door.swing == "in"]
    return tuple(
        DoorSweep(door=number, parts=tuple(part.id for part in _over(subject, number - 1, door.height)))
        for number, door in doors
    )


def _over(subject: Subject, index: int, head: float) -> list[Part]:
    low = [part for part in subject.parts if min(map(part.bottom.at, part.outline)) < head - CONTACT]
    sweep = Polygon(_sweep(subject, index))
    return [part for part in low if plan_depth(subject.polygon(part.id), sweep) > CONTACT]


def _sweep(subject: Subject, index: int) -> Ring:
    """Quarter circle that a door opening into the room sweeps; hinge left or right as seen from inside."""
    door, room = subject.config.door[index], subject.room
    jambs = [wall_point(room, door.wall, door.from_, at) for at in (door.at, door.at + door.width)]
    wall = room.wall_line(door.wall)
    first, last = sorted(jambs, key=wall.along)
    # Facing the wall from inside, the start of a wall that runs clockwise is on the left.
    hinge, latch = (first, last) if door.hinge == "left" else (last, first)
    closed = Line.through(hinge, latch)
    inward = -1.0 if door.hinge == "left" else 1.0
    turns = [inward * math.pi / 2.0 * k / SWEEP_STEPS for k in range(SWEEP_STEPS + 1)]
    arc = tuple(closed.at(door.width * math.cos(turn), door.width * math.sin(turn)) for turn in turns)
    return (hinge, *arc)
