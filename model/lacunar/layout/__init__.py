"""The ceiling arranged in the plan: beams, coffers, slats, trim and cut-outs as exact polygons."""

from lacunar.layout.arrange import arrange_layout
from lacunar.layout.faces import surface_over
from lacunar.layout.gaps import Gap, Step, ceiling_gaps, ceiling_steps, gap_at
from lacunar.layout.nails import ALONG, ENOUGH
from lacunar.layout.pitch import Running, RunningMark, running_dimensions
from lacunar.layout.polygons import holes_of, ring_of
from lacunar.layout.squaring import nearest_mark
from lacunar.layout.types import (
    Bar,
    Coffer,
    CutOut,
    Furring,
    FurringLayer,
    Joists,
    Layout,
    Material,
    Nailing,
    Notch,
    Pocketing,
    Side,
    Slat,
    Trim,
)

__all__ = [
    "ALONG",
    "ENOUGH",
    "Bar",
    "Coffer",
    "CutOut",
    "Furring",
    "FurringLayer",
    "Gap",
    "Joists",
    "Layout",
    "Material",
    "Nailing",
    "Notch",
    "Pocketing",
    "Running",
    "RunningMark",
    "Side",
    "Slat",
    "Step",
    "Trim",
    "arrange_layout",
    "ceiling_gaps",
    "ceiling_steps",
    "gap_at",
    "holes_of",
    "nearest_mark",
    "ring_of",
    "running_dimensions",
    "surface_over",
]
