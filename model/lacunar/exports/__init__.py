"""Model files for CAD, printers and viewers: STEP, STL, GLB, USDZ."""

from collections.abc import Sequence
from pathlib import Path

from lacunar.exports.colours import Colour, colour_of
from lacunar.exports.glb import write_glb
from lacunar.exports.model import Model, model_of
from lacunar.exports.stl import write_stl_parts, write_stl_whole
from lacunar.parts import Part
from lacunar.solids import Solids

__all__ = [
    "Colour",
    "Model",
    "colour_of",
    "model_of",
    "write_glb",
    "write_step",
    "write_stl_parts",
    "write_stl_whole",
    "write_usdz",
]


def write_step(solids: Solids, parts: Sequence[Part], path: Path, title: str = "") -> None:
    """Write parts as STEP (AP242) in mm; see `lacunar.exports.xcaf.write_document`, which is loaded only now."""
    from lacunar.exports.xcaf import write_document

    write_document(solids, parts, path, title)


def write_usdz(model: Model, path: Path) -> None:
    """Write a model as USDZ; see `lacunar.exports.usdz`, which is loaded only now: its library is an extra."""
    from lacunar.exports.usdz import write_package

    write_package(model, path)
