"""Where no nail may go: strips along pipes and wires above the ceiling."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import shapely

from lacunar.config import NoNail
from lacunar.geometry import Point, Ring
from lacunar.layout.member import Member
from lacunar.layout.polygons import ring_of
from lacunar.survey import Room, point_from_walls


@dataclass(frozen=True, slots=True, kw_only=True)
class NoNailZone:
    """All that lies within a distance of a pipe or wire.

    Attributes:
        ends: of the pipe or wire, plan points.
        within: how near to its line no nail may come.
        outline: plan ring of the zone, a little outside its round ends.
    """

    ends: tuple[Point, Point]
    within: float
    outline: Ring


def no_nail_zones(room: Room, given: Iterable[NoNail]) -> tuple[NoNailZone, ...]:
    """Every zone, in the config's order."""
    zones: list[NoNailZone] = []
    for strip in given:
        ends = (point_from_walls(room, strip.from_), point_from_walls(room, strip.to))
        shape = shapely.LineString(ends).buffer(strip.within) if ends[0] != ends[1] else None
        round_end = shape if shape is not None else shapely.Point(ends[0]).buffer(strip.within)
        zones.append(NoNailZone(ends=ends, within=strip.within, outline=ring_of(round_end)))
    return tuple(zones)


def barred_nails(members: Iterable[Member], zones: Sequence[NoNailZone]) -> tuple[tuple[str, Point], ...]:
    """Nails and screws that the layout has in a zone, with the part that each is in: they are left out there."""
    lines = [(shapely.LineString(zone.ends), zone.within) for zone in zones]
    return tuple(
        (member.id, nail)
        for member in members
        for nail in member.nails
        if any(line.distance(shapely.Point(nail)) < within for line, within in lines)
    )
