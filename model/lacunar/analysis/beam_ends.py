"""What the ends of beams that go up come up to: how their bottoms meet, and how screws bite in a hollow beam."""

from collections.abc import Sequence
from dataclasses import dataclass

from lacunar.analysis.bores import way_out
from lacunar.analysis.subject import Subject
from lacunar.geometry import Line, Point
from lacunar.layout import Bar
from lacunar.parts import Pocket
from lacunar.tolerances import ARITHMETIC


@dataclass(frozen=True, slots=True, kw_only=True)
class BeamEnd:
    """One end of a beam or piece that goes up, mm.

    Attributes:
        part: id.
        against: id of the bar, or name of the wall, that it comes up to.
        off: how much higher its bottom is there than wished; negative where lower; None at walls and mouldings.
        bite: how much of a screw bites in the shell of a hollow beam, at the least; 0 without screws; None elsewhere.
        edge: from a screw to the nearer edge of that shell, at the least; negative where it misses; None without.
    """

    part: str
    against: str
    off: float | None
    bite: float | None
    edge: float | None


def beam_ends(subject: Subject) -> tuple[BeamEnd, ...]:
    """Both ends of each in order."""
    hollow = {bar.id: bar for bar in subject.layout.beams if bar.kind == "existing beam" and bar.made == "hollow"}
    found: list[BeamEnd] = []
    for part in subject.new_beams:
        cross = subject.config.cross_beams if part.kind == "cross beam" else None
        # Half the clearance is left open at each end of a piece.
        step, gap = (0.0, 0.0) if cross is None else (cross.bottom, cross.joint.clearance / 2.0)
        for end, (point, name) in enumerate(zip(part.axis, part.meets, strict=True)):
            met, pockets = subject.part(name), [pocket for pocket in part.pockets if pocket.end == end]
            off = None
            if met is not None and met.kind != "moulding":
                off = part.bottom.at(point) - met.bottom.at(point) - step
            bite, edge = _in_shell(hollow[name], pockets, gap) if name in hollow else (None, None)
            found.append(BeamEnd(part=part.id, against=name, off=off, bite=bite, edge=edge))
    return tuple(found)


def _in_shell(bar: Bar, pockets: Sequence[Pocket], gap: float) -> tuple[float, float | None]:
    side = Line.through(*bar.axis).left
    edges = [min(bar.top.at((x, y)) - z, z - bar.bottom.at((x, y))) for x, y, z in map(way_out, pockets)]
    return min((_bite(pocket, side, bar.shell, gap) for pocket in pockets), default=0.0), min(edges, default=None)


def _bite(pocket: Pocket, side: Point, shell: float, gap: float) -> float:
    """Along the screw: what of it is past the end grain and the joint, as far as the shell is thick."""
    square = max(abs(pocket.direction[0] * side[0] + pocket.direction[1] * side[1]), ARITHMETIC)
    return max(0.0, min(pocket.screw - pocket.pilot_length - gap / square, shell / square))
