"""From a coffer as measured to its slats: rule 8 with the measured lengths, interpolated across the coffer."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from lacunar.config import Config
from lacunar.field.coffers import LENGTHS, chord_ends, diagonal_names, stations, width_names
from lacunar.field.fitted import Fitted, Remark
from lacunar.field.frame import Frame, frames
from lacunar.field.row import Parts, Values
from lacunar.layout import Layout, Slat
from lacunar.parts import Part
from lacunar.tolerances import ARITHMETIC

Delta = Callable[[float], float]
"""Measured less designed, plan mm, at a distance across the coffer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ends:
    """A slat's room between two sides, at the edges of the slat. True lengths.

    Attributes:
        tight: between the innermost points.
        wide: between the outermost points.
        lean: outermost less innermost, at the lower and the higher end along the coffer's frame.
    """

    tight: float
    wide: float
    lean: tuple[float, float]


def fit_coffers(config: Config, layout: Layout, parts: Parts, values: Values) -> Fitted:
    """Length and interval of every slat of the coffers that are measured at both ends."""
    fitted = Fitted()
    for frame in frames(layout):
        names = [f"{frame.coffer.id} {name}" for name in LENGTHS]
        needed = [names[0], names[2]]
        missing = [name for name in needed if name not in values]
        if frame.is_angled or not any(name.startswith(f"{frame.coffer.id} ") for name in values):
            continue
        if missing:
            fitted = fitted.waits(frame.coffer.id, missing)
            continue
        fitted = fitted.and_(_fit(config, frame, parts, values, names))
    return fitted


def _fit(config: Config, frame: Frame, parts: Parts, values: Values, names: Sequence[str]) -> Fitted:
    known = [(across, d) for across, d in _deltas(frame, values, names) if d is not None]
    shear, delta = _shear(frame, values), interpolated(known)
    fitted = Fitted(remarks=tuple(_width_remarks(config, frame, values)))
    kinks = [across for across, _ in known[1:-1]]
    for slat in frame.slats:
        before, after = _ends(frame, slat, kinks, lambda _: 0.0, 0.0), _ends(frame, slat, kinks, delta, shear)
        if before is not None and after is not None:
            part = parts[slat.id]
            row = new_lengths(config, part, before, after)
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


def _shear(frame: Frame, values: Values) -> float:
    """How much further along the far side lies than drawn, per mm across, from both diagonals; 0 without them."""
    sides = frame.coffer.sides
    names = [f"{frame.coffer.id} {name}" for name in diagonal_names()]
    if len(sides) != 4 or any(name not in values for name in names):
        return 0.0
    start = frame.coffer.start_side
    near = [sides[start].start, sides[start].end]
    far = [sides[(start + 2) % 4].start, sides[(start + 2) % 4].end]
    told: list[float] = []
    slopes: list[float] = []
    for a, b in zip(near, far, strict=True):
        drawn = math.dist(a, b)
        name = names[0] if a in (sides[0].start, sides[2].start) else names[1]
        told.append(values[name] - frame.true_length(a, b))
        slopes.append((frame.place(b)[0] - frame.place(a)[0]) / drawn)
    depth = (frame.place(far[0])[1] + frame.place(far[1])[1]) / 2.0
    return (told[0] - told[1]) / (slopes[0] - slopes[1]) / depth


def _ends(frame: Frame, slat: Slat, kinks: Sequence[float], delta: Delta, shear: float) -> Ends | None:
    """Where the sides reach along a slat's edges, half of what was measured more given to each side."""
    places = [frame.place(p) for p in slat.outline]
    low, high = min(across for _, across in places), max(across for _, across in places)
    middle = sum(frame.place(p)[0] for p in slat.axis) / 2.0
    sides = frame.chord((low + high) / 2.0, middle)
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


def new_lengths(config: Config, part: Part, before: Ends, after: Ends) -> Mapping[str, float]:
    """A slat's row: length and interval; the length alone where its ends follow the sides.

    A stump at a cut-out has one end that may move: it takes half of what the whole slat would.
    """
    shares = 1.0 if all(part.grow) else sum(part.grow) / 2.0
    if part.interval is None:
        return {"length": part.length + shares * (after.wide - before.wide)}
    tighter = shares * (after.tight - before.tight)
    steeper = 2.0 * shares * (max(after.lean) - max(before.lean))
    longest = part.interval[1] + tighter
    shortest = min(part.interval[0] + tighter + steeper, longest)
    if max(abs(tighter), abs(steeper)) <= ARITHMETIC:
        return {"length": part.length, "shortest": part.interval[0], "longest": part.interval[1]}
    wished = _designed(config, part)
    length = on_mark(wished + tighter, shortest, longest, config.read_to)
    return {"length": length, "shortest": shortest, "longest": longest}


def _designed(config: Config, part: Part) -> float:
    """The length that a slat wishes for, before it is put on a mark; of a stump the one that it has."""
    assert part.interval is not None
    if part.grow != (0.5, 0.5):
        return part.length
    return part.interval[1] + 2.0 * config.slats.least_end_gap - 2.0 * config.slats.end_gap


def on_mark(wished: float, shortest: float, longest: float, mark: float) -> float:
    """Rule 8: the mark nearest to a wished length within the interval; without one, the wish held to the interval."""
    low, high = math.ceil((shortest - ARITHMETIC) / mark), math.floor((longest + ARITHMETIC) / mark)
    if low > high:
        return min(max(wished, shortest), longest)
    return min(max(math.floor(wished / mark + 0.5), low), high) * mark


def _slat_remarks(part: Part, before: Ends, after: Ends) -> list[Remark]:
    """Where no square-cut length hides both ends any more."""
    if part.interval is None:
        return []
    spare = part.interval[1] - part.interval[0] - 2.0 * sum(part.grow) * (max(after.lean) - max(before.lean))
    if spare >= -ARITHMETIC:
        return []
    what = "cut square it shows an end past the trim; cut it to the beam's angle, or use wider trim; it lacks"
    return [Remark(where=part.id, what=what, by=-spare / 2.0)]


def _width_remarks(config: Config, frame: Frame, values: Values) -> list[Remark]:
    """What the widths say of the last rip, which is cut from the last hole alone."""
    coffer = frame.coffer
    if not coffer.rips:
        return []
    more: list[float] = []
    for short, corner in zip(width_names(frame), frame.far_corners, strict=True):
        name = f"{coffer.id} {short}"
        if name in values:
            more.append(values[name] / frame.stretch[1] - frame.place(corner)[1])
    if not more:
        return []
    rip = coffer.rips[-1] + min(more)
    if rip < config.slats.narrowest_rip - ARITHMETIC and min(more) < -ARITHMETIC:
        return [Remark(where=coffer.id, what="its last slat will be narrower than the narrowest rip, about", by=rip)]
    widest = coffer.rips[-1] + max(more)
    if widest > config.slats.width + ARITHMETIC:
        what = "its last hole will be wider than a board; spread the gaps, or rip two; about"
        return [Remark(where=coffer.id, what=what, by=widest)]
    return []
