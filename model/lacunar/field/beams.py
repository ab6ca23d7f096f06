"""Beams that hang there: where both ends meet the walls, how wide and how deep they are."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Literal

from lacunar.errors import Problem
from lacunar.field.sheet_row import Row, Values, shown
from lacunar.field.sketch import Sketch
from lacunar.geometry import Line
from lacunar.layout import Bar
from lacunar.tolerances import ARITHMETIC
from lacunar.units import INCH

BeamEnd = tuple[str, str, float]
"""Wall, corner that the distance is taken from, distance to the near face, mm."""

BEAM_END = re.compile(r"(?P<beam>\S+) at (?P<wall>[A-Z]{2}) from (?P<corner>[A-Z])")
SECTION = re.compile(r"(?P<beam>\S+) (?P<key>width|depth) at (?P<wall>[A-Z]{2})|(?P<bowed>\S+) width half way")

DIFFER: Final = INCH / 4.0
"""mm. The two ends of a beam may differ by less: three standard deviations between two readings of 1.5 mm each."""

SECTION_LIMIT: Final = 2.0 * INCH
"""mm. How far off the design a width or depth may be: a guess by eye is as good. Own choice."""

Key = Literal["width", "middle", "depth"]


def beam_rows(sketch: Sketch) -> Iterator[Row]:
    """Of each beam: both ends along the walls; good to have, its width and depth."""
    for beam, ends in beam_ends(sketch).items():
        for wall, corner, at in ends:
            name, tape = f"{beam} at {wall} from {corner}", (sketch.places[corner], sketch.along(wall, corner, at))
            yield Row(stage="room", card="beam", short=name, design=at, ends=tape, note="to the near face")
    for beam, ends in beam_ends(sketch).items():
        yield from _section_rows(sketch, beam, ends, _design(sketch, beam))


def _section_rows(sketch: Sketch, beam: str, ends: Sequence[BeamEnd], design: Mapping[Key, float]) -> Iterator[Row]:
    names, (first, second) = _section_names(beam, ends), (sketch.along(*end) for end in ends)
    order: tuple[tuple[Key, int], ...] = (("width", 0), ("middle", 0), ("width", 1), ("depth", 0), ("depth", 1))
    for key, end in order:
        yield Row(
            stage="room",
            card="section",
            short=names[key][end],
            design=design[key],
            ends=(second, first) if end else (first, second),
            note="optional: to underside" if key == "depth" else "optional: square across",
            optional=True,
            limit=SECTION_LIMIT,
        )


def _section_names(beam: str, ends: Sequence[BeamEnd]) -> Mapping[Key, tuple[str, ...]]:
    """Of the rows of a beam's widths and depths, from its first end on."""
    return {
        "width": tuple(f"{beam} width at {wall}" for wall, _, _ in ends),
        "middle": (f"{beam} width half way",),
        "depth": tuple(f"{beam} depth at {wall}" for wall, _, _ in ends),
    }


def _design(sketch: Sketch, name: str) -> Mapping[Key, float]:
    if (even := sketch.even) is not None:
        return {"width": even.width, "middle": even.width, "depth": even.depth}
    beam = next(beam for beam in sketch.beams if beam.name == name)
    return {"width": beam.width, "middle": beam.middle or beam.width, "depth": beam.depth}


def beam_ends(sketch: Sketch) -> dict[str, tuple[BeamEnd, ...]]:
    """Both ends of every beam that hangs there; of evenly spread ones as they were drawn."""
    found = {
        beam.name: tuple((end.wall, end.from_, end.at) for end in beam.ends) for beam in sketch.beams if not beam.new
    }
    if sketch.even is None or sketch.layout is None:
        return found
    walls = sketch.even.between
    corners = (walls[0][0], walls[1][1])
    for bar in sketch.layout.beams:
        if bar.kind == "existing beam":
            ends = zip(walls, corners, strict=True)
            found[bar.id] = tuple((wall, corner, _near_face(sketch, bar, wall, corner)) for wall, corner in ends)
    return found


def _near_face(sketch: Sketch, bar: Bar, wall: str, corner: str) -> float:
    """Along a wall from its corner to the nearest point of a beam that stands against it."""
    line = Line.through(sketch.places[corner], sketch.places[wall.replace(corner, "", 1)])
    offsets = [abs(line.offset(p)) for p in bar.outline]
    nearest = sorted(offsets)[1]
    return min(line.along(p) for p, off in zip(bar.outline, offsets, strict=True) if off <= nearest + 1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class BeamSection:
    """What was read of one beam's width or depth.

    Attributes:
        names: of its rows: two ends, or half way alone.
        read: mm, those that have a value.
    """

    beam: str
    key: Key
    names: tuple[str, ...]
    read: tuple[float, ...]

    @property
    def missing(self) -> bool:
        """Begun, but not at both ends."""
        return 0 < len(self.read) < len(self.names)

    @property
    def differs(self) -> float:
        """By how much the two ends differ, mm, where that is too much to take their mean; else 0."""
        by = max(self.read, default=0.0) - min(self.read, default=0.0)
        return by if by > DIFFER - ARITHMETIC else 0.0

    @property
    def mean(self) -> float:
        """What belongs in the config, mm."""
        return sum(self.read) / len(self.read)


def sections(sketch: Sketch, values: Values) -> tuple[BeamSection, ...]:
    """Every width and depth that something was read of."""
    found: list[BeamSection] = []
    for beam, ends in beam_ends(sketch).items():
        for key, names in _section_names(beam, ends).items():
            read = tuple(values[name] for name in names if name in values)
            found += [BeamSection(beam=beam, key=key, names=names, read=read)] if read else []
    return tuple(found)


def uneven(filled: Path, sketch: Sketch, values: Values, lines: Mapping[str, int]) -> tuple[Problem, ...]:
    """Beams whose two ends are not one width or depth, by the lines of the file that they were read from."""
    found: list[Problem] = []
    for section in sections(sketch, values):
        if section.differs:
            (first, second), (a, b) = section.names, (shown(mm, sketch.units) for mm in section.read)
            apart, limit = shown(section.differs, sketch.units), shown(DIFFER, sketch.units)
            what = f"got {b}, and line {lines[first]} has {a} for {first}: {apart} apart, must be less than {limit}"
            fix = "measure again; if it is so, give what lies half way between by hand"
            found.append(Problem(where=f"{filled.name}:{lines[second]} {second}", what=what, fix=fix))
    return tuple(found)
