"""Every piece of wood as a frozen part: shape, cuts, pockets, nails; its volume and its mesh."""

from lacunar.parts.cut import cut_to, fitting_lengths
from lacunar.parts.drilling import Drilling, Face, drilled, drillings, pocket_reach, undrilled
from lacunar.parts.field import Change, apply_field, as_drawn, field_changes, field_sheets
from lacunar.parts.make import make_parts
from lacunar.parts.mesh import Mesh, mesh, prism_mesh
from lacunar.parts.part import Cutaway, End, Part, PartKind, Pocket, lift, rings
from lacunar.parts.volume import gross_volume, pocket_volume, volume

__all__ = [
    "Change",
    "Cutaway",
    "Drilling",
    "End",
    "Face",
    "Mesh",
    "Part",
    "PartKind",
    "Pocket",
    "apply_field",
    "as_drawn",
    "cut_to",
    "drilled",
    "drillings",
    "field_changes",
    "field_sheets",
    "fitting_lengths",
    "gross_volume",
    "lift",
    "make_parts",
    "mesh",
    "pocket_reach",
    "pocket_volume",
    "prism_mesh",
    "rings",
    "undrilled",
    "volume",
]
