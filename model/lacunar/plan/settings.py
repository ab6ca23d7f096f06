"""Saw settings: parts that are cut at one position of the stop, the rip fence or the mitre."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from lacunar.parts import Part
from lacunar.plan.saw import Saw
from lacunar.plan.sticks import Stick
from lacunar.plan.types import Setting
from lacunar.tolerances import ARITHMETIC
from lacunar.units import INCH, nearest_mark

JOINT_OPENS = INCH / 64.0
"""mm. A joint that opens no more is closed. Source: common practice, no source."""

NICE_ANGLE = 0.1
"""Degrees. Mitre settings are rounded to it where that still closes every joint: what a saw's scale shows."""

MITRE = 45.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Stops:
    """Where the stop stands.

    Attributes:
        where: part id to mm, in the order in which they are cut.
        apart: parts that are cut to measure, for no mark lies in their interval.
    """

    where: Mapping[str, float]
    apart: frozenset[str]


def make_settings(sticks: Sequence[Stick], stops: Stops, saw: Saw) -> tuple[Setting, ...]:
    """Stops in the order of cutting; fences and mitres by stock, the widest and steepest first.

    A part may be in several. Square cuts need no mitre setting.
    """
    return (*_stops(sticks, stops), *_fences(sticks, saw), *_mitres(sticks, saw))


def opening(width: float, cut_deg: float, true_deg: float, cuts: int) -> float:
    """How far a joint opens where its strips are cut at a wrong angle.

    A strip of width w cut at a has a face of w / cos(a). Where each of the joint's `cuts` faces (2 in a mitre, 1
    against a beam's side) is turned from its true place by a - b, the two faces that should touch along their whole
    length touch at one end only and lean apart by cuts |a - b|. Square to one face, at its far end, they are
    w / cos(a) tan(cuts |a - b|) apart.
    """
    face = width / math.cos(math.radians(cut_deg))
    return face * math.tan(math.radians(min(cuts * abs(cut_deg - true_deg), 89.0)))


Kind = tuple[str, str]
"""Stock and species."""


def _kind(stick: Stick) -> Kind:
    return stick.stock, stick.part.species


def _stops(sticks: Sequence[Stick], stops: Stops) -> tuple[Setting, ...]:
    kinds = {stick.id: _kind(stick) for stick in sticks}
    groups: dict[tuple[Kind, float, bool], list[str]] = {}
    for name, stop in stops.where.items():
        groups.setdefault((kinds[name], stop, name in stops.apart), []).append(name)
    order = {stick.id: i for i, stick in enumerate(sticks)}
    return tuple(
        Setting(
            id=f"stop-{i}",
            stock=stock,
            species=species,
            stop=stop,
            parts=tuple(sorted(names, key=order.__getitem__)),
            apart=apart,
        )
        for i, (((stock, species), stop, apart), names) in enumerate(groups.items(), 1)
    )


def _fences(sticks: Sequence[Stick], saw: Saw) -> tuple[Setting, ...]:
    """By width; tapered rips by both widths, with the wider one as the fence's."""
    groups: dict[tuple[Kind, float, float], list[str]] = {}
    for stick in sticks:
        part = stick.part
        if part.ripped:
            width = nearest_mark(part.width, saw.tape.fine)
            end = width if part.width_end is None else nearest_mark(part.width_end, saw.tape.fine)
            groups.setdefault((_kind(stick), -max(width, end), -min(width, end)), []).append(part.id)
    return tuple(
        Setting(
            id=f"fence-{i}",
            stock=stock,
            species=species,
            fence=-wide,
            fence_end=None if narrow == wide else -narrow,
            parts=tuple(groups[(stock, species), wide, narrow]),
        )
        for i, ((stock, species), wide, narrow) in enumerate(sorted(groups), 1)
    )


@dataclass(frozen=True, slots=True)
class _End:
    """One end's cut that is not square, with the saw's angle nearest at hand and what its joint forgives."""

    part: str
    width: float
    true_deg: float
    usual_deg: float
    cuts: int
    limit: float

    def closes_at(self, cut_deg: float) -> bool:
        return opening(self.width, cut_deg, self.true_deg, self.cuts) <= self.limit + ARITHMETIC

    @property
    def reach(self) -> tuple[float, float]:
        """Cuts that close the joint, from and to, degrees: a little narrower than they are, for cos(a) changes."""
        steep = math.cos(math.radians(min(abs(self.true_deg) + 2.0, 89.0)))
        slack = min(math.degrees(math.atan(self.limit * steep / self.width)) / self.cuts, 2.0)
        return self.true_deg - slack, self.true_deg + slack


def _mitres(sticks: Sequence[Stick], saw: Saw) -> tuple[Setting, ...]:
    """The usual angle where it closes the joint, and for the rest as few angles as will do."""
    ends: dict[Kind, list[_End]] = {}
    for stick in sticks:
        ends.setdefault(_kind(stick), []).extend(_ends(stick.part, saw))
    found: list[tuple[Kind, float, tuple[str, ...]]] = []
    for kind in sorted(ends):
        angles = _angles(ends[kind])
        found += [(kind, angle, angles[angle]) for angle in sorted(angles, reverse=True) if angle]
    return tuple(
        Setting(id=f"mitre-{i}", stock=stock, species=species, mitre_deg=angle, parts=names)
        for i, ((stock, species), angle, names) in enumerate(found, 1)
    )


def _ends(part: Part, saw: Saw) -> list[_End]:
    mitred = part.kind == "trim" and saw.trim.is_mitred
    # A slat's end hides behind the trim: there it may open as far as the mark that its length is cut to.
    limit = saw.tape.read_to if part.kind == "slat" else JOINT_OPENS
    return [
        _End(
            part=part.id,
            width=max(part.width, part.width_end or 0.0),
            true_deg=end.mitre_deg,
            usual_deg=math.copysign(MITRE, end.mitre_deg) if mitred else 0.0,
            cuts=2 if mitred else 1,
            limit=limit,
        )
        for end in part.ends
    ]


def _angles(ends: Sequence[_End]) -> Mapping[float, tuple[str, ...]]:
    """Angle to the parts that are cut at it."""
    groups: dict[float, list[_End]] = {}
    rest: list[_End] = []
    for end in ends:
        if end.closes_at(end.usual_deg):
            groups.setdefault(end.usual_deg, []).append(end)
        else:
            rest.append(end)
    for group in _stabbed(rest):
        groups.setdefault(_shared_angle(group), []).extend(group)
    order = {end.part: i for i, end in reversed(list(enumerate(ends)))}
    return {angle: tuple(sorted({end.part for end in group}, key=order.__getitem__)) for angle, group in groups.items()}


def _stabbed(ends: Sequence[_End]) -> list[list[_End]]:
    """The fewest groups that can share an angle: those whose reach holds the first reach's upper end."""
    groups: list[list[_End]] = []
    shared = -math.inf
    for end in sorted(ends, key=lambda end: (end.reach[1], end.true_deg)):
        if end.reach[0] > shared:
            shared = end.reach[1]
            groups.append([])
        groups[-1].append(end)
    return groups


def _shared_angle(group: Sequence[_End]) -> float:
    """The middle of what all can share, on the saw's scale where that is still shared by all."""
    low, high = max(end.reach[0] for end in group), min(end.reach[1] for end in group)
    middle = (low + high) / 2.0
    nice = round(round(middle / NICE_ANGLE) * NICE_ANGLE, 9)
    return nice if low <= nice <= high else middle
