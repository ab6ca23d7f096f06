"""Parts laid on their boards: which part comes out of which board, and where it lies."""

import itertools
from collections import deque
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from lacunar.plan.cutting import SawTurn
from lacunar.plan.cutting.rips import pair_fits
from lacunar.plan.nesting import slants
from lacunar.plan.pieces import BoardPiece
from lacunar.plan.saw import Saw
from lacunar.plan.section import SectionPlan
from lacunar.plan.stock import Offer
from lacunar.plan.types import Cut


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """One board with its cuts.

    Attributes:
        offer: what it is.
        on_hand: it is there already.
        cuts: in order along it.
        offcut: mm.
        step: number of the turn within the section, from 0.
        number: that its name has, from 1, where that is not its place.
        rest: number in done.board, from 0, of the board that it is what is left of.
    """

    offer: Offer
    on_hand: bool
    cuts: tuple[Cut, ...]
    offcut: float
    step: int
    number: int = 0
    rest: int | None = None


def lay_boards(plan: SectionPlan, saw: Saw) -> tuple[Laid, ...]:
    """Every board in the order in which it is pulled; the parts that go up first come out of the first boards."""
    if plan.solution is None:
        return ()
    waiting: dict[int, deque[BoardPiece]] = {}
    for piece, ticks in zip(plan.pieces, plan.ticks, strict=True):
        waiting.setdefault(ticks, deque()).append(piece)
    out: list[Laid] = []
    for number, step in enumerate(plan.order):
        for _ in range(step.boards):
            pieces = list(_taken(plan, step, waiting))
            stock = plan.solution.patterns[step.pattern].stock
            out.append(
                Laid(
                    offer=plan.stocks.offers[stock],
                    on_hand=plan.stocks.stocks[stock].price == 0,
                    cuts=_laid(plan, pieces, saw),
                    offcut=saw.mm(_left(plan, stock, pieces)),
                    step=number,
                )
            )
    return tuple(out)


def _taken(
    plan: SectionPlan, step: SawTurn, waiting: Mapping[int, deque[BoardPiece]]
) -> Iterator[tuple[BoardPiece, int]]:
    """The pieces of one board with the ticks that each takes, in the order of cutting; like rips beside each other."""
    assert plan.solution is not None
    counts = dict(plan.solution.patterns[step.pattern].pieces)
    for demand in step.lengths:
        ticks = plan.problem.demands[demand].length
        group = [waiting[ticks].popleft() for _ in range(counts[demand])]
        for piece in sorted(group, key=_rip_widths):
            yield piece, ticks


def _rip_widths(piece: BoardPiece) -> tuple[float, ...]:
    return tuple(stick.part.width for stick in piece.sticks) if piece.is_ripped else ()


def _laid(plan: SectionPlan, pieces: Sequence[tuple[BoardPiece, int]], saw: Saw) -> tuple[Cut, ...]:
    """One after the other with a kerf between."""
    at = plan.problem.end_waste
    cuts: list[Cut] = []
    for piece, ticks in pieces:
        if plan.nest is None:
            cuts += _cuts(piece, ticks, at, plan, saw)
        else:
            part = piece.sticks[0].part
            start = saw.mm(at) - plan.nest.saved(part)[0]
            lie = slants(part, cuts[-1].slants[1] if cuts else None)
            cuts.append(Cut(part=part.id, start=start, end=start + saw.mm(plan.lengths[part.id]), slants=lie))
        at += ticks + plan.problem.kerf
    return _merged(cuts) if plan.nest is None else tuple(cuts)


def _left(plan: SectionPlan, stock: int, pieces: Sequence[tuple[BoardPiece, int]]) -> int:
    """Beyond the last kerf, up to where the other end is squared; ticks."""
    used = sum(ticks + plan.problem.kerf for _, ticks in pieces)
    return max(plan.stocks.stocks[stock].length - 2 * plan.problem.end_waste - used, 0)


def _cuts(piece: BoardPiece, ticks: int, at: int, plan: SectionPlan, saw: Saw) -> list[Cut]:
    """One part across the whole board, or one or two rips side by side in their blank."""
    if not piece.is_ripped:
        name = piece.sticks[0].id
        return [Cut(part=name, start=saw.mm(at), end=saw.mm(at + plan.lengths[name]))]
    sticks = sorted(piece.sticks, key=lambda stick: -plan.lengths[stick.id])
    rips = [stick.rip_at(plan.lengths[stick.id]) for stick in sticks]
    # The second lies against the far edge; it starts or ends with the first, as fits the lengths that were chosen.
    is_flush = len(rips) == 1 or pair_fits(rips[0], rips[1], saw.rip) == "start"
    cuts: list[Cut] = []
    for stick, rip in zip(sticks, rips, strict=True):
        start = at if is_flush else at + rips[0].length - rip.length
        lies = [(0, rip.width), (0, rip.width_end)]
        if cuts:
            lies = [(rip.board - width, rip.board) for width in (rip.width_end, rip.width)]
        across, across_end = ((saw.mm(near), saw.mm(far)) for near, far in lies)
        cuts.append(
            Cut(
                part=stick.id,
                start=saw.mm(start),
                end=saw.mm(start + rip.length),
                across=across,
                across_end=across_end,
                blank=(saw.mm(at), saw.mm(at + ticks)),
                turned=bool(cuts),
            )
        )
    return cuts


def _merged(cuts: Sequence[Cut]) -> tuple[Cut, ...]:
    """Straight rips of the same widths beside each other are ripped as one long section, before the last crosscut."""
    blocks = [list(block) for _, block in itertools.groupby(cuts, key=lambda cut: cut.blank or cut.part)]
    out: list[Cut] = []
    for widths, run in itertools.groupby(blocks, key=_widths):
        together = [cut for block in run for cut in block]
        blanks = [cut.blank for cut in together if cut.blank is not None]
        out += [replace(cut, blank=(blanks[0][0], blanks[-1][1])) for cut in together] if widths else together
    return tuple(out)


def _widths(block: Sequence[Cut]) -> tuple[tuple[float, float], ...] | None:
    """Where straight rips lie across the board; None for what is not ripped, or tapered."""
    if any(cut.across is None or cut.across != cut.across_end for cut in block):
        return None
    return tuple(cut.across for cut in block if cut.across is not None)
