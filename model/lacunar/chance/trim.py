"""Strips of trim: too long they do not go in, too short their joints open."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lacunar.chance.errors import Errors, Floats, misread
from lacunar.layout import Coffer, CofferStrip, Layout
from lacunar.parts import Part
from lacunar.units import INCH

JOINT = INCH / 32.0
"""mm. A joint that opens no more is closed with wax or filler. Source: common practice, no source."""

SPRING = INCH / 32.0
"""mm. A strip that is no more too long is bent a little and sprung in. Source: common practice, no source."""

Bools = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """The strips of one coffer, in the order of its sides.

    Attributes:
        lengths: (n,) of each strip.
        opens: (n,) how far the joint after each strip opens for each mm that its two strips are back from it.
        mitred: both strips of a joint are cut to it; else each closes against the next one's face.
    """

    coffer: str
    parts: tuple[str, ...]
    lengths: Floats
    opens: Floats
    mitred: bool


def trim_rings(layout: Layout, parts: Sequence[Part], *, mitred: bool) -> tuple[Ring, ...]:
    """Coffer by coffer; coffers without trim are left out."""
    by_id = {part.id: part for part in parts}
    strips: dict[str, list[CofferStrip]] = {}
    for strip in layout.trim:
        if strip.id in by_id:
            strips.setdefault(strip.coffer, []).append(strip)
    return tuple(_ring(coffer, strips[coffer.id], by_id, mitred) for coffer in layout.coffers if coffer.id in strips)


def _ring(coffer: Coffer, strips: Sequence[CofferStrip], by_id: Mapping[str, Part], mitred: bool) -> Ring:
    ordered = sorted(strips, key=lambda strip: strip.side)
    lines = [coffer.sides[strip.side].line for strip in ordered]
    turns = [abs(line.angle_to(after)) for line, after in zip(lines, lines[1:] + lines[:1], strict=True)]
    return Ring(
        coffer=coffer.id,
        parts=tuple(strip.id for strip in ordered),
        lengths=np.array([by_id[strip.id].length for strip in ordered]),
        # The face of a mitre leans by half the turn: a strip that is back by d along its side opens it by d cos.
        opens=np.array([math.cos(turn / 2.0) for turn in turns]),
        mitred=mitred,
    )


def trim_errors(ring: Ring, errors: Errors, rng: np.random.Generator, trials: int) -> Floats:
    """(n, trials): how much longer each strip comes out than its side."""
    noise = rng.standard_normal((len(ring.parts), trials))
    read = np.stack(
        [misread(side, errors.sd(side) * row, errors.trim_mark) for side, row in zip(ring.lengths, noise, strict=True)]
    )
    return read + errors.trim_cut * rng.standard_normal(read.shape)


def closing(ring: Ring, off: Floats) -> Bools:
    """(n, trials): whether each strip goes in and closes its joints; what is missing is shared by both its ends."""
    back = np.maximum(-off, 0.0) / 2.0
    goes_in = off <= SPRING
    if not ring.mitred:
        return goes_in & (back <= JOINT)
    after = (back + np.roll(back, -1, axis=0)) * ring.opens[:, None] <= JOINT
    return goes_in & after & np.roll(after, 1, axis=0)
