"""Lengths once the wood is bought and cut: what was planned stays, and what no longer fits is chosen by itself.

Measuring one coffer again must change no slat of another, so nothing is weighed against the boards any more.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from lacunar.config import FieldRow
from lacunar.parts import Part
from lacunar.plan.cutting import best_stops, fewest_stops
from lacunar.plan.saw import Saw
from lacunar.plan.sticks import is_free, make_sticks
from lacunar.tolerances import ARITHMETIC


def keep_lengths(
    parts: Sequence[Part], before: Mapping[str, float], rows: Mapping[str, FieldRow], saw: Saw
) -> tuple[Part, ...]:
    """Every part at one length: the one before where it will still do, else by a mark in use, else by few new ones.

    Args:
        parts: as measured again.
        before: part id to the length that was planned, mm.
        rows: of [field], which may set lengths.
        saw: its marks.
    """
    lengths: dict[str, float] = {}
    left: dict[str, list[Part]] = {}
    used = sorted({saw.near(before[part.id]) for part in parts if part.id in before and is_free(part)})
    for part in parts:
        if not is_free(part):
            continue
        row = rows.get(part.id)
        if row is not None and row.length is not None and row.shortest is None and row.longest is None:
            # Somebody wrote down which length it shall be.
            lengths[part.id] = part.length
            continue
        shortest, longest = part.interval or (0.0, 0.0)
        length = before.get(part.id)
        if length is not None and shortest - ARITHMETIC <= length <= longest + ARITHMETIC:
            lengths[part.id] = length
        else:
            left.setdefault(part.coffer or part.id, []).append(part)
    for mine in left.values():
        lengths.update(_anew(mine, used, saw))
    return tuple(
        replace(part, length=lengths[part.id], interval=(lengths[part.id],) * 2) if part.id in lengths else part
        for part in parts
    )


def _anew(parts: Sequence[Part], used: Sequence[int], saw: Saw) -> Mapping[str, float]:
    """For the slats of one coffer."""
    spans = {stick.id: stick.inner for stick in make_sticks(parts, saw)}
    out: dict[str, float] = {}
    for name, span in spans.items():
        marks = [mark for mark in used if span.lo <= mark <= span.hi]
        if marks:
            out[name] = saw.mm(min(marks, key=lambda mark: (abs(mark - span.wish), -mark)))
    rest = {name: span for name, span in spans.items() if name not in out}
    among = list(rest.values())
    stops = best_stops(among, len(fewest_stops(among, saw.read).marks), saw.read)
    for (name, span), stop in zip(rest.items(), stops, strict=True):
        out[name] = saw.mm(span.lo if stop is None else stop)
    return out
