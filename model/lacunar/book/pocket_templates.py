"""A template for the pockets of a piece's end: where the drill enters its face, and at what angle."""

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Final

from lacunar.book.flat_templates import Template
from lacunar.drawings import Spot, Stroke, Text
from lacunar.parts import Hand, Part, Pocket, PocketPlace, end_name, face_name, pocket_places
from lacunar.tape import Tape

ALIKE: Final = 1.0
"""mm. Pockets that differ by less share a template: no guide is held more closely. Common practice, no source."""
MORE: Final = 40.0
"""mm. Of the face that is shown beyond the last pocket."""
TURNS: Final = 36
MOST: Final = 60
"""Faces that are named."""
HANDS: Final[tuple[Hand, Hand]] = ("left", "right")


def places_on(part: Part, end: int, hand: Hand) -> tuple[PocketPlace, ...]:
    """Of the pockets that are drilled into one face at one end, the highest first."""
    mine = [place for place in pocket_places(part) if (place.pocket.end, place.pocket.side) == (end, hand)]
    return tuple(sorted(mine, key=lambda place: -place.pocket.mouth[2]))


def _angle(pocket: Pocket) -> float:
    """Between the drill and the face, radians."""
    across = abs(pocket.direction[0] * pocket.normal[0] + pocket.direction[1] * pocket.normal[1])
    return math.asin(min(across, 1.0))


def pocket_templates(parts: Sequence[Part], tape: Tape) -> Iterator[Template]:
    """One for each way that pockets lie on a face, with the faces that it is for."""
    ways: list[_Way] = []
    for part in parts:
        for end, hand in itertools.product((0, 1), HANDS):
            if not (holes := places_on(part, end, hand)):
                continue
            # Who looks at the left face of an axis sees the end that comes first at the right.
            way = _Way(holes=holes, depth=part.thickness, at_right=(end == 0) == (hand == "left"))
            known = next((other for other in ways if other.serves(way)), way)
            if known is way:
                ways.append(way)
            known.users.append(f"{part.id}: {face_name(part, hand)}, {end_name(part, end)}")
    yield from (_template(f"pockets {number}", way, tape) for number, way in enumerate(ways, start=1))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Way:
    """How pockets lie on a face, seen by who looks at it, and the faces where they do."""

    holes: tuple[PocketPlace, ...]
    depth: float
    at_right: bool
    users: list[str] = field(default_factory=list[str])

    def serves(self, other: "_Way") -> bool:
        if (self.at_right, len(self.holes)) != (other.at_right, len(other.holes)):
            return False
        pairs = [*zip(self.holes, other.holes, strict=True)]
        mixed = len({one.pocket.level for one in self.holes}) > 1
        sizes = [(self.depth, other.depth)] if mixed else []
        sizes += [pair for a, b in pairs for pair in ((a.from_end, b.from_end), (a.from_edge, b.from_edge))]
        alike = all(_sort(a.pocket) == _sort(b.pocket) for a, b in pairs)
        return alike and all(abs(a - b) <= ALIKE for a, b in sizes)


def _sort(pocket: Pocket) -> tuple[object, ...]:
    return pocket.level, pocket.bore, round(_angle(pocket), 6)


def _template(name: str, way: _Way, tape: Tape) -> Template:
    wide, depth = max(one.from_end for one in way.holes) + MORE, way.depth

    def x(from_end: float) -> float:
        return wide - from_end if way.at_right else from_end

    strokes = [
        Stroke(points=((0.0, 0.0), (wide, 0.0)), width=0.5),
        Stroke(points=((0.0, depth), (wide, depth)), width=0.5),
        Stroke(points=((x(0.0), 0.0), (x(0.0), depth)), width=0.9),
    ]
    labels = (
        Text(at=(wide / 2.0, 3.0), text="top edge", size=7.5, anchor="centre"),
        Text(at=(wide / 2.0, depth - 3.0), text="bottom edge", size=7.5, anchor="centre"),
        Text(at=(x(3.5), depth / 2.0), text="end of the piece", size=7.5, anchor="centre", turn=math.pi / 2.0),
    )
    for one in way.holes:
        at = (x(one.from_end), one.from_edge if one.pocket.level == "high" else depth - one.from_edge)
        strokes += _mouth_strokes(at, one.pocket, x(0.0))
    return Template(
        name=name,
        shows="prick through it, drill towards the end",
        size=(wide, depth),
        strokes=tuple(strokes),
        labels=labels,
        notes=(*_words(way.holes, tape), "For " + _listed(way.users)),
    )


def _listed(users: Sequence[str]) -> str:
    more = len(users) - MOST
    return "; ".join(users[:MOST]) + (f"; and {more} more that look the same" if more > 0 else "")


def _mouth_strokes(at: Spot, pocket: Pocket, end: float) -> Iterator[Stroke]:
    """The mouth's outline, its middle, and the way of the drill."""
    half = (pocket.bore / 2.0 / math.sin(_angle(pocket)), pocket.bore / 2.0)
    turns = [2.0 * math.pi * n / TURNS for n in range(TURNS + 1)]
    ring = tuple((at[0] + half[0] * math.cos(turn), at[1] + half[1] * math.sin(turn)) for turn in turns)
    yield Stroke(points=ring, width=0.4)
    for dx, dy in ((6.0, 0.0), (0.0, 6.0)):
        yield Stroke(points=((at[0] - dx, at[1] - dy), (at[0] + dx, at[1] + dy)), width=0.2)
    yield Stroke(points=(at, (end, at[1])), width=0.2, dashed=True)


def _words(holes: Sequence[PocketPlace], tape: Tape) -> Iterator[str]:
    for one in holes:
        pocket = one.pocket
        edge, edge_at = "top" if pocket.level == "high" else "bottom", tape.text(one.from_edge, "inches", tape.fine)
        depth, bore = (tape.text(mm, "inches", tape.fine) for mm in (one.depth, pocket.bore))
        yield (
            f"{pocket.level} pocket: {tape.text(one.from_end, 'inches')} from the end, {edge_at} from the {edge}, "
            f"{math.degrees(_angle(pocket)):.3g} deg to the face, bore {bore}, {depth} deep along the hole"
        )
