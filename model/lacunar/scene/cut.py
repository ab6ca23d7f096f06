"""What a section shows: cut faces and dimensions in its own plane."""

import math
from dataclasses import dataclass
from typing import Literal

from lacunar.geometry import Point

FaceKind = Literal["beam", "moulding", "slat", "trim", "furring", "wall", "old ceiling", "joist", "beyond"]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutFace:
    """One cut face.

    Attributes:
        name: part's id, "joist 3", "old ceiling".
        kind: of it.
        ring: (along the cut, height), mm.
        material: name, or "".
        end_grain: the cut goes across its grain.
        word: what it is called in the picture, where its kind does not say so.
    """

    name: str
    kind: FaceKind
    ring: tuple[Point, ...]
    material: str = ""
    end_grain: bool = False
    word: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """A dimension between two places of the cut, mm; level or plumb. `side`: where its line is drawn."""

    name: str
    start: Point
    end: Point
    side: Literal["above", "below", "left", "right"]

    @property
    def size(self) -> float:
        """Length in mm."""
        return math.dist(self.start, self.end)


@dataclass(frozen=True, slots=True, kw_only=True)
class CutView:
    """One section or detail.

    Attributes:
        title: what it shows.
        faces: far ones first.
        measures: what is measured.
        window: u from, u to, z from, z to.
    """

    title: str
    faces: tuple[CutFace, ...]
    measures: tuple[Measure, ...]
    window: tuple[float, float, float, float]
