"""The ceiling arranged in the plan: beams, coffers, slats, trim and cut-outs as exact polygons."""

from lacunar.layout.arrange import arrange_layout
from lacunar.layout.faces import surface_over
from lacunar.layout.gaps import OpenGap, PlaneStep, ceiling_gaps, ceiling_steps, gap_at
from lacunar.layout.member import Cutaway, End, Member, PartKind, Size, of_base
from lacunar.layout.nails import ALONG, ENOUGH
from lacunar.layout.no_nail import NoNailZone, barred_nails, no_nail_zones
from lacunar.layout.overhead import USUAL_SPACING
from lacunar.layout.overhead_lines import OverheadLines, OverheadMark, overhead_lines
from lacunar.layout.pitch import Running, RunningMark, running_dimensions
from lacunar.layout.polygons import holes_of, ring_of
from lacunar.layout.slats import LEAST_TONGUE
from lacunar.layout.squaring import nearest_mark
from lacunar.layout.types import (
    Bar,
    Coffer,
    CofferStrip,
    CutOut,
    DressedStock,
    FurringLayer,
    FurringStrip,
    JoistLines,
    Layout,
    Nailing,
    Side,
    Slat,
)

__all__ = [
    "ALONG",
    "ENOUGH",
    "LEAST_TONGUE",
    "USUAL_SPACING",
    "Bar",
    "Coffer",
    "CofferStrip",
    "CutOut",
    "Cutaway",
    "DressedStock",
    "End",
    "FurringLayer",
    "FurringStrip",
    "JoistLines",
    "Layout",
    "Member",
    "Nailing",
    "NoNailZone",
    "OpenGap",
    "OverheadLines",
    "OverheadMark",
    "PartKind",
    "PlaneStep",
    "Running",
    "RunningMark",
    "Side",
    "Size",
    "Slat",
    "arrange_layout",
    "barred_nails",
    "ceiling_gaps",
    "ceiling_steps",
    "gap_at",
    "holes_of",
    "nearest_mark",
    "no_nail_zones",
    "of_base",
    "overhead_lines",
    "ring_of",
    "running_dimensions",
    "surface_over",
]
