"""Rips: which two come out of one section, chosen so that the most length is saved."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from lacunar.plan.cutting.child import solve_whole
from lacunar.plan.cutting.whole import WholeProgram

MOST_SECONDS = 20.0
"""For the pairs: an outer safety, many times what was seen."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rip:
    """A strip of a full board: ticks. Tapered where the widths at its two ends differ.

    Attributes:
        board: width of the full board that it is ripped from.
    """

    length: int
    width: int
    width_end: int
    board: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RipSaw:
    """What ripping needs.

    Attributes:
        rip_kerf: between two rips.
        spare: wood that must be left besides, 1/16 in: an edge is never quite straight.
        kerf: of the crosscut.
        least_blank: no shorter board is ripped by machine, 24 in. Source: common practice, no source.
    """

    rip_kerf: int
    spare: int
    kerf: int
    least_blank: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RipPairs:
    """Rips that share a section.

    Attributes:
        pairs: indices of two rips that lie against opposite edges, the longer one first.
        saved: length that pairs save against one blank for each rip, kerfs included.
        is_exact: no pairing saves more; else the solver was late, and any that is at hand was taken.
    """

    pairs: tuple[tuple[int, int], ...]
    saved: int
    is_exact: bool


def pair_rips(rips: Sequence[Rip], saw: RipSaw) -> RipPairs:
    """Pairs that save the most length, exactly but where the solver is late. No rip is wider than its board."""
    pairs = [(i, j) for i in range(len(rips)) for j in range(i) if pair_fits(rips[i], rips[j], saw)]
    gain = {pair: min(max(rips[i].length, saw.least_blank) for i in pair) + saw.kerf for pair in pairs}
    matched, is_exact = _matching(len(rips), gain)
    longer_first = [(i, j) if rips[i].length >= rips[j].length else (j, i) for i, j in matched]
    return RipPairs(pairs=tuple(longer_first), saved=sum(gain[pair] for pair in matched), is_exact=is_exact)


def pair_fits(first: Rip, second: Rip, saw: RipSaw) -> str | None:
    """Where the shorter of two rips lies beside the longer: flush at its "start" or its "end"; None where it does not.

    The longer lies against the near edge, the shorter against the far one, turned end for end in its own plane, which
    keeps its good face up. Their widths and the kerf must fit wherever both are, which is so when they fit at both ends
    of where they overlap; with unequal lengths, flush at either end is enough to try. The slant of a taper's kerf is
    below a hundredth of a tick. Boards of other widths are other sections.
    """
    if first.board != second.board:
        return None
    long, short = (first, second) if first.length >= second.length else (second, first)
    return next((flush for flush in ("start", "end") if _fits_at(long, short, flush, saw)), None)


def may_pair(shortest: tuple[Rip, Rip], longest: tuple[Rip, Rip], saw: RipSaw) -> bool:
    """Two rips share a section at some lengths from their shortest to their longest.

    What is beside an end of the shorter one is linear in the ratio of both lengths, so that the least ratio, the
    greatest, and that of equal lengths decide.
    """
    alike = max(rip.length for rip in shortest)
    cases = [(shortest[0], longest[1]), (longest[0], shortest[1])]
    if alike <= min(rip.length for rip in longest):
        cases.append((replace(shortest[0], length=alike), replace(shortest[1], length=alike)))
    return any(pair_fits(first, second, saw) is not None for first, second in cases)


def _fits_at(long: Rip, short: Rip, flush: str, saw: RipSaw) -> bool:
    """In whole numbers: widths of the long rip inside are fractions of its length."""
    room = long.board - saw.rip_kerf - saw.spare
    start = 0 if flush == "start" else long.length - short.length
    for width, at in ((short.width_end, start), (short.width, start + short.length)):
        beside = long.width * (long.length - at) + long.width_end * at
        if beside > (room - width) * long.length:
            return False
    return True


def _matching(count: int, gain: dict[tuple[int, int], int]) -> tuple[list[tuple[int, int]], bool]:
    """Pairs with the most gain, no rip twice, by a whole-number program; and whether that is sure."""
    pairs = sorted(gain)
    if not pairs:
        return [], True
    columns = len(pairs)
    program = WholeProgram(
        costs=-np.array([gain[pair] for pair in pairs], dtype=float),
        most=np.ones(columns),
        lower=np.zeros(count),
        upper=np.ones(count),
        starts=np.arange(0, 2 * columns + 1, 2, dtype=np.int32),
        rows=np.array(pairs, dtype=np.int32).ravel(),
        values=np.ones(2 * columns),
        first=np.zeros(0),
        nodes=-1,
        seconds=MOST_SECONDS,
        share=0.0,
        gap=0.999,
    )
    answer = solve_whole(program)
    if answer.numbers is None or answer.by_clock:
        return _greedy(gain), False
    return [pair for pair, n in zip(pairs, answer.numbers.tolist(), strict=True) if n], True


def _greedy(gain: dict[tuple[int, int], int]) -> list[tuple[int, int]]:
    """The pair that saves most, then the next of what is left: at least half of what can be saved."""
    taken: set[int] = set()
    matched: list[tuple[int, int]] = []
    for pair in sorted(gain, key=lambda pair: (-gain[pair], pair)):
        if not taken & set(pair):
            taken |= set(pair)
            matched.append(pair)
    return matched
