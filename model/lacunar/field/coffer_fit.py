"""From a coffer as measured to its slats: rule 8 with the measured lengths, interpolated across the coffer."""

import math
from collections.abc import Callable, Sequence

from lacunar.config import Slats
from lacunar.field.angled import fit_angled
from lacunar.field.coffer_frame import Frame, frames
from lacunar.field.coffers import chord_ends, diagonals, length_names, stations, width_names
from lacunar.field.fitted import Fitted, Remark
from lacunar.field.sheet_row import Parts, Values
from lacunar.field.slat_ends import Ends, new_lengths
from lacunar.layout import Layout, Slat
from lacunar.parts import Part
from lacunar.tolerances import ARITHMETIC

Delta = Callable[[float], float]
"""Measured less designed, plan mm, at a distance across the coffer."""


def fit_coffers(slats: Slats, mark: float, layout: Layout, parts: Parts, values: Values) -> Fitted:
    """Lengths and intervals of slats, coffer by coffer."""
    fitted = Fitted()
    for frame in frames(layout):
        fit = fit_angled if frame.is_angled else _fit_coffer
        fitted = fitted.and_(fit(slats, mark, frame, parts, values))
    return fitted


def _fit_coffer(slats: Slats, mark: float, frame: Frame, parts: Parts, values: Values) -> Fitted:
    """Length and interval of every slat of a coffer that is measured at both ends."""
    names = [f"{frame.coffer.id} {name}" for name in length_names(frame)]
    if not any(name.startswith(f"{frame.coffer.id} ") for name in values):
        return Fitted()
    missing = [name for name in (names[0], names[2]) if name not in values]
    if missing:
        return Fitted().waits(frame.coffer.id, missing)
    known = [(across, d) for across, d in _deltas(frame, values, names) if d is not None]
    shear, delta = shear_of(frame, values), interpolated(known)
    fitted = Fitted(remarks=tuple(_width_remarks(slats, frame, values)))
    kinks = [across for across, _ in known[1:-1]]
    for slat in frame.slats:
        before, after = _ends(frame, slat, kinks, lambda _: 0.0, 0.0), _ends(frame, slat, kinks, delta, shear)
        if before is not None and after is not None:
            part = parts[slat.id]
            row = new_lengths(slats, mark, part, before, after)
            fitted = fitted.with_row(slat.id, row, *_slat_remarks(part, before, after))
    return fitted


def _deltas(frame: Frame, values: Values, names: Sequence[str]) -> list[tuple[float, float | None]]:
    """At each station: measured less designed, in the plan; None where it is blank."""
    found: list[tuple[float, float | None]] = []
    for name, across in zip(names, stations(frame), strict=True):
        ends = chord_ends(frame, across)
        taken = name in values and ends is not None
        found.append((across, values[name] / frame.stretch[0] - math.dist(*ends) if taken and ends else None))
    return found


def interpolated(known: Sequence[tuple[float, float]]) -> Delta:
    """Straight from station to station, and on past the first and the last. In order, two at least."""

    def delta(across: float) -> float:
        i = max(1, next((k for k, (at, _) in enumerate(known[1:-1], start=1) if across <= at), len(known) - 1))
        (a, p), (b, q) = known[i - 1], known[i]
        return p + (q - p) * (across - a) / (b - a)

    return delta


def shear_of(frame: Frame, values: Values) -> float:
    """How much further along the far side lies than drawn, per mm across, from the diagonals; 0 where they do not tell.

    A coffer that leans makes diagonals that run one way longer and those that run the other way shorter; one that is
    larger than drawn makes all of them longer. Both are told by least squares from two that run either way, or more.
    """
    rows: list[tuple[float, float, float]] = []
    for name, (a, b) in diagonals(frame):
        measured = values.get(f"{frame.coffer.id} {name}")
        if measured is not None:
            (p, u), (q, v) = frame.place(a), frame.place(b)
            length = frame.true_length(a, b)
            rows.append((length, (q - p) * (v - u) / math.dist(a, b), measured - length))
    if not rows or not min(lean for _, lean, _ in rows) < 0.0 < max(lean for _, lean, _ in rows):
        return 0.0
    sums = [[math.fsum(row[i] * row[j] for row in rows) for j in range(3)] for i in range(2)]
    (size, both, larger), (_, leaning, leant) = sums
    return (leant * size - larger * both) / (size * leaning - both * both)


def _ends(frame: Frame, slat: Slat, kinks: Sequence[float], delta: Delta, shear: float) -> Ends | None:
    """Where the sides reach along a slat's edges, half of what was measured more given to each side."""
    places = [frame.place(p) for p in slat.outline]
    low, high = min(across for _, across in places), max(across for _, across in places)
    middle = sum(frame.place(p)[0] for p in slat.axis) / 2.0
    sides = frame.chord(frame.line((low + high) / 2.0), middle)
    if sides is None:
        return None
    across = [low, *(kink for kink in kinks if low < kink < high), high]
    first = [frame.reach(sides[0], a) - delta(a) / 2.0 + shear * a for a in across]
    second = [frame.reach(sides[1], a) + delta(a) / 2.0 + shear * a for a in across]
    stretch = frame.stretch[0]
    return Ends(
        tight=(min(second) - max(first)) * stretch,
        wide=(max(second) - min(first)) * stretch,
        lean=((max(first) - min(first)) * stretch, (max(second) - min(second)) * stretch),
    )


def _slat_remarks(part: Part, before: Ends, after: Ends) -> list[Remark]:
    """Where no square-cut length hides both ends any more."""
    if part.interval is None:
        return []
    spare = part.interval[1] - part.interval[0] - 2.0 * sum(part.grow) * (max(after.lean) - max(before.lean))
    if spare >= -ARITHMETIC:
        return []
    what = "cut square it shows an end past the trim; cut it to the beam's angle, or use wider trim; it lacks"
    return [Remark(where=part.id, what=what, by=-spare / 2.0)]


def _width_remarks(slats: Slats, frame: Frame, values: Values) -> list[Remark]:
    """What the widths say of the last rip, which is cut from the last hole alone."""
    coffer = frame.coffer
    if not coffer.rips:
        return []
    pairs = zip(width_names(frame), frame.far_corners, strict=True)
    widths = ((f"{coffer.id} {short}", frame.place(corner)[1]) for short, corner in pairs)
    more = [values[name] / frame.stretch[1] - across for name, across in widths if name in values]
    if not more:
        return []
    rip = coffer.rips[-1] + min(more)
    if rip < slats.narrowest_rip - ARITHMETIC and min(more) < -ARITHMETIC:
        return [Remark(where=coffer.id, what="its last slat will be narrower than the narrowest rip, about", by=rip)]
    widest = coffer.rips[-1] + max(more)
    if widest > slats.width + ARITHMETIC:
        what = "its last hole will be wider than a board; spread the gaps, or rip two; about"
        return [Remark(where=coffer.id, what=what, by=widest)]
    return []
