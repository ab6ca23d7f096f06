"""Trials of a whole ceiling."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lacunar.chance.errors import Errors, errors_of
from lacunar.chance.slats import fitting, slat_errors, slat_windows
from lacunar.chance.trim import closing, trim_errors, trim_rings
from lacunar.chance.types import Chance, PieceChance
from lacunar.config import Config
from lacunar.layout import Layout
from lacunar.parts import Part

Bools = NDArray[np.bool_]

TRIALS = 10_000


def chance(
    config: Config,
    layout: Layout,
    parts: Sequence[Part],
    trials: int = TRIALS,
    seed: int = 1,
    errors: Errors | None = None,
) -> Chance:
    """How likely every slat and every strip of trim fits the first time, its gaps hidden.

    A slat fits where both its ends keep the least end gap and overlap the trim by the least overlap; a strip of trim
    where it goes in and its joints close. Each coffer has its own errors, drawn from the seed and its number.

    Args:
        config: gaps, trim, and the errors of readings.
        layout: coffers as arranged.
        parts: as cut.
        trials: how often the ceiling is built.
        seed: same seed, same errors.
        errors: instead of the config's.
    """
    errors = errors or errors_of(config.survey, config.tape)
    places = {coffer.id: place for place, coffer in enumerate(layout.coffers)}
    slats, trim = (_Tally(np.ones(trials, np.bool_), {}) for _ in range(2))
    for windows in slat_windows(config.slats, config.trim, layout, parts):
        rng = np.random.default_rng([seed, 0, places[windows.coffer]])
        slats.add(windows.parts, fitting(windows, slat_errors(windows, errors, rng, trials)))
    for ring in trim_rings(layout, parts, mitred=config.trim.is_mitred):
        rng = np.random.default_rng([seed, 1, places[ring.coffer]])
        trim.add(ring.parts, closing(ring, trim_errors(ring, errors, rng, trials)))
    return Chance(
        trials=trials,
        errors=errors,
        all_fit=float((slats.all & trim.all).mean()),
        all_slats=float(slats.all.mean()),
        all_trim=float(trim.all.mean()),
        slat_misfits=slats.misfits,
        trim_misfits=trim.misfits,
        pieces=_by_coffer(layout, slats.pieces("slat"), trim.pieces("trim")),
    )


@dataclass(slots=True)
class _Tally:
    """What has fitted so far: in which trials everything, and how often each part."""

    all: Bools
    shares: dict[str, float]

    def add(self, parts: Sequence[str], fits: Bools) -> None:
        self.all &= fits.all(axis=0)
        self.shares.update(zip(parts, fits.mean(axis=1).tolist(), strict=True))

    @property
    def misfits(self) -> float:
        return sum(1.0 - share for share in self.shares.values())

    def pieces(self, kind: str) -> list[PieceChance]:
        return [PieceChance(part=part, kind=kind, fits=share) for part, share in self.shares.items()]


def _by_coffer(layout: Layout, *kinds: list[PieceChance]) -> tuple[PieceChance, ...]:
    order = {coffer.id: i for i, coffer in enumerate(layout.coffers)}
    coffer_of = {one.id: one.coffer for one in (*layout.slats, *layout.trim)}
    pieces = [piece for kind in kinds for piece in kind]
    return tuple(sorted(pieces, key=lambda piece: order[coffer_of[piece.part]]))
