"""Points, lines, planes and rings in the plan. Millimetres and radians; x right, y up the page, z up."""

from lacunar.geometry.ends import end_mitres, extent
from lacunar.geometry.line import Line
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
    "area",
    "centroid",
    "counter_clockwise",
    "end_mitres",
    "extent",
    "signed_area",
    "tidy",
]
