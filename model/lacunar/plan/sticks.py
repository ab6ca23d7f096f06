"""Parts as the saw sees them: lengths that will do, in ticks, and widths that the fence is set for."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from lacunar.config import FieldRow
from lacunar.layout import nearest_mark as mark_within
from lacunar.parts import Part, fitting_lengths
from lacunar.plan.cutting import Rip, Span, inward
from lacunar.plan.margin import SAFE
from lacunar.plan.saw import Saw
from lacunar.plan.stock import bought_as, stock_width
from lacunar.tape import Tape
from lacunar.tolerances import ARITHMETIC
from lacunar.units import nearest_mark

NO_MARGINS: Mapping[str, float] = {}


@dataclass(frozen=True, slots=True, kw_only=True)
class Stick:
    """One part.

    Attributes:
        stock: that it is cut from; its section where that has no name.
        mark: that it is cut to, mm.
        stop: where the stop stands if the plan does not choose its length, mm.
        span: marks that will do, ticks; where none lies within the interval, only the tick above its shortest.
        inner: the same with a margin at both ends, where marks are left then.
        safe: with the margin of a slat that was measured: where the interval is too narrow for that, the mark nearest
            to its middle; as `inner` for all others.
        sd: how far off it comes out, mm, one standard deviation; 0 for what was not measured.
        rip: at its shortest, as the fence is set for it; no wider than its board.
    """

    part: Part
    stock: str
    mark: float
    stop: float
    span: Span
    inner: Span
    safe: Span
    sd: float
    rip: Rip

    @property
    def id(self) -> str:
        """The part's."""
        return self.part.id

    @property
    def is_free(self) -> bool:
        """Its length may be chosen."""
        return is_free(self.part)

    def too_short(self, length: float) -> float:
        """How likely it comes out shorter than its interval, cut to a length, mm; 0 for what was not measured."""
        if not self.sd or self.part.interval is None:
            return 0.0
        return math.erfc((length - self.part.interval[0]) / self.sd / math.sqrt(2.0)) / 2.0

    def rip_at(self, length: int) -> Rip:
        """So long, ticks."""
        return replace(self.rip, length=length)


def make_sticks(parts: Sequence[Part], saw: Saw, safe: Mapping[str, float] = NO_MARGINS) -> tuple[Stick, ...]:
    """In the same order.

    Args:
        parts: in any order.
        saw: that they are cut by.
        safe: margins of slats that were measured, mm, by part id.
    """
    return tuple(_stick(part, saw, safe.get(part.id)) for part in parts)


def with_given(parts: Sequence[Part], field: Mapping[str, FieldRow]) -> list[Part]:
    """The parts; those of which somebody wrote down the length, and no interval, at that length alone."""
    given = {name for name, row in field.items() if row.length is not None and row.shortest is row.longest is None}
    return [replace(p, interval=(p.length, p.length)) if p.id in given and is_free(p) else p for p in parts]


def _stick(part: Part, saw: Saw, safe_margin: float | None) -> Stick:
    stop = _stop_of(part, saw)
    span = inner = safe = Span(lo=saw.up(stop), hi=saw.up(stop), wish=saw.up(stop))
    if part.interval is not None and is_free(part):
        span, inner = (_span(part.length, part.interval, margin, saw) for margin in (0, saw.margin))
        safe = inner if safe_margin is None else _safe_span(part.length, part.interval, safe_margin, saw)
    board = saw.down(stock_width(part, saw.slats, saw.cross))
    ends = (part.width, part.width if part.width_end is None else part.width_end)
    width, width_end = (min(saw.up(nearest_mark(end, saw.tape.fine)), board) for end in ends)
    return Stick(
        part=part,
        stock=bought_as(part, saw.tape),
        mark=mark_of(part, saw.tape),
        stop=stop,
        span=span,
        inner=inner,
        safe=safe,
        sd=0.0 if safe_margin is None else safe_margin / SAFE,
        rip=Rip(length=span.lo, width=width, width_end=width_end, board=board),
    )


def mark_of(part: Part, tape: Tape) -> float:
    """The mark that a part is cut to, mm."""
    return tape.read_to if part.kind in ("slat", "furring") else tape.fine


def _stop_of(part: Part, saw: Saw) -> float:
    """On a mark, unless it was set. A slat's ends must be hidden at that mark too, else it is cut to measure."""
    if part.interval is not None:
        return part.length
    mark = mark_of(part, saw.tape)
    if part.kind != "slat":
        return nearest_mark(part.length, mark)
    shortest, longest = fitting_lengths(part, saw.slats, saw.trim)
    return mark_within(part.length, min(shortest, part.length), max(longest, part.length), mark)


def is_free(part: Part) -> bool:
    """Its length may be chosen."""
    return part.interval is not None and part.interval[1] - part.interval[0] > ARITHMETIC


def _safe_span(length: float, interval: tuple[float, float], margin: float, saw: Saw) -> Span:
    lo, hi = inward(saw.up(interval[0] + margin), saw.down(interval[1] - margin), saw.read)
    if lo > hi:
        lo = hi = saw.near((interval[0] + interval[1]) / 2.0 / saw.read) * saw.read
    if not interval[0] <= saw.mm(lo) <= saw.mm(hi) <= interval[1]:
        return _span(length, interval, 0, saw)
    return Span(lo=lo, hi=hi, wish=min(max(saw.near(length), lo), hi))


def _span(length: float, interval: tuple[float, float], most_margin: int, saw: Saw) -> Span:
    shortest, longest = saw.up(interval[0]), saw.down(interval[1])
    margin = max(min(most_margin, (longest - shortest) // 4), 0)
    lo, hi = inward(shortest + margin, longest - margin, saw.read)
    if lo > hi:
        # A mark outside the margin is better than a cut to measure.
        lo, hi = inward(shortest, longest, saw.read)
    if lo > hi:
        lo = hi = shortest + margin
    return Span(lo=lo, hi=hi, wish=min(max(saw.near(length), lo), hi))
