"""What is crosscut from the boards of one stock: parts, and blanks that rips come out of."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from lacunar.config import Config
from lacunar.layout import nearest_mark as mark_within
from lacunar.parts import Part, fitting_lengths
from lacunar.plan.cutting import Rip, RipSaw, Span
from lacunar.plan.cutting.rips import pair_fits
from lacunar.plan.grid import Grid
from lacunar.plan.stock import fine_mark, stock_width
from lacunar.tolerances import ARITHMETIC
from lacunar.units import FOOT, INCH, nearest_mark

LEAST_BLANK = {"in": 2.0 * FOOT, "mm": 610.0}
"""mm. No shorter board is ripped by machine. Source: common practice, no source."""

RIP_SPARE = {"in": INCH / 16.0, "mm": 1.5}
"""mm. Left besides two rips in one section: no edge is quite straight. Source: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A full-width length of board.

    Attributes:
        parts: one; or two rips that come out of it side by side.
        span: lengths that will do, ticks.
        is_free: its stop may be any mark of the span.
    """

    parts: tuple[Part, ...]
    span: Span
    is_free: bool

    @property
    def is_ripped(self) -> bool:
        """Rips come out of it."""
        return self.parts[0].ripped


def mark_of(part: Part, config: Config) -> float:
    """The mark that a part is cut to, mm."""
    return config.read_to if part.kind in ("slat", "furring") else fine_mark(config)


def stop_of(part: Part, config: Config) -> float:
    """Where the stop stands for a part whose length the plan does not choose, mm: on a mark, unless it was set.

    A slat's ends must be hidden at that mark too, else it is cut to measure.
    """
    if part.interval is not None:
        return part.length
    mark = mark_of(part, config)
    if part.kind != "slat":
        return nearest_mark(part.length, mark)
    shortest, longest = fitting_lengths(part, config)
    return mark_within(part.length, min(shortest, part.length), max(longest, part.length), mark)


def is_free(part: Part) -> bool:
    """Its length may be chosen."""
    return part.interval is not None and part.interval[1] - part.interval[0] > ARITHMETIC


def span_of(part: Part, config: Config, grid: Grid) -> Span:
    """Marks that will do, ticks; where none lies within the interval, only the tick above its shortest."""
    if part.interval is None or not is_free(part):
        ticks = grid.up(stop_of(part, config))
        return Span(lo=ticks, hi=ticks, wish=ticks)
    shortest, longest = grid.up(part.interval[0]), grid.down(part.interval[1])
    margin = max(min(grid.margin, (longest - shortest) // 4), 0)
    lo, hi = _marks(shortest + margin, longest - margin, grid)
    if lo > hi:
        # A mark outside the margin is better than a cut to measure.
        lo, hi = _marks(shortest, longest, grid)
    if lo > hi:
        lo = hi = shortest + margin
    return Span(lo=lo, hi=hi, wish=min(max(grid.near(part.length), lo), hi))


def _marks(shortest: int, longest: int, grid: Grid) -> tuple[int, int]:
    """The first and the last mark from one to the other; in the wrong order where there is none."""
    return -(-shortest // grid.read) * grid.read, longest // grid.read * grid.read


def make_pieces(
    parts: Sequence[Part], pairs: Collection[tuple[str, str]], config: Config, grid: Grid
) -> tuple[Piece, ...]:
    """Every part once: full ones in their order, then the sections of rips.

    Args:
        parts: of one stock and species.
        pairs: ids of rips that share a section.
        config: the saw.
        grid: ticks.
    """
    full = [
        Piece(parts=(part,), span=span_of(part, config, grid), is_free=is_free(part))
        for part in parts
        if not part.ripped
    ]
    rips = {part.id: part for part in parts if part.ripped}
    paired = {name for pair in pairs for name in pair}
    sections = [*pairs, *((name,) for name in rips if name not in paired)]
    return (*full, *(_section([rips[name] for name in names], config, grid) for names in sections))


def rip_saw(config: Config, grid: Grid) -> RipSaw:
    """What ripping needs, ticks."""
    return RipSaw(
        rip_kerf=grid.up(config.shop.kerf),
        spare=grid.up(RIP_SPARE[config.units]),
        kerf=grid.up(config.shop.kerf),
        least_blank=grid.up(LEAST_BLANK[config.units]),
    )


def rip_of(part: Part, length: int, config: Config, grid: Grid) -> Rip:
    """As the fence is set for it, ticks; no wider than its board."""
    mark, board = fine_mark(config), grid.down(stock_width(part, config))
    width = grid.up(nearest_mark(part.width, mark))
    end = width if part.width_end is None else grid.up(nearest_mark(part.width_end, mark))
    return Rip(length=length, width=min(width, board), width_end=min(end, board), board=board)


def _section(parts: Sequence[Part], config: Config, grid: Grid) -> Piece:
    """Both rips at one length where they have one in common; else the section is as long as the longer one."""
    least = grid.up(LEAST_BLANK[config.units])
    spans = [span_of(part, config, grid) for part in parts]
    lo, hi = max(span.lo for span in spans), min(span.hi for span in spans)
    longest = max(spans, key=lambda span: span.lo)
    if lo > hi:
        lo, hi = longest.lo, longest.hi
    if lo < least:
        # So short a section is not ripped: it is cut longer, and the rip is cut from it afterwards.
        lo = -(-least // grid.read) * grid.read
        lo, hi = (lo, hi) if lo <= hi else (least, least)
    wish = min(max(longest.wish, lo), hi)
    return Piece(parts=tuple(parts), span=Span(lo=lo, hi=hi, wish=wish), is_free=lo < hi)


def rip_lengths(pieces: Sequence[Piece], lengths: Sequence[int], config: Config, grid: Grid) -> Mapping[str, int]:
    """What each part is cut to, ticks: as long as its piece, unless it must be shorter: then the best mark in use."""
    marks = sorted({n for piece, n in zip(pieces, lengths, strict=True) if piece.is_free})
    out: dict[str, int] = {}
    for piece, length in zip(pieces, lengths, strict=True):
        for part in piece.parts:
            span = span_of(part, config, grid)
            # From `span.lo` in whole marks: the other rip of a section may have to be cut between two of them.
            suits = span.lo <= length <= span.hi and (length - span.lo) % grid.read == 0
            out[part.id] = length if suits else _own_length(part, span, length, marks, grid)
    return out


def _own_length(part: Part, span: Span, room: int, marks: Sequence[int], grid: Grid) -> int:
    """No longer than the section."""
    if not is_free(part):
        return span.wish
    most = min(span.hi, room)
    usable = [mark for mark in marks if span.lo <= mark <= most and (mark - span.lo) % grid.read == 0]
    return min(usable or range(span.lo, most + 1, grid.read), key=lambda n: (abs(n - span.wish), -n))


def clashing(pieces: Sequence[Piece], lengths: Mapping[str, int], config: Config, grid: Grid) -> list[tuple[str, ...]]:
    """Pairs of rips that no longer lie in one section at the lengths that were chosen."""
    saw = rip_saw(config, grid)
    pairs = [piece.parts for piece in pieces if len(piece.parts) == 2]
    rips = [[rip_of(part, lengths[part.id], config, grid) for part in pair] for pair in pairs]
    return [
        tuple(part.id for part in pair)
        for pair, (one, other) in zip(pairs, rips, strict=True)
        if pair_fits(one, other, saw) is None
    ]
