"""The room as it is: the old ceiling and the beams that hang there, and none of the new."""

from dataclasses import replace

from lacunar.layout import Layout
from lacunar.parts import Part

HANGS_THERE = ("existing beam", "moulding")
"""Kinds of parts that nobody makes."""


def as_it_is(parts: tuple[Part, ...], layout: Layout) -> tuple[tuple[Part, ...], Layout]:
    """The parts that hang there, and a layout of nothing else."""
    return tuple(part for part in parts if part.kind in HANGS_THERE), replace(
        layout,
        pieces=(),
        half_beams=(),
        coffers=(),
        slats=(),
        trim=(),
        furring=None,
        slat=replace(layout.slat, thickness=0.0),
        trim_strip=replace(layout.trim_strip, thickness=0.0),
        cut_outs=tuple(replace(hole, coffer=None) for hole in layout.cut_outs),
    )
