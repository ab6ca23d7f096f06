"""Ceilings for the tests of the checks: good ones out of a config, blocks made by hand, and ways to spoil both."""

import math
import re
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import manifold3d
import numpy as np

from lacunar.analysis import Analysis, Subject, analyse, arrange, make_subject, plan_parts
from lacunar.checks import CHECKS, Finding
from lacunar.config import read_config_text
from lacunar.cost import make_cost
from lacunar.geometry import Line, Plane, Point, Ring
from lacunar.parts import Part, PartKind
from lacunar.survey import solve_survey

SQUARE = """
title = "Square"
units = "mm"
read_to = 1
house = { built = 2001 }
[room]
height = 2500
[room.measured]
AB = 4000
BC = 3000
CD = 4000
DA = 3000
AC = 5000
BD = 5000
[[beam]]
name = "E1"
width = 100
depth = 140
middle = 100
made = "solid"
ends = [{ wall = "AB", from = "A", at = 1950 }, { wall = "CD", from = "D", at = 1950 }]
[cross_beams]
stock = "100x140"
width = 100
depth = 140
rows = 1
wall_end = "ledger"
joint = { low = 0, clearance = 1 }
[slats]
width = 90
thickness = 20
run = "across"
gap = 6
end_gap = 6
edge_gap = 6
[trim]
width = 20
height = 20
least_overlap = 6
[framing]
joists = { along = "DA", first = 200, spacing = 400 }
old_ceiling = { kind = "plasterboard", thickness = 13 }
[fasteners]
slat = { kind = "finish nail", gauge = 16, length = 64 }
[finish]
behind = "flat black"
[[fixture]]
name = "lamp"
shape = "round"
size = 100
canopy = 130
at = { AB = 725, DA = 900 }
"""
"""Four coffers of 1950 by 1450 mm: 15 slats of 1938 mm each, edge gaps 8 mm, everything given and nothing wrong."""

SKEWED = """
title = "Skewed"
units = "in"
[room]
heights = { A = "9 ft", B = "9 ft 1/2 in", C = "8 ft 11 3/4 in", D = "8 ft 11 1/2 in", centre = "8 ft 11 3/4 in" }
[room.measured]
AB = "13 ft 2 3/8 in"
BC = "10 ft 7 in"
CD = "13 ft 1 1/2 in"
DA = "10 ft 7 7/8 in"
AC = "16 ft 10 7/8 in"
[[beam]]
name = "E1"
width = "3 1/2 in"
depth = "7 1/4 in"
made = "solid"
ends = [{ wall = "AB", from = "A", at = "4 ft 2 in" }, { wall = "CD", from = "D", at = "4 ft 3 1/4 in" }]
[[beam]]
name = "E2"
width = "3 1/2 in"
depth = "7 1/4 in"
made = "hollow 3/4 in"
ends = [{ wall = "AB", from = "B", at = "4 ft 1 1/4 in" }, { wall = "CD", from = "C", at = "4 ft 3/4 in" }]
[cross_beams]
stock = "4x8"
rows = 2
walls = "half beam"
[slats]
stock = "1x4"
run = "alternate"
[[fixture]]
name = "light"
shape = "round"
size = "4 in"
canopy = "5 in"
at = { AB = "5 ft 3 in", DA = "6 ft 7 in" }
[[fixture]]
name = "alarm"
shape = "square"
size = "1 1/2 in"
canopy = "6 in"
at = { AB = "1 ft 8 in", DA = "1 ft 8 in" }
"""
"""Nothing parallel or level; holed, notched, severed and tapered slats, scribed pieces, half beams."""


@cache
def ceiling(text: str = SQUARE, overrides: tuple[tuple[str, str], ...] = ()) -> Subject:
    """The whole way from a config to what the checks look at."""
    config = read_config_text(text, Path("room.toml"), overrides)
    room = solve_survey(config)
    layout, designed = arrange(config, room)
    plan, parts = plan_parts(designed, config)
    return make_subject(config, room, layout, parts, plan, make_cost(config, room, layout, parts, plan))


_ANALYSED: dict[int, tuple[Subject, Analysis]] = {}


def analysed(subject: Subject) -> Analysis:
    """What is worked out of a ceiling, once for each: the ceiling is kept, so that no other gets its place.

    A plan of other parts than are there, as in spoiled ceilings, says nothing of what else would be bought.
    """
    if id(subject) not in _ANALYSED:
        plan, unserved = subject.plan, {one.part for one in subject.plan.unserved}
        cut = {cut.part: board.stock for board in plan.boards for cut in board.cuts}
        mine = {part.id: part.stock for part in subject.parts if part.bought and part.id not in unserved}
        judged = subject if cut == mine else replace(subject, plan=replace(plan, sections=()))
        _ANALYSED[id(subject)] = (subject, analyse(judged))
    return _ANALYSED[id(subject)][1]


def remedied(text: str, fix: str) -> Subject:
    """The ceiling with the keys that a fix names, as a person writes them into the config."""
    keys = tuple(re.findall(r'([a-z_]+(?:\.\w+)+) = ("[^"]*"|[\w.]+)', fix))
    assert keys, fix
    return ceiling(text, keys)


def edited(text: str, *changes: tuple[str, str]) -> str:
    """A config's text with words replaced; each must stand there."""
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return text


def rebuilt(subject: Subject, **fields: Any) -> Subject:
    """The same ceiling with other parts, layout, plan, cost, config or room."""
    names = ("config", "room", "layout", "parts", "plan", "cost")
    return make_subject(*(fields.get(name, getattr(subject, name)) for name in names))


def spoiled(subject: Subject, name: str, change: Callable[[Part], Part]) -> Subject:
    """The same ceiling with one part changed."""
    parts = tuple(change(part) if part.id == name else part for part in subject.parts)
    return rebuilt(subject, parts=parts)


def found(check: str, subject: Subject) -> tuple[Finding, ...]:
    """What one check says."""
    return CHECKS[check](subject, analysed(subject))


def one(check: str, subject: Subject) -> Finding:
    """The only thing that one check says."""
    findings = found(check, subject)
    assert len(findings) == 1, findings
    return findings[0]


def levels(check: str, subject: Subject) -> list[str]:
    """Levels of what one check says."""
    return [finding.level for finding in found(check, subject)]


def part_of(subject: Subject, name: str) -> Part:
    part = subject.part(name)
    assert part is not None, name
    return part


def moved(part: Part, dx: float = 0.0, dy: float = 0.0, dz: float = 0.0) -> Part:
    """A part somewhere else; its pockets and nails stay behind."""

    def at(ring: Ring) -> Ring:
        return tuple((x + dx, y + dy) for x, y in ring)

    def plane(old: Plane) -> Plane:
        return Plane(z0=old.z0 - old.sx * dx - old.sy * dy + dz, sx=old.sx, sy=old.sy)

    a, b = at(part.axis)
    return replace(
        part,
        outline=at(part.outline),
        holes=tuple(at(hole) for hole in part.holes),
        bottom=plane(part.bottom),
        top=plane(part.top),
        axis=(a, b),
    )


def longer(part: Part, first: float, second: float) -> Part:
    """A square-cut part with each end moved out by so much."""
    axis = Line.through(*part.axis)
    half = axis.along(part.axis[1]) / 2.0

    def at(point: Point) -> Point:
        by = -first if axis.along(point) < half else second
        return (point[0] + by * axis.direction[0], point[1] + by * axis.direction[1])

    a, b = part.axis
    outline = tuple(at(point) for point in part.outline)
    return replace(part, outline=outline, axis=(at(a), at(b)), length=part.length + first + second)


def block(name: str, outline: Ring, low: Plane | float, high: Plane | float, kind: PartKind = "slat") -> Part:
    """A block made by hand: an outline, counter-clockwise, between two heights or planes."""
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    middle = (min(ys) + max(ys)) / 2.0
    return Part(
        id=name,
        kind=kind,
        face="F1",
        coffer=None,
        stock="block",
        species="pine",
        outline=outline,
        bottom=low if isinstance(low, Plane) else Plane(z0=low),
        top=high if isinstance(high, Plane) else Plane(z0=high),
        axis=((min(xs), middle), (max(xs), middle)),
        length=max(xs) - min(xs),
        width=max(ys) - min(ys),
        thickness=20.0,
        meets=("E1", "E2"),
        bought=True,
    )


def box(x: float, y: float, width: float, depth: float) -> Ring:
    """A rectangle from its lower left corner."""
    return ((x, y), (x + width, y), (x + width, y + depth), (x, y + depth))


def turned(ring: Ring, angle: float, about: Point = (0.0, 0.0)) -> Ring:
    """A ring turned counter-clockwise."""
    c, s = math.cos(angle), math.sin(angle)
    return tuple(
        (about[0] + c * (x - about[0]) - s * (y - about[1]), about[1] + s * (x - about[0]) + c * (y - about[1]))
        for x, y in ring
    )


def manifold(part: Part) -> Any:
    """The part as a solid of another library, before any pocket: its rings extruded, then moved to its planes."""
    rings = [np.array(part.outline)] + [np.array(hole[::-1]) for hole in part.holes]
    solid: Any = manifold3d.Manifold.extrude(manifold3d.CrossSection(rings, manifold3d.FillRule.Positive), 1.0)

    def lift(points: Any) -> Any:
        xyz = np.array(points)
        low = part.bottom.z0 + part.bottom.sx * xyz[:, 0] + part.bottom.sy * xyz[:, 1]
        high = part.top.z0 + part.top.sx * xyz[:, 0] + part.top.sy * xyz[:, 1]
        xyz[:, 2] = np.where(xyz[:, 2] > 0.5, high, low)
        return xyz

    return solid.warp_batch(lift)


def shared_volume(one: Part, other: Part) -> float:
    """Volume that two parts have in common, mm3, by the other library."""
    return float((manifold(one) ^ manifold(other)).volume())
