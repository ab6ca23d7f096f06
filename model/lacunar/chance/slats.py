"""Slats: what a length may be off before an end jams or shows, and how far off it is.

Every coffer's length is read along its first slat, half way, and along its last slat; between them it is taken
straight. A slat is cut to the nearest mark of what that gives. It hangs centred, so an error of its length is shared by
both ends, as it is in its interval.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lacunar.chance.errors import Errors, Floats, misread, on_mark
from lacunar.config import Slats, TrimTable
from lacunar.geometry import Line, Point
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
    lengths = np.array([part.length for part in members])
    across = Line(coffer.sides[coffer.start_side].start, coffer.direction)
    weights, stations = _readings([-across.offset(_middle(slat.axis)) for slat in slats])
    return Windows(
        coffer=coffer.id,
        parts=tuple(part.id for part in members),
        shorter=np.array([shortest for shortest, _ in limits]) - lengths,
        longer=np.array([longest for _, longest in limits]) - lengths,
        ends=np.array([_ends(slat) for slat in slats]),
        weights=weights,
        lengths=np.array([slats[i].tight for i in stations]),
    )


def slat_sds(parts: Sequence[Part], errors: Errors) -> Mapping[str, float]:
    """How far off each slat with an interval comes out, mm: the standard deviation of `slat_errors`, by part id.

    Readings and the cut add up by their squares. Source: propagation of independent errors, standard formula.
    """
    coffers: dict[str, list[tuple[Part, float]]] = {}
    for part in parts:
        if part.kind == "slat" and part.interval is not None and any(part.grow):
            coffers.setdefault(part.coffer or "", []).append((part, part.interval[1]))
    found: dict[str, float] = {}
    for slats in coffers.values():
        across = Line.through(*slats[0][0].axis)
        weights, stations = _readings([across.offset(_middle(slat.axis)) for slat, _ in slats])
        sds = [errors.sd_on(slats[i][1], errors.slat_mark) for i in stations]
        for (slat, _), row in zip(slats, np.linalg.norm(weights * sds, axis=1).tolist(), strict=True):
            found[slat.id] = math.hypot(_ends(slat) * row, errors.slat_cut)
    return found


def _ends(slat: Slat | Part) -> float:
    """Share of its two ends that hang on the coffer."""
    return sum(share > 0.0 for share in slat.grow) / 2.0


def _middle(axis: tuple[Point, Point]) -> Point:
    (x, y), (u, v) = axis
    return (x + u) / 2.0, (y + v) / 2.0


def _readings(places: Sequence[float]) -> tuple[Floats, tuple[int, int, int]]:
    """(n, 3) weights of slats so far across, and the slats nearest to the three places where the coffer is read."""
    at = np.array(places)
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
