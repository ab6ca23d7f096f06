"""Every piece of wood as a frozen part: shape, cuts, pockets, nails; its volume and its mesh."""

from lacunar.layout import Cutaway, End, PartKind
from lacunar.parts.cut import cut_to, fitting_lengths, shaped
from lacunar.parts.drilling import Drilling, Face, drilled, drillings, undrilled
from lacunar.parts.faces import HANDS, face_lengths, face_reach, faced
from lacunar.parts.facing import bar_beside
from lacunar.parts.field import FieldChange, apply_field, as_done, field_changes, field_sheets, waits_for
from lacunar.parts.make import make_parts
from lacunar.parts.mesh import Mesh, mesh, prism_mesh
from lacunar.parts.naming import (
    beside,
    end_name,
    face_name,
    longer_face,
    natural,
    pocket_name,
    reach_past,
    sawn_to,
)
from lacunar.parts.part import BEAM_PIECES, Hand, Part, Pocket, PocketHole, lift, rings
from lacunar.parts.pocket_places import PocketPlace, pocket_places
from lacunar.parts.row_marks import FaceMarks, RowMark, row_marks
from lacunar.parts.volume import gross_volume, pocket_volume, volume

__all__ = [
    "BEAM_PIECES",
    "HANDS",
    "Cutaway",
    "Drilling",
    "End",
    "Face",
    "FaceMarks",
    "FieldChange",
    "Hand",
    "Mesh",
    "Part",
    "PartKind",
    "Pocket",
    "PocketHole",
    "PocketPlace",
    "RowMark",
    "apply_field",
    "as_done",
    "bar_beside",
    "beside",
    "cut_to",
    "drilled",
    "drillings",
    "end_name",
    "face_lengths",
    "face_name",
    "face_reach",
    "faced",
    "field_changes",
    "field_sheets",
    "fitting_lengths",
    "gross_volume",
    "lift",
    "longer_face",
    "make_parts",
    "mesh",
    "natural",
    "pocket_name",
    "pocket_places",
    "pocket_volume",
    "prism_mesh",
    "reach_past",
    "rings",
    "row_marks",
    "sawn_to",
    "shaped",
    "undrilled",
    "volume",
    "waits_for",
]
