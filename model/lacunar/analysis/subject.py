"""What is analysed and checked: the parts as they will be cut, and what they are compared with."""

from collections.abc import Mapping
from dataclasses import dataclass

from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from lacunar.analysis.shapes import opened, polygons_of, without
from lacunar.config import Config
from lacunar.cost import Cost
from lacunar.geometry import Point
from lacunar.layout import Coffer, Layout, Side
from lacunar.parts import Part
from lacunar.plan import Plan
from lacunar.survey import Room
from lacunar.tolerances import CONTACT

HANGING = frozenset({"existing beam", "main beam", "cross beam", "half beam", "moulding"})
"""Kinds that hang below the slats and frame the coffers."""

NEW_BEAMS = frozenset({"main beam", "cross beam", "half beam"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """One ceiling, with the outline of every part.

    Attributes:
        polygons: outline of each part with its holes, in the order of `parts`.
        by_id: part id to its index in `parts`.
        openings: coffer id to what is seen of it: its sides less the trim as cut.
        ids: of parts, coffers and boards.
        advised: remedies are tried, so that findings can tell of them.
    """

    config: Config
    room: Room
    layout: Layout
    parts: tuple[Part, ...]
    plan: Plan
    cost: Cost
    polygons: tuple[Polygon, ...]
    by_id: Mapping[str, int]
    openings: Mapping[str, BaseGeometry]
    ids: frozenset[str]
    advised: bool = True

    def of_kind(self, *kinds: str) -> tuple[Part, ...]:
        """Parts of these kinds, in order."""
        return tuple(part for part in self.parts if part.kind in kinds)

    def part(self, name: str) -> Part | None:
        """The part of this id."""
        return self.parts[self.by_id[name]] if name in self.by_id else None

    def polygon(self, name: str) -> Polygon:
        """The plan polygon of the part of this id."""
        return self.polygons[self.by_id[name]]

    @property
    def new_beams(self) -> tuple[Part, ...]:
        """Beams, pieces and half beams that still go up."""
        return self.of_kind(*NEW_BEAMS)

    @property
    def hanging(self) -> tuple[Part, ...]:
        """Beams of every kind and mouldings."""
        return self.of_kind(*HANGING)


def make_subject(
    config: Config, room: Room, layout: Layout, parts: tuple[Part, ...], plan: Plan, cost: Cost
) -> Subject:
    """Draw every outline once."""
    polygons = polygons_of([part.outline for part in parts], [part.holes for part in parts])
    trim = {coffer.id: list[Polygon]() for coffer in layout.coffers}
    for part, shape in zip(parts, polygons, strict=True):
        if part.kind == "trim" and part.coffer in trim:
            trim[part.coffer].append(shape)
    return Subject(
        config=config,
        room=room,
        layout=layout,
        parts=parts,
        plan=plan,
        cost=cost,
        polygons=polygons,
        by_id={part.id: i for i, part in enumerate(parts)},
        ids=frozenset(one.id for many in (parts, layout.coffers, plan.boards) for one in many),
        openings={c.id: opened(without(Polygon(c.outline), trim[c.id]), CONTACT) for c in layout.coffers},
    )


def lies_on(side: Side, point: Point, within: float) -> bool:
    """A point lies no further than so much off a coffer's side."""
    along, length = side.line.along(point), side.line.along(side.end)
    return abs(side.line.offset(point)) <= within and -within <= along <= length + within


def trim_along(subject: Subject, coffer: Coffer, side: int) -> Part | None:
    """The strip of trim on one side of a coffer, as cut."""
    for trim in subject.layout.trim:
        if trim.coffer == coffer.id and trim.side == side:
            return subject.part(trim.id)
    return None
