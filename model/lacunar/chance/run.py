"""Trials of a whole ceiling, with the same errors for every change that is tried."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lacunar.chance.errors import Errors, errors_of
from lacunar.chance.slats import Windows, fitting, slat_errors, slat_windows
from lacunar.chance.trim import closing, trim_errors, trim_rings
from lacunar.chance.types import Chance, ChangeChance, PieceChance
from lacunar.config import Config
from lacunar.layout import Layout
from lacunar.parts import Part
from lacunar.units import INCH

Bools = NDArray[np.bool_]

TRIALS = 10_000
WIDER_TRIM: Mapping[str, float] = {"in": INCH / 4.0, "mm": 6.0}
"""mm. The next wider trim that is sold. Source: common practice, no source."""

WORTH_TELLING = 0.05
"""Slats saved on average: a change that saves less is lost in what else happens. Source: common practice, no source."""


@dataclass(frozen=True, slots=True)
class _Try:
    """One change: key, new value, how much longer slats are planned, how much more trim hides at each end."""

    key: str
    value: float
    longer: float
    hides: float

    def on(self, windows: Windows) -> Windows:
        return windows.shifted(self.longer).hiding(self.hides)


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
    errors = errors or errors_of(config)
    tries = _tries(config)
    places = {coffer.id: place for place, coffer in enumerate(layout.coffers)}
    slats = [_Tally.empty(trials) for _ in tries]
    for windows in slat_windows(config, layout, parts):
        off = slat_errors(windows, errors, np.random.default_rng([seed, 0, places[windows.coffer]]), trials)
        for one, tally in zip(tries, slats, strict=True):
            tally.add(windows.parts, fitting(one.on(windows), off))
    trim = _Tally.empty(trials)
    for ring in trim_rings(config, layout, parts):
        rng = np.random.default_rng([seed, 1, places[ring.coffer]])
        trim.add(ring.parts, closing(ring, trim_errors(ring, errors, rng, trials)))
    now = slats[0]
    changes = tuple(
        ChangeChance(key=one.key, value=one.value, all_slats=float(tally.all.mean()), misfits=tally.misfits)
        for one, tally in zip(tries[1:], slats[1:], strict=True)
    )
    best = min(changes, key=lambda change: change.misfits, default=None)
    return Chance(
        trials=trials,
        errors=errors,
        all_fit=float((now.all & trim.all).mean()),
        all_slats=float(now.all.mean()),
        all_trim=float(trim.all.mean()),
        slat_misfits=now.misfits,
        trim_misfits=trim.misfits,
        pieces=_by_coffer(layout, now.pieces("slat"), trim.pieces("trim")),
        changes=changes,
        best=best if best is not None and best.misfits <= now.misfits - WORTH_TELLING else None,
    )


def _tries(config: Config) -> tuple[_Try, ...]:
    """As it is, then each change: the end gap a mark either way, the next wider trim."""
    gap, mark, width = config.slats.end_gap, config.read_to, config.trim.width
    wider = WIDER_TRIM[config.units]
    tries = [_Try("", 0.0, 0.0, 0.0), _Try("slats.end_gap", gap + mark, -2.0 * mark, 0.0)]
    if gap - mark >= config.slats.least_end_gap:
        tries.append(_Try("slats.end_gap", gap - mark, 2.0 * mark, 0.0))
    return (*tries, _Try("trim.width", width + wider, 0.0, wider))


@dataclass(slots=True)
class _Tally:
    """What has fitted so far: in which trials everything, and how often each part."""

    all: Bools
    shares: dict[str, float]

    @staticmethod
    def empty(trials: int) -> "_Tally":
        return _Tally(np.ones(trials, np.bool_), {})

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
