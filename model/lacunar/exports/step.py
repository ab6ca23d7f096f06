"""STEP (AP242) in mm: a tree of our own, because names have to stand on products and on their occurrences alike."""

from collections.abc import Sequence
from pathlib import Path

from lacunar.parts import Part
from lacunar.solids import Solids


def write_step(solids: Solids, parts: Sequence[Part], path: Path, title: str = "") -> None:
    """Write parts as an assembly: ceiling > coffer > part, alike parts as occurrences of one product.

    Args:
        solids: of these parts.
        parts: in the order of the tree.
        path: of the file.
        title: of the ceiling, for the header; accents are dropped.

    Raises:
        ExportError: the file cannot be written.
    """
    from lacunar.exports.xcaf import write_document

    write_document(solids, parts, path, title)
