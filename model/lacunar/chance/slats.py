"""Slats: what a length may be off before an end jams or shows, and how far off it is.

Every coffer's length is read along its first slat, half way, and along its last slat; between them it is taken
straight. A slat is cut to the nearest mark of what that gives. It hangs centred, so an error of its length is shared by
both ends, as it is in its interval.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lacunar.chance.errors import Errors, Floats, misread, on_mark
from lacunar.config import Slats, TrimTable
from lacunar.geometry import Line
from lacunar.layout import Coffer, Layout, Slat
from lacunar.parts import Part, fitting_lengths

Bools = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True)
class Windows:
    """The slats of one coffer whose ends lie behind trim, as arrays of one number a slat.

    Attributes:
        coffer: id.
        parts: their ids.
        shorter: how much shorter than planned each may be cut, before an end shows; 0 or less.
        longer: how much longer, before an end keeps less than the least gap; 0 or more.
        ends: share of its two ends that hang on the coffer: 1, or half where a cut-out severs it.
        weights: (n, 3), how the three readings make its length.
        lengths: (3,) that are read.
    """

    coffer: str
    parts: tuple[str, ...]
    shorter: Floats
    longer: Floats
    ends: Floats
    weights: Floats
    lengths: Floats


def slat_windows(wish: Slats, trim: TrimTable, layout: Layout, parts: Sequence[Part]) -> tuple[Windows, ...]:
    """Coffer by coffer; coffers without such slats are left out."""
    by_id = {part.id: (part, fitting_lengths(part, wish, trim)) for part in parts if part.kind == "slat"}
    slats: dict[str, list[Slat]] = {}
    for slat in layout.slats:
        if slat.id in by_id and any(slat.grow):
            slats.setdefault(slat.coffer, []).append(slat)
    return tuple(_windows(coffer, slats[coffer.id], by_id) for coffer in layout.coffers if coffer.id in slats)


def _windows(coffer: Coffer, slats: Sequence[Slat], by_id: Mapping[str, tuple[Part, tuple[float, float]]]) -> Windows:
    members, limits = zip(*(by_id[slat.id] for slat in slats), strict=True)
    ends = np.array([sum(share > 0.0 for share in slat.grow) / 2.0 for slat in slats])
    lengths = np.array([part.length for part in members])
    weights, stations = _readings(coffer, slats)
    return Windows(
        coffer=coffer.id,
        parts=tuple(part.id for part in members),
        shorter=np.array([shortest for shortest, _ in limits]) - lengths,
        longer=np.array([longest for _, longest in limits]) - lengths,
        ends=ends,
        weights=weights,
        lengths=np.array([slats[i].tight for i in stations]),
    )


def _readings(coffer: Coffer, slats: Sequence[Slat]) -> tuple[Floats, tuple[int, int, int]]:
    """(n, 3) weights, and the slats that are nearest to the three places where the coffer is read."""
    across = Line(coffer.sides[coffer.start_side].start, coffer.direction)
    at = np.array([-across.offset(((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0)) for a, b in (s.axis for s in slats)])
    first, last = int(at.argmin()), int(at.argmax())
    half = (at[first] + at[last]) / 2.0
    middle = int(np.abs(at - half).argmin())
    spread = max((at[last] - at[first]) / 2.0, 1.0)
    place = (at - half) / spread
    weights = np.stack((np.clip(-place, 0.0, 1.0), 1.0 - np.abs(np.clip(place, -1.0, 1.0)), np.clip(place, 0.0, 1.0)))
    return weights.T, (first, middle, last)


def slat_errors(windows: Windows, errors: Errors, rng: np.random.Generator, trials: int) -> Floats:
    """(n, trials): how much longer each slat comes out than it should, for the coffer as it is."""
    noise = rng.standard_normal((3, trials))
    read = np.stack(
        [misread(t, errors.sd(t) * row, errors.slat_mark) for t, row in zip(windows.lengths, noise, strict=True)]
    )
    wished = (windows.weights @ read) * windows.ends[:, None]
    return on_mark(wished, errors.slat_mark) + errors.slat_cut * rng.standard_normal(wished.shape)


def fitting(windows: Windows, off: Floats) -> Bools:
    """(n, trials): whether each slat goes in with its gaps hidden."""
    return (off >= windows.shorter[:, None]) & (off <= windows.longer[:, None])
