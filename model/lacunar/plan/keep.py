"""Lengths once the wood is bought and cut: what was planned stays, and what no longer fits is chosen by itself.

Measuring one coffer again must change no slat of another, so nothing is weighed against the boards any more.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from lacunar.config import Config
from lacunar.parts import Part
from lacunar.plan.cutting import best_stops, fewest_stops
from lacunar.plan.grid import Grid
from lacunar.plan.pieces import is_free, span_of
from lacunar.tolerances import ARITHMETIC


def keep_lengths(parts: Sequence[Part], before: Mapping[str, float], config: Config, grid: Grid) -> tuple[Part, ...]:
    """Every part at one length: the one before where it will still do, else by a mark in use, else by few new ones.

    Args:
        parts: as measured again.
        before: part id to the length that was planned, mm.
        config: its [field] may set lengths.
        grid: ticks.
    """
    lengths: dict[str, float] = {}
    left: dict[str, list[Part]] = {}
    used = sorted({grid.near(before[part.id]) for part in parts if part.id in before and is_free(part)})
    for part in parts:
        if not is_free(part):
            continue
        row = config.field.get(part.id)
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
        lengths.update(_chosen(mine, used, config, grid))
    return tuple(_fixed(part, lengths.get(part.id)) for part in parts)


def _chosen(parts: Sequence[Part], used: Sequence[int], config: Config, grid: Grid) -> Mapping[str, float]:
    """For the slats of one coffer."""
    spans = {part.id: span_of(part, config, grid) for part in parts}
    out: dict[str, float] = {}
    for name, span in spans.items():
        marks = [mark for mark in used if span.lo <= mark <= span.hi]
        if marks:
            out[name] = grid.mm(min(marks, key=lambda mark: (abs(mark - span.wish), -mark)))
    rest = {name: span for name, span in spans.items() if name not in out}
    among = list(rest.values())
    stops = best_stops(among, len(fewest_stops(among, grid.read).marks), grid.read).stops if rest else ()
    for (name, span), stop in zip(rest.items(), stops, strict=True):
        out[name] = grid.mm(span.lo if stop is None else stop)
    return out


def _fixed(part: Part, length: float | None) -> Part:
    return part if length is None else replace(part, length=length, interval=(length, length))
