"""Points, lines, planes and rings in the plan. Millimetres and radians; x right, y up the page, z up."""

from lacunar.geometry.ends import crossings, end_mitres, extent
from lacunar.geometry.line import Line, Segment, dot, middle, moved
from lacunar.geometry.plane import Plane
from lacunar.geometry.ring import (
    Point,
    Point3,
    Ring,
    area,
    centroid,
    counter_clockwise,
    signed_area,
    tidy,
)

__all__ = [
    "Line",
    "Plane",
    "Point",
    "Point3",
    "Ring",
    "Segment",
    "area",
    "centroid",
    "counter_clockwise",
    "crossings",
    "dot",
    "end_mitres",
    "extent",
    "middle",
    "moved",
    "signed_area",
    "tidy",
]
